package render

import (
	"image"
	"strconv"

	"emberbeat/timeline"
)

// Percent writes what is given in thousandths as a percentage.
func Percent(thousandths int) string { return strconv.Itoa((thousandths+5)/10) + " %" }

// CueWave is the sound of a recording around one of its cues.
type CueWave struct {
	Area   image.Rectangle
	Title  string
	Note   string // at the right
	Peaks  Peaks  // nil = there is no sound to draw
	At     timeline.Time
	Reach  timeline.Time     // that is shown on either side
	Beats  *timeline.BeatMap // drawn as lines; nil for none
	Look   Look              // of the cue
	Taken  bool              // it is the place that is taken
	Heard  bool              // it is what is heard now
	Absent string            // why there is no place; then nothing else is drawn
}

// CueWave draws the sound around a cue with its beats, the cue in the middle.
func (s *Scene) CueWave(th *Theme, w *CueWave) {
	s.PushClip(w.Area)
	defer s.PopClip()
	s.Rect(w.Area, InkLane)
	head, sound := w.parts(s)
	if w.Absent != "" {
		s.TextCut(head, TypeLabel, InkFaint, w.Absent)
		s.brokenFrame(w.Area, InkBar)
		return
	}
	show := w.show()
	x := func(at timeline.Time) int { return show.x(sound, at) }
	if w.Peaks != nil && !sound.Empty() {
		s.wave(sound, columnsOf(w.Peaks, nil, show, sound.Dx()), 0)
	}
	if !w.Beats.Empty() {
		first := w.Beats.Locate(show.From).Bar
		for bar := first; w.Beats.BarStart(bar) < show.To && bar < first+64; bar++ {
			for beat := range int64(w.Beats.MetreAt(bar).Num) {
				at, wide := w.Beats.At(timeline.BarBeat{Bar: bar, Beat: timeline.NewRat(beat, 1)}), s.Px(1)
				if beat == 0 {
					wide = s.Px(2)
				}
				if at >= show.From && at < show.To {
					s.Tint(image.Rect(x(at), sound.Min.Y, x(at)+wide, sound.Max.Y), InkEdge, 160)
				}
			}
		}
	}
	mid := x(w.At)
	s.Rect(image.Rect(mid, sound.Min.Y, mid+s.Px(1), sound.Max.Y), InkPlayhead)
	s.Glyph(th, image.Pt(mid+s.Px(1), sound.Min.Y+s.Px(2)), s.Px(16), w.Look)
	if w.Note != "" && s.TextIn(head, Right, TypeLabel, InkText, w.Note) {
		head.Max.X -= s.Face(TypeLabel).Measure(w.Note) + s.Px(6)
	}
	title := TypeLabel
	if w.Heard {
		title = TypeStrong
	}
	s.TextCut(head, title, InkText, w.Title)
	edge, wide := InkBar, s.Px(1)
	if w.Taken {
		edge, wide = InkFocus, s.Px(2)
	}
	s.Frame(w.Area, wide, edge)
}

// parts gives where the title and the sound are drawn.
func (w *CueWave) parts(s *Scene) (head, sound image.Rectangle) {
	head = image.Rect(w.Area.Min.X+s.Px(6), w.Area.Min.Y+s.Px(1), w.Area.Max.X-s.Px(6), w.Area.Min.Y+s.Px(19))
	return head, image.Rect(w.Area.Min.X, head.Max.Y, w.Area.Max.X, w.Area.Max.Y-s.Px(1))
}

// show gives the stretch of the recording that is drawn.
func (w *CueWave) show() Span { return Span{w.At - w.Reach, w.At + w.Reach} }

// x gives where an instant is drawn in an area that shows a stretch.
func (p Span) x(in image.Rectangle, at timeline.Time) int {
	return in.Min.X + int(scaled(int64(at-p.From), int64(in.Dx()), int64(p.To-p.From)))
}

// HeardAt draws the instant that is heard over a sound that CueWave has drawn, in a
// scene of its own where that is drawn more often; nothing where the sound does not
// show the instant.
func (w *CueWave) HeardAt(s *Scene, at timeline.Time) {
	_, sound := w.parts(s)
	show := w.show()
	if w.Absent != "" || at < show.From || at >= show.To {
		return
	}
	mid, half := show.x(sound, at), s.Px(4)
	s.Rect(image.Rect(mid-s.Px(1), sound.Min.Y, mid+s.Px(1), sound.Max.Y).Intersect(sound), InkPlayhead)
	s.Rect(image.Rect(mid-half, sound.Max.Y-s.Px(3), mid+half, sound.Max.Y).Intersect(sound), InkPlayhead)
}

// LookOf gives how cues that play an article are drawn; nil is one that is not known.
func LookOf(a *timeline.Article) Look { return lookOf(a) }

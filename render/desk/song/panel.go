package song

import (
	"image"
	"math"
	"strconv"

	"emberbeat/audio"
	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/grid"
	"emberbeat/timeline/snap"
)

// transportHeight is the logical height of the row of counters and buttons.
const transportHeight = 56

// songKey is all that the picture of the song depends on. While it stays, the scene does.
type songKey struct {
	data   *render.SongData
	area   image.Rectangle
	span   render.Span
	peaks  *audio.Pyramid
	ready  bool
	quiet  string
	marks  *render.Marks
	scroll int
	lane   int
	under  int
	gain   int
	focus  timeline.ID
	armed  timeline.ID
	shown  int // in the stage, as a count of changes
	chosen int
	theme  *render.Theme
	scale  render.Scale
	beats  *render.BeatStrip
	hits   *render.HeardHits
}

// hitsKey is what the hits that are snapped to are drawn from.
type hitsKey struct {
	first   *grid.Attack
	n       int
	weakest snap.Strength
}

// Draw is the song: the picture of it, and what the pointer does there. Something else lies over its lowest under device pixels.
func (sp *Page) Draw(r image.Rectangle, under int) {
	sp.under = under
	u, w := sp.h.UI(), sp.work()
	u.Group("timeline")
	c := u.Canvas("timeline", r)
	if w.Data == nil {
		sp.noSong(r)
		return
	}
	sp.beats.Refresh()
	sv := sp.songView(r)
	sp.drawSong(&sv)
	if sp.large {
		sp.drawLarge(r)
		return
	}
	if sp.point(c); sp.h.Dragging() { // what is dragged is seen in the same frame
		sp.beats.Refresh()
		sv = sp.songView(r)
		sp.drawSong(&sv)
	}
	sp.beats.Draw(&sp.drawn.SongLayout)
	sp.transport(sp.drawn.Transport)
	sp.soundTools(&sp.drawn.SongLayout)
	if c.Focus && c.Entered {
		s, t := u.Scene(), sp.drawn.Transport
		s.Rect(image.Rect(t.Min.X, t.Max.Y-s.Px(2), t.Max.X, t.Max.Y), render.InkFocus)
	}
}

// noSong says what to do where the show has no song.
func (sp *Page) noSong(r image.Rectangle) {
	u := sp.h.UI()
	s := u.Scene()
	s.Rect(r, render.InkLane)
	mid := image.Rect(r.Min.X, (r.Min.Y+r.Max.Y)/2-u.Px(60), r.Max.X, (r.Min.Y+r.Max.Y)/2-u.Px(34))
	s.TextIn(mid, render.Middle, render.TypeTitle, render.InkText, "This show has no song yet")
	mid = mid.Add(image.Pt(0, u.Px(34)))
	s.TextIn(mid, render.Middle, render.TypeLabel, render.InkSecondary, "Drop an audio file here, or choose one: wav, flac, mp3 or ogg.")
	label := "Add audio…"
	wide := u.Px(u.ButtonWidth(label) + 24)
	button := image.Rect((r.Min.X+r.Max.X-wide)/2, mid.Max.Y+u.Px(12), (r.Min.X+r.Max.X+wide)/2, mid.Max.Y+u.Px(44))
	if u.Off(sp.h.Off("import")).MainButton("add-first", button, label) {
		sp.h.Use("import")
	}
	u.Tip("Adds a song from an audio file", sp.h.Key("import"))
}

// songView says what the timeline shows.
func (sp *Page) songView(r image.Rectangle) render.SongView {
	w := sp.work()
	v := w.View()
	sv := render.SongView{Data: w.Data, Area: r, Foot: report.CautionLine, Show: v.Shown(w.Data.Whole()), Marks: w.Marks, LaneHeight: sp.h.Prefs().Lane, Scroll: v.Scroll,
		Focus: v.Focus, Armed: v.Armed, Hidden: w.Muted, Only: w.Solo, Gain: v.Gain, Selected: v.Selected, Dragged: sp.dragged, Transport: transportHeight, Strip: true, Fit: true, Under: sp.under,
		Quiet: sp.SoundState()}
	if s := w.Sounds[w.Song]; s != nil && s.Drawn() != nil {
		sv.Peaks = s
	}
	sp.inStrip(&sv)
	sv.Hits = sp.heardHits()
	return sv
}

// drawSong draws the song's scene if anything in it has changed.
func (sp *Page) drawSong(sv *render.SongView) {
	v := sp.work().View()
	key := songKey{data: sv.Data, area: sv.Area, span: sv.Show, quiet: sv.Quiet, marks: sv.Marks, scroll: sv.Scroll, lane: sv.LaneHeight,
		under: sv.Under, gain: sv.Gain, focus: sv.Focus, armed: sv.Armed, shown: sp.work().Previews, chosen: v.Serial, theme: sp.h.UI().Theme(), scale: sp.h.UI().Scene().Scale, beats: sv.Beats, hits: sv.Hits}
	if s := sp.work().Sounds[sp.work().Song]; s != nil {
		key.peaks, key.ready = s.Drawn(), s.Ready
	}
	if key == sp.key {
		return
	}
	sp.key = key
	sp.serial++
	sp.scene.Reset(sp.h.UI().Scene().Size, sp.h.UI().Scene().Scale)
	sp.drawn.Draw(sp.scene, sp.h.UI().Theme(), sv)
}

// point is what the pointer does on the timeline.
func (sp *Page) point(c widget.Canvas) {
	sp.over = image.Pt(-1, -1)
	if sp.h.Dragging() {
		sp.h.Drive(widget.Primary | widget.Wheel)
		return
	}
	if !c.Hot {
		return
	}
	sp.over = sp.in().Pointer
	if sp.over.In(sp.drawn.Transport) {
		sp.over.X = -1
	}
	hit, ok := sp.scene.At(sp.in().Pointer)
	switch {
	case c.Pressed&widget.Wheel != 0:
		sp.h.Start(&panning{sp: sp, from: sp.in().Pointer, span: sp.work().View().Shown(sp.work().Data.Whole())})
	case c.Pressed&widget.Secondary != 0 && ok:
		sp.contextAt(hit)
	case c.Pressed&widget.Primary != 0 && ok:
		sp.press(hit)
	}
	if c.Wheel != (image.Point{}) {
		sp.wheel(c.Wheel, hit)
	}
}

// press is the primary button going down on something.
func (sp *Page) press(hit render.Hit) {
	w, v := sp.work(), sp.work().View()
	at := sp.drawn.TimeAt(sp.in().Pointer.X)
	if sp.pressStrip(hit) {
		return
	}
	switch hit.Kind {
	case render.HitCue:
		sp.PressCue(timeline.ID(hit.ID))
	case render.HitCueEnd:
		if sp.NeedSongEdit() == "" {
			v.Choose(timeline.ID(hit.ID))
			sp.h.Start(newEndDrag(sp, timeline.ID(hit.ID)))
		}
	case render.HitCues:
		v.Zoom(w.Data.Whole(), at, 0.5)
	case render.HitLane:
		sp.pressLane(timeline.ID(hit.ID))
	case render.HitLaneHead:
		v.Focus = timeline.ID(hit.ID)
		sp.h.Beside(timeline.Ref{Kind: "lane", Song: w.Song, ID: v.Focus})
	case render.HitLaneArm, render.HitLaneHide, render.HitLaneOnly, render.HitLaneLock:
		sp.pressSwitch(hit.Kind, timeline.ID(hit.ID))
	case render.HitSection:
		sp.pressSection(timeline.ID(hit.ID))
	case render.HitMarker:
		sp.pressMarker(timeline.ID(hit.ID))
	case render.HitNote:
		sp.h.Beside(timeline.Ref{Kind: "note", Song: w.Song, ID: timeline.ID(hit.ID)})
	case render.HitSectionStart, render.HitSectionEnd:
		sp.pressEdge(hit.Kind, timeline.ID(hit.ID))
	case render.HitTimecode, render.HitBars, render.HitWave:
		if hit.Kind == render.HitWave || !sp.pressLoop() {
			sp.h.Start(&scrubbing{sp})
		}
	case render.HitStrip, render.HitShown:
		sp.h.Start(&stripping{sp})
	case render.HitFinding:
		if i, err := strconv.Atoi(hit.ID); err == nil && i < len(w.Here) {
			sp.h.GoFinding(w.Here[i])
		}
	case render.HitFindings:
		sp.h.Use("findings")
	case render.HitTitle:
		sp.h.Beside(timeline.Ref{Kind: "song", ID: w.Song})
	}
	sp.h.Again()
}

func (sp *Page) pressLane(lane timeline.ID) {
	v := sp.work().View()
	if lane != "" {
		v.Focus = lane
	}
	if sp.in().Clicks == 2 && lane != "" {
		if why := sp.NeedSongEdit(); why != "" {
			sp.tell("%s", why)
			return
		}
		sp.placeOn(lane, sp.catch(sp.drawn.TimeAt(sp.in().Pointer.X), nil, sp.in().Mods&widget.Alt != 0))
		return
	}
	sp.h.Start(newMarquee(sp))
}

func (sp *Page) pressSection(id timeline.ID) {
	w := sp.work()
	sp.h.Beside(timeline.Ref{Kind: "section", Song: w.Song, ID: id})
	if sp.in().Clicks == 2 {
		for _, h := range sp.scene.Hits {
			if h.Kind == render.HitSection && h.ID == string(id) {
				v := w.View()
				v.Before = v.Shown(w.Data.Whole())
				from, to := sp.drawn.TimeAt(h.Area.Min.X), sp.drawn.TimeAt(h.Area.Max.X)
				v.Set(w.Data.Whole(), from, to-from)
			}
		}
	}
}

// PressCue chooses, and may begin a drag.
func (sp *Page) PressCue(id timeline.ID) {
	v := sp.work().View()
	cue := sp.work().InView().Cue(id)
	if cue == nil {
		return
	}
	v.Focus = cue.Lane
	sp.h.Beside(timeline.Ref{})
	was := v.Selected[id]
	switch {
	case sp.in().Mods&widget.Shift != 0 && v.Anchor != "":
		sp.selectTo(id)
		return
	case sp.in().Mods&widget.Ctrl != 0 && !v.Selected[id]:
		v.Toggle(id)
	case sp.in().Mods&widget.Ctrl == 0 && !v.Selected[id]:
		sp.chooseGroup(cue)
	}
	sp.h.Start(newCueDrag(sp, id, sp.in().Mods&widget.Ctrl != 0, was))
}

// chooseGroup selects a cue with those it is grouped with.
func (sp *Page) chooseGroup(cue *timeline.Cue) {
	if cue.Group == "" {
		sp.work().View().Choose(cue.ID)
		return
	}
	var ids []timeline.ID
	for _, c := range sp.work().InView().Cues {
		if c.Group == cue.Group && c.ID != cue.ID {
			ids = append(ids, c.ID)
		}
	}
	sp.work().View().Choose(append(ids, cue.ID)...)
}

// selectTo selects all cues between the last chosen one and another, in time and over the lanes between.
func (sp *Page) selectTo(id timeline.ID) {
	w, v := sp.work(), sp.work().View()
	var from, to *render.CueData
	laneA, laneB := 0, 0
	for i := range w.Data.Lanes {
		for k := range w.Data.Lanes[i].Cues {
			c := &w.Data.Lanes[i].Cues[k]
			if c.Cue.ID == v.Anchor {
				from, laneA = c, i
			}
			if c.Cue.ID == id {
				to, laneB = c, i
			}
		}
	}
	if from == nil || to == nil {
		v.Choose(id)
		return
	}
	anchor := v.Anchor
	var ids []timeline.ID
	for i := min(laneA, laneB); i <= max(laneA, laneB); i++ {
		for _, c := range w.Data.Lanes[i].Cues {
			if c.Hit >= min(from.Hit, to.Hit) && c.Hit <= max(from.Hit, to.Hit) {
				ids = append(ids, c.Cue.ID)
			}
		}
	}
	v.Choose(ids...)
	v.Anchor = anchor
}

// wheel scrolls lanes or time, zooms, or makes lanes higher.
func (sp *Page) wheel(by image.Point, hit render.Hit) {
	w, v := sp.work(), sp.work().View()
	now := v.Shown(w.Data.Whole())
	sp.loose = sp.loose || sp.in().Mods&widget.Alt == 0 || sp.in().Mods&widget.Ctrl != 0
	sp.h.Again()
	_, _, all := sp.drawn.LaneSpan(w.Data, 0)
	lanes := sp.in().Pointer.Y >= sp.drawn.Lanes.Min.Y && sp.in().Pointer.Y < sp.drawn.Lanes.Max.Y && all > sp.drawn.Lanes.Dy()
	switch {
	case sp.in().Mods&widget.Ctrl != 0:
		v.Zoom(w.Data.Whole(), sp.drawn.TimeAt(sp.in().Pointer.X), math.Pow(notch, float64(by.Y)))
	case sp.in().Mods&widget.Alt != 0 && hit.Kind == render.HitWave:
		v.Gain = min(max(v.Gain-2*by.Y, 0), mostGain)
	case sp.in().Mods&widget.Alt != 0:
		now := sp.h.Prefs().Lane
		if now == 0 {
			now = sp.drawn.LaneHigh() * 100 / int(sp.h.UI().Scene().Scale)
		}
		sp.h.Prefs().Lane = min(max(now-2*by.Y, render.MinLaneHeight), 96)
		sp.h.Prefs().Save()
	case lanes && sp.in().Mods&widget.Shift == 0 && by.X == 0:
		v.Scroll = min(max(v.Scroll+by.Y*sp.h.UI().Px(40), 0), all-sp.drawn.Lanes.Dy())
	default:
		v.Pan(w.Data.Whole(), timeline.Time(by.X+by.Y)*(now.To-now.From)/12)
	}
}

// RevealLane scrolls so that a lane is in view.
func (sp *Page) RevealLane(i int) {
	if i < 0 || sp.drawn.Lanes.Empty() {
		return
	}
	v := sp.work().View()
	top, bottom, _ := sp.drawn.LaneSpan(sp.work().Data, i)
	v.Scroll = max(min(v.Scroll, top), bottom-sp.drawn.Lanes.Dy(), 0)
}

// DrawMoving draws what moves while the song plays, and what follows the pointer.
func (sp *Page) DrawMoving(s *render.Scene) {
	if sp.work() == nil || sp.work().Data == nil || sp.key.area.Empty() {
		return
	}
	if sp.h.InView() != "" {
		return
	}
	v := sp.work().View()
	sp.cursors = sp.songView(sp.key.area)
	sv := &sp.cursors
	if v.Loop.To > v.Loop.From && v.Looping {
		sv.Loop = v.Loop
	}
	playing := sp.Plays()
	if playing {
		sv.Heard = render.Instant{At: sp.Heard(), On: true}
	}
	sv.Playhead = render.Instant{At: v.Playhead, On: true}
	if playing {
		sv.Playhead.At = sv.Heard.At
		sv.Heard.On = false
		sp.sayHeard(sv.Heard.At)
	}
	if sp.over.X >= sp.drawn.Left && sp.over.X < sp.drawn.Right && sp.over.Y >= sp.drawn.Timecode.Min.Y && sp.over.Y < sp.drawn.Density.Max.Y {
		sv.Hover = render.Instant{At: sp.drawn.TimeAt(sp.over.X), On: true}
	}
	if sp.h.Dragging() {
		sv.Snap = sp.snapAt
	}
	if !sp.large {
		sp.drawn.DrawCursors(s, sp.h.UI().Theme(), sv)
		sp.stripHead(s, sv.Playhead.At)
	}
	sp.counters(s, sv.Playhead.At)
	if !sp.stageArea.Empty() {
		sp.DrawFront(s, sp.stageArea, sv.Playhead.At)
	}
	if sp.marquee != nil {
		sp.marquee.draw(s)
	}
}

// stripHead marks the playhead on the strip of the whole song.
func (sp *Page) stripHead(s *render.Scene, at timeline.Time) {
	whole := sp.work().Data.Whole()
	l := &sp.drawn.SongLayout
	if l.Strip.Empty() {
		return
	}
	x := l.Left + int(float64(at-whole.From)/float64(whole.To-whole.From)*float64(l.Right-l.Left))
	s.Rect(image.Rect(x, l.Strip.Min.Y+s.Px(2), x+s.Px(2), l.Strip.Max.Y-s.Px(2)), render.InkPlayhead)
}

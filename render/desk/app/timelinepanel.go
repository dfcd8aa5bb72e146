package app

import (
	"image"
	"math"
	"strconv"

	"emberbeat/audio"
	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// transportHeight is the logical height of the row of counters and buttons.
const transportHeight = 58

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
	focus  timeline.ID
	chosen int
	theme  *render.Theme
	scale  render.Scale
}

// timelinePanel is the song: the picture of it, and what the pointer does there.
func (a *App) timelinePanel(r image.Rectangle) {
	u, w := a.ui, a.work
	u.Group("timeline")
	c := u.Canvas("timeline", r)
	if w.Data == nil {
		a.noSong(r)
		return
	}
	sv := a.songView(r)
	a.drawSong(&sv)
	a.point(c)
	a.transport(a.song.Transport)
	if c.Focus && c.Entered {
		s, t := u.Scene(), a.song.Title
		s.Rect(image.Rect(t.Min.X, t.Max.Y-s.Px(2), t.Max.X, t.Max.Y), render.InkFocus)
	}
}

// noSong says what to do where the show has no song.
func (a *App) noSong(r image.Rectangle) {
	u := a.ui
	s := u.Scene()
	s.Rect(r, render.InkLane)
	mid := image.Rect(r.Min.X, (r.Min.Y+r.Max.Y)/2-u.Px(60), r.Max.X, (r.Min.Y+r.Max.Y)/2-u.Px(34))
	s.TextIn(mid, render.Middle, render.TypeTitle, render.InkText, "This show has no song yet")
	mid = mid.Add(image.Pt(0, u.Px(34)))
	s.TextIn(mid, render.Middle, render.TypeLabel, render.InkSecondary, "Drop an audio file here, or press "+a.key("import")+" to choose one: wav, flac, mp3 or ogg.")
}

// songView says what the timeline shows.
func (a *App) songView(r image.Rectangle) render.SongView {
	w := a.work
	v := w.View()
	sv := render.SongView{Data: w.Data, Area: r, Show: v.Shown(w.Data.Whole()), Marks: w.Marks, LaneHeight: a.laneHeight(), Scroll: v.Scroll,
		Focus: v.Focus, Selected: v.Selected, Transport: transportHeight, Strip: r.Dy() >= a.Scale().Px(lowPage), Quiet: a.soundState()}
	if s := w.Sounds[w.Song]; s != nil && s.Drawn() != nil {
		sv.Peaks = s
	}
	return sv
}

func (a *App) laneHeight() int {
	if a.prefs.Lane == 0 {
		return render.LaneHeight
	}
	return a.prefs.Lane
}

// drawSong draws the song's scene if anything in it has changed.
func (a *App) drawSong(sv *render.SongView) {
	v := a.work.View()
	key := songKey{data: sv.Data, area: sv.Area, span: sv.Show, quiet: sv.Quiet, marks: sv.Marks, scroll: sv.Scroll, lane: sv.LaneHeight,
		focus: sv.Focus, chosen: v.Serial, theme: a.Theme(), scale: a.Scale()}
	if s := a.work.Sounds[a.work.Song]; s != nil {
		key.peaks, key.ready = s.Drawn(), s.Ready
	}
	if key == a.scenes.key {
		return
	}
	a.scenes.key = key
	a.scenes.serial++
	a.scenes.song.Reset(a.size, a.Scale())
	a.song.Draw(a.scenes.song, a.Theme(), sv)
}

// point is what the pointer does on the timeline.
func (a *App) point(c widget.Canvas) {
	a.over = image.Pt(-1, -1)
	if a.gesture != nil {
		a.drive(widget.Primary | widget.Wheel)
		return
	}
	if !c.Hot {
		return
	}
	a.over = a.in.Pointer
	if a.over.In(a.song.Transport) {
		a.over.X = -1
	}
	hit, ok := a.scenes.song.At(a.in.Pointer)
	switch {
	case c.Pressed&widget.Wheel != 0:
		a.start(&panning{from: a.in.Pointer, span: a.work.View().Shown(a.work.Data.Whole())})
	case c.Pressed&widget.Secondary != 0 && ok:
		a.contextAt(hit)
	case c.Pressed&widget.Primary != 0 && ok:
		a.press(hit)
	}
	if c.Wheel != (image.Point{}) {
		a.wheel(c.Wheel, hit)
	}
}

// press is the primary button going down on something.
func (a *App) press(hit render.Hit) {
	w, v := a.work, a.work.View()
	at := a.song.TimeAt(a.in.Pointer.X)
	switch hit.Kind {
	case render.HitCue:
		a.pressCue(timeline.ID(hit.ID))
	case render.HitCueEnd:
		if needSongEdit(a) == "" {
			v.Choose(timeline.ID(hit.ID))
			a.start(newEndDrag(a, timeline.ID(hit.ID)))
		}
	case render.HitCues:
		v.Zoom(w.Data.Whole(), at, 0.5)
	case render.HitLane:
		a.pressLane(timeline.ID(hit.ID))
	case render.HitLaneHead:
		v.Focus = timeline.ID(hit.ID)
		a.inspect(timeline.Ref{Kind: "lane", Song: w.Song, ID: v.Focus})
	case render.HitSection:
		a.pressSection(timeline.ID(hit.ID))
	case render.HitMarker:
		a.inspect(timeline.Ref{Kind: "marker", Song: w.Song, ID: timeline.ID(hit.ID)})
		a.start(&scrubbing{})
	case render.HitTimecode, render.HitBars, render.HitWave:
		a.start(&scrubbing{})
	case render.HitStrip, render.HitShown:
		a.start(&stripping{})
	case render.HitFinding:
		if i, err := strconv.Atoi(hit.ID); err == nil && i < len(w.Here) {
			a.goFinding(w.Here[i])
		}
	case render.HitFindings:
		a.toggleFindings()
	case render.HitTitle:
		a.inspect(timeline.Ref{Kind: "song", ID: w.Song})
	}
	a.again = true
}

func (a *App) pressLane(lane timeline.ID) {
	v := a.work.View()
	if lane != "" {
		v.Focus = lane
	}
	if a.in.Clicks == 2 && lane != "" {
		if why := needSongEdit(a); why != "" {
			a.tell("%s", why)
			return
		}
		a.placeOn(lane, a.catch(a.song.TimeAt(a.in.Pointer.X), nil, a.in.Mods&widget.Alt != 0))
		return
	}
	a.start(newMarquee(a))
}

func (a *App) pressSection(id timeline.ID) {
	w := a.work
	a.inspect(timeline.Ref{Kind: "section", Song: w.Song, ID: id})
	if a.in.Clicks == 2 {
		for _, h := range a.scenes.song.Hits {
			if h.Kind == render.HitSection && h.ID == string(id) {
				v := w.View()
				v.Before = v.Shown(w.Data.Whole())
				from, to := a.song.TimeAt(h.Area.Min.X), a.song.TimeAt(h.Area.Max.X)
				v.Set(w.Data.Whole(), from, to-from)
			}
		}
	}
}

// pressCue chooses, and may begin a drag.
func (a *App) pressCue(id timeline.ID) {
	v := a.work.View()
	cue := a.work.InView().Cue(id)
	if cue == nil {
		return
	}
	v.Focus = cue.Lane
	a.panel.records = false
	a.panel.record = timeline.Ref{}
	switch {
	case a.in.Mods&widget.Shift != 0 && v.Anchor != "":
		a.selectTo(id)
		return
	case a.in.Mods&widget.Ctrl != 0 && !v.Selected[id]:
		v.Toggle(id)
	case a.in.Mods&widget.Ctrl == 0 && !v.Selected[id]:
		a.chooseGroup(cue)
	}
	a.start(newCueDrag(a, id, a.in.Mods&widget.Ctrl != 0))
}

// chooseGroup selects a cue with those it is grouped with.
func (a *App) chooseGroup(cue *timeline.Cue) {
	if cue.Group == "" {
		a.work.View().Choose(cue.ID)
		return
	}
	var ids []timeline.ID
	for _, c := range a.work.InView().Cues {
		if c.Group == cue.Group && c.ID != cue.ID {
			ids = append(ids, c.ID)
		}
	}
	a.work.View().Choose(append(ids, cue.ID)...)
}

// selectTo selects all cues between the last chosen one and another, in time and over the lanes between.
func (a *App) selectTo(id timeline.ID) {
	w, v := a.work, a.work.View()
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
func (a *App) wheel(by image.Point, hit render.Hit) {
	w, v := a.work, a.work.View()
	now := v.Shown(w.Data.Whole())
	a.again, a.loose = true, true
	_, _, all := a.song.LaneSpan(w.Data, 0)
	lanes := a.in.Pointer.Y >= a.song.Lanes.Min.Y && a.in.Pointer.Y < a.song.Lanes.Max.Y && all > a.song.Lanes.Dy()
	switch {
	case a.in.Mods&widget.Ctrl != 0:
		v.Zoom(w.Data.Whole(), a.song.TimeAt(a.in.Pointer.X), math.Pow(notch, float64(by.Y)))
	case a.in.Mods&widget.Alt != 0:
		a.prefs.Lane = min(max(a.laneHeight()-2*by.Y, render.MinLaneHeight), 96)
		a.prefs.Save()
	case lanes && a.in.Mods&widget.Shift == 0 && by.X == 0:
		v.Scroll = min(max(v.Scroll+by.Y*a.Scale().Px(40), 0), all-a.song.Lanes.Dy())
	default:
		v.Pan(w.Data.Whole(), timeline.Time(by.X+by.Y)*(now.To-now.From)/12)
	}
}

// revealLane scrolls so that a lane is in view.
func (a *App) revealLane(i int) {
	if i < 0 || a.song.Lanes.Empty() {
		return
	}
	v := a.work.View()
	top, bottom, _ := a.song.LaneSpan(a.work.Data, i)
	if i == 0 {
		top = 0
	}
	v.Scroll = max(min(v.Scroll, top), bottom-a.song.Lanes.Dy(), 0)
}

// drawMoving draws what moves while the song plays, and what follows the pointer.
func (a *App) drawMoving() {
	if a.work == nil || a.work.Data == nil || a.scenes.key.area.Empty() {
		return
	}
	if a.book.at != "" {
		a.drawStage(a.scenes.moving, a.heard())
		return
	}
	s, w := a.scenes.moving, a.work
	v := w.View()
	a.cursors = a.songView(a.scenes.key.area)
	sv := &a.cursors
	if v.Loop.To > v.Loop.From && v.Looping {
		sv.Loop = v.Loop
	}
	playing := a.player.Playing()
	if playing {
		sv.Heard = render.Instant{At: a.heard(), On: true}
	}
	sv.Playhead = render.Instant{At: v.Playhead, On: true}
	if playing {
		sv.Playhead.At = sv.Heard.At
		sv.Heard.On = false
		a.sayHeard(sv.Heard.At)
	}
	if a.over.X >= a.song.Left && a.over.X < a.song.Right && a.over.Y >= a.song.Timecode.Min.Y && a.over.Y < a.song.Density.Max.Y {
		sv.Hover = render.Instant{At: a.song.TimeAt(a.over.X), On: true}
	}
	if a.gesture != nil {
		sv.Snap = a.snapShown
	}
	a.song.DrawCursors(s, a.Theme(), sv)
	a.stripHead(s, sv.Playhead.At)
	a.counters(s, sv.Playhead.At)
	a.drawStage(s, sv.Playhead.At)
	if m, ok := a.gesture.(*marquee); ok {
		m.draw(s)
	}
}

// stripHead marks the playhead on the strip of the whole song.
func (a *App) stripHead(s *render.Scene, at timeline.Time) {
	whole := a.work.Data.Whole()
	l := &a.song.SongLayout
	if l.Strip.Empty() {
		return
	}
	x := l.Left + int(float64(at-whole.From)/float64(whole.To-whole.From)*float64(l.Right-l.Left))
	s.Rect(image.Rect(x, l.Strip.Min.Y+s.Px(2), x+s.Px(2), l.Strip.Max.Y-s.Px(2)), render.InkPlayhead)
}

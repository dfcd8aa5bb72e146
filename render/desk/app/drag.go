package app

import (
	"image"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/work"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// cueDrag moves the selected cues, or copies of them.
type cueDrag struct {
	at      image.Point
	grabbed *timeline.Cue
	hit     timeline.Time
	cues    []*timeline.Cue
	lane    int
	begun   bool
	toggle  bool // Ctrl was held at the press: a click takes the cue out of the selection
	was     bool // it was selected before the press
	copies  []timeline.ID
	change  *work.Attempt
	chosen  []timeline.ID // by the change
	last    drop          // that the change was made for
}

func newCueDrag(a *App, id timeline.ID, toggle bool) *cueDrag {
	song := a.work.InView()
	g := &cueDrag{at: a.in.Pointer, grabbed: song.Cue(id), cues: a.work.Selected(), toggle: toggle, was: a.work.View().Selected[id]}
	g.hit, _ = g.grabbed.At.In(song.Beats)
	g.lane = a.work.LaneAt(g.grabbed.Lane)
	ids := a.work.NewIDs()
	for range g.cues {
		g.copies = append(g.copies, ids("cue", song.ID))
	}
	return g
}

func (g *cueDrag) move(a *App, in *widget.Input) {
	d := in.Pointer.Sub(g.at)
	if !g.begun {
		if far := a.Scale().Px(page.Slack); max(d.X, -d.X, d.Y, -d.Y) < far || needSongEdit(a) != "" {
			return
		}
		g.begun = true
	}
	if in.Mods&widget.Shift != 0 {
		if max(d.X, -d.X) >= max(d.Y, -d.Y) {
			d.Y = 0
		} else {
			d.X = 0
		}
	}
	song := a.work.Session.Show().Song(a.work.Song)
	without := make(map[timeline.ID]bool, len(g.cues))
	for _, c := range g.cues {
		without[c.ID] = true
	}
	c := caught{at: g.hit, bar: g.grabbed.At.Bar, on: g.grabbed.At.OnBeat}
	a.snapShown = render.Snap{}
	if d.X != 0 {
		moved := g.hit + a.song.TimeAt(a.song.Left+d.X) - a.song.TimeAt(a.song.Left)
		c = a.catch(moved, without, in.Mods&widget.Alt != 0)
		if c.name != "" {
			a.snapShown = render.Snap{Instant: render.Instant{At: c.at, On: true}, Name: c.name}
		}
	}
	lane, copies := a.song.LaneAt(a.work.Data, g.at.Y+d.Y), in.Mods&widget.Ctrl != 0
	if last := (drop{c, lane, copies}); g.change == nil || last != g.last {
		g.last = last
		g.apply(a, song, c, lane, copies)
	}
}

// drop is where a drag would put its cues.
type drop struct {
	at     caught
	lane   int
	copies bool
}

// apply builds the change for where the grabbed cue goes.
func (g *cueDrag) apply(a *App, song *timeline.Song, c caught, lane int, copies bool) {
	g.change = nil
	lanes := map[timeline.ID]timeline.ID{}
	if lane >= 0 && lane != g.lane {
		var err error
		if lanes, err = lanesShifted(a.work, g.cues, lane-g.lane); err != nil {
			a.note = note{text: err.Error(), bad: true}
			lanes = nil
		}
	}
	exact := map[timeline.ID]timeline.Moment{}
	cues := g.cues
	grabbed := g.grabbed.ID
	if copies {
		cues = cloned(cues)
		for i, q := range cues {
			if q.ID == grabbed {
				grabbed = g.copies[i]
			}
			q.ID, q.Kept, q.Locked = g.copies[i], nil, false
		}
	}
	exact[grabbed] = c.moment(song.Beats, g.grabbed.At.OnBeat)
	if c.at == g.hit {
		exact[grabbed] = g.grabbed.At
	}
	made, err := moveCues(song, cues, c.at-g.hit, lanes, exact)
	if err != nil {
		a.note = note{text: err.Error(), bad: true}
		return
	}
	if copies {
		made.label = "copy " + counted(len(cues), "cue")
	}
	g.chosen = g.chosen[:0]
	for _, q := range cues {
		g.chosen = append(g.chosen, q.ID)
	}
	g.change = a.try(made)
	a.work.View().Choose(g.chosen...)
}

func (g *cueDrag) done(a *App) {
	a.snapShown = render.Snap{}
	switch {
	case !g.begun && g.toggle && g.was:
		// The press itself has selected it where it was not.
		a.work.View().Toggle(g.grabbed.ID)
	case !g.begun && !g.toggle:
		a.chooseGroup(g.grabbed)
	case g.begun && g.change != nil && a.keep(g.change):
		a.work.View().Choose(g.chosen...)
	case g.begun:
		g.cancel(a)
	}
}

func (g *cueDrag) cancel(a *App) {
	a.snapShown = render.Snap{}
	ids := make([]timeline.ID, 0, len(g.cues))
	for _, c := range g.cues {
		ids = append(ids, c.ID)
	}
	a.work.View().Choose(ids...)
}

func (g *cueDrag) help() string {
	return "Alt: snap the other way   Ctrl: copy   Shift: keep lane or time   Esc: leave it"
}

// endDrag changes how long a cue stays open.
type endDrag struct {
	at     image.Point
	cue    *timeline.Cue
	hit    timeline.Time
	end    timeline.Time
	change *work.Attempt
	begun  bool
}

func newEndDrag(a *App, id timeline.ID) *endDrag {
	g := &endDrag{at: a.in.Pointer}
	for i := range a.work.Data.Lanes {
		for _, c := range a.work.Data.Lanes[i].Cues {
			if c.Cue.ID == id {
				g.cue, g.hit, g.end = c.Cue, c.Hit, c.End
			}
		}
	}
	return g
}

// shortestOpen keeps a dragged end behind its hit.
const shortestOpen = 10 * timeline.Millisecond

func (g *endDrag) move(a *App, in *widget.Input) {
	d := in.Pointer.X - g.at.X
	if g.cue == nil || !g.begun && max(d, -d) < a.Scale().Px(page.Slack) {
		return
	}
	g.begun = true
	to := g.end + a.song.TimeAt(a.song.Left+d) - a.song.TimeAt(a.song.Left)
	c := a.catch(to, map[timeline.ID]bool{g.cue.ID: true}, in.Mods&widget.Alt != 0)
	a.snapShown = render.Snap{}
	if c.name != "" {
		a.snapShown = render.Snap{Instant: render.Instant{At: c.at, On: true}, Name: c.name}
	}
	q := *g.cue
	q.Open = max(c.at-g.hit, shortestOpen).RoundTo(timeline.EntryStep)
	song := a.work.Session.Show().Song(a.work.Song)
	if err := errLocked(song, []*timeline.Cue{g.cue}); err != nil {
		a.note = note{text: err.Error(), bad: true}
		return
	}
	g.change = a.try(change{"open " + q.Open.Text(2) + " s", []timeline.Edit{putCues(song.ID, []*timeline.Cue{&q})}})
}

func (g *endDrag) done(a *App) {
	a.snapShown = render.Snap{}
	if g.change != nil {
		a.keep(g.change)
	}
}

func (g *endDrag) cancel(a *App) { a.snapShown = render.Snap{} }

func (g *endDrag) help() string { return "Alt: snap the other way   Esc: leave it" }

// scrubbing moves the playhead with the pointer.
type scrubbing struct{}

func (g *scrubbing) move(a *App, in *widget.Input) {
	at := a.song.TimeAt(in.Pointer.X)
	inverted := in.Mods&widget.Alt != 0
	if a.prefs.Snap != inverted {
		s := newSnapping(a.work.InView(), a.grid().step, -timeline.Hour, nil)
		at = s.near(at, a.reach(snapReach)).at
	}
	v := a.work.View()
	at = min(max(at, a.work.Data.Whole().From), a.work.Data.Length())
	if v.Playhead != at || a.player.Playing() && in.Pressed != 0 {
		a.seek(at)
	}
}

func (g *scrubbing) done(a *App)  { a.say("playhead %s", a.work.View().Playhead) }
func (g *scrubbing) cancel(*App)  {}
func (g *scrubbing) help() string { return "Alt: snap the other way" }
func (g *panning) help() string   { return "Drag moves the view" }
func (g *stripping) help() string { return "Drag shows another part of the song" }
func (g *marquee) help() string {
	return "Shift: add to the selection   Ctrl: take in or out   Esc: leave it"
}
func (g *panning) done(*App)     {}
func (g *stripping) done(*App)   {}
func (g *stripping) cancel(*App) {}

// panning moves the view with the middle button.
type panning struct {
	from image.Point
	span render.Span
}

func (g *panning) move(a *App, in *widget.Input) {
	v := a.work.View()
	l := a.song.Right - a.song.Left
	by := timeline.Time(float64(g.from.X-in.Pointer.X) / float64(max(l, 1)) * float64(g.span.To-g.span.From))
	v.Set(a.work.Data.Whole(), g.span.From+by, g.span.To-g.span.From)
	a.loose = true
}

func (g *panning) cancel(a *App) { a.work.View().Span = g.span }

// stripping shows the part of the song that the pointer is on in the strip.
type stripping struct{}

func (g *stripping) move(a *App, in *widget.Input) {
	v, whole := a.work.View(), a.work.Data.Whole()
	l := &a.song.SongLayout
	at := whole.From + timeline.Time(float64(in.Pointer.X-l.Left)/float64(max(l.Right-l.Left, 1))*float64(whole.To-whole.From))
	now := v.Shown(whole)
	v.Set(whole, at-(now.To-now.From)/2, now.To-now.From)
	a.loose = true
}

// marquee selects what a rectangle touches.
type marquee struct {
	from, to image.Point
	before   map[timeline.ID]bool
	mods     widget.Mods
	begun    bool
}

func newMarquee(a *App) *marquee {
	return &marquee{from: a.in.Pointer, to: a.in.Pointer, before: a.work.View().Selected, mods: a.in.Mods}
}

func (g *marquee) rect() image.Rectangle {
	return image.Rectangle{Min: g.from, Max: g.to}.Canon()
}

func (g *marquee) move(a *App, in *widget.Input) {
	g.to = in.Pointer
	if d := g.to.Sub(g.from); !g.begun && max(d.X, -d.X, d.Y, -d.Y) < a.Scale().Px(page.Slack) {
		return
	}
	g.begun, g.mods = true, in.Mods
	touched := map[timeline.ID]bool{}
	r := g.rect()
	r.Max = r.Max.Add(image.Pt(1, 1))
	for _, h := range a.scenes.song.Hits {
		if (h.Kind == render.HitCue || h.Kind == render.HitCues) && h.Area.Overlaps(r) {
			touched[timeline.ID(h.ID)] = true
		}
	}
	var ids []timeline.ID
	keep := g.mods&(widget.Shift|widget.Ctrl) != 0
	for id := range g.before {
		if keep && !(g.mods&widget.Ctrl != 0 && touched[id]) {
			ids = append(ids, id)
		}
	}
	for id := range touched {
		if !keep || !g.before[id] {
			ids = append(ids, id)
		}
	}
	a.work.View().Choose(ids...)
}

func (g *marquee) done(a *App) {
	if !g.begun && g.mods&(widget.Shift|widget.Ctrl) == 0 {
		a.work.View().Choose()
		a.panel.record = timeline.Ref{}
	}
	a.say("selected %d", len(a.work.View().Selected))
}

func (g *marquee) cancel(a *App) {
	v := a.work.View()
	v.Selected = g.before
	v.Serial++
}

// draw shows the rectangle.
func (g *marquee) draw(s *render.Scene) {
	if g.begun {
		s.Tint(g.rect(), render.InkFocus, 30)
		s.Frame(g.rect(), s.Px(1), render.InkFocus)
	}
}

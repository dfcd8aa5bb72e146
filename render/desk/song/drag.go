package song

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
	sp      *Page
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

func newCueDrag(sp *Page, id timeline.ID, toggle bool) *cueDrag {
	song := sp.work().InView()
	g := &cueDrag{sp: sp, at: sp.h.UI().Input().Pointer, grabbed: song.Cue(id), cues: sp.work().Selected(), toggle: toggle, was: sp.work().View().Selected[id]}
	g.hit, _ = g.grabbed.At.In(song.Beats)
	g.lane = sp.work().LaneAt(g.grabbed.Lane)
	ids := sp.work().NewIDs()
	for range g.cues {
		g.copies = append(g.copies, ids("cue", song.ID))
	}
	return g
}

func (g *cueDrag) Move(in *widget.Input) {
	d := in.Pointer.Sub(g.at)
	if !g.begun {
		if far := g.sp.h.UI().Px(page.Slack); max(d.X, -d.X, d.Y, -d.Y) < far || g.sp.NeedSongEdit() != "" {
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
	song := g.sp.work().Session.Show().Song(g.sp.work().Song)
	without := make(map[timeline.ID]bool, len(g.cues))
	for _, c := range g.cues {
		without[c.ID] = true
	}
	c := caught{at: g.hit, bar: g.grabbed.At.Bar, on: g.grabbed.At.OnBeat}
	g.sp.snapAt = render.Snap{}
	if d.X != 0 {
		moved := g.hit + g.sp.drawn.TimeAt(g.sp.drawn.Left+d.X) - g.sp.drawn.TimeAt(g.sp.drawn.Left)
		c = g.sp.catch(moved, without, in.Mods&widget.Alt != 0)
		if c.name != "" {
			g.sp.snapAt = render.Snap{Instant: render.Instant{At: c.at, On: true}, Name: c.name}
		}
	}
	lane, copies := g.sp.drawn.LaneAt(g.sp.work().Data, g.at.Y+d.Y), in.Mods&widget.Ctrl != 0
	if last := (drop{c, lane, copies}); g.change == nil || last != g.last {
		g.last = last
		g.apply(song, c, lane, copies)
	}
}

// drop is where a drag would put its cues.
type drop struct {
	at     caught
	lane   int
	copies bool
}

// apply builds the change for where the grabbed cue goes.
func (g *cueDrag) apply(song *timeline.Song, c caught, lane int, copies bool) {
	g.change = nil
	lanes := map[timeline.ID]timeline.ID{}
	if lane >= 0 && lane != g.lane {
		var err error
		if lanes, err = lanesShifted(g.sp.work(), g.cues, lane-g.lane); err != nil {
			g.sp.h.Warn(err.Error())
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
		g.sp.h.Warn(err.Error())
		return
	}
	if copies {
		made.label = "copy " + page.Counted(len(cues), "cue")
	}
	g.chosen = g.chosen[:0]
	for _, q := range cues {
		g.chosen = append(g.chosen, q.ID)
	}
	g.change = g.sp.try(made)
	g.sp.work().View().Choose(g.chosen...)
}

func (g *cueDrag) Done() {
	g.sp.snapAt = render.Snap{}
	switch {
	case !g.begun && g.toggle && g.was:
		// The press itself has selected it where it was not.
		g.sp.work().View().Toggle(g.grabbed.ID)
	case !g.begun && !g.toggle:
		g.sp.chooseGroup(g.grabbed)
	case g.begun && g.change != nil && g.sp.h.Keep(g.change):
		g.sp.work().View().Choose(g.chosen...)
	case g.begun:
		g.Cancel()
	}
}

func (g *cueDrag) Cancel() {
	g.sp.snapAt = render.Snap{}
	ids := make([]timeline.ID, 0, len(g.cues))
	for _, c := range g.cues {
		ids = append(ids, c.ID)
	}
	g.sp.work().View().Choose(ids...)
}

func (g *cueDrag) Help() string {
	return "Alt: snap the other way   Ctrl: copy   Shift: keep lane or time   Esc: leave it"
}

// endDrag changes how long a cue stays open.
type endDrag struct {
	sp     *Page
	at     image.Point
	cue    *timeline.Cue
	hit    timeline.Time
	end    timeline.Time
	change *work.Attempt
	begun  bool
}

func newEndDrag(sp *Page, id timeline.ID) *endDrag {
	g := &endDrag{sp: sp, at: sp.h.UI().Input().Pointer}
	for i := range sp.work().Data.Lanes {
		for _, c := range sp.work().Data.Lanes[i].Cues {
			if c.Cue.ID == id {
				g.cue, g.hit, g.end = c.Cue, c.Hit, c.End
			}
		}
	}
	return g
}

// shortestOpen keeps a dragged end behind its hit.
const shortestOpen = 10 * timeline.Millisecond

func (g *endDrag) Move(in *widget.Input) {
	d := in.Pointer.X - g.at.X
	if g.cue == nil || !g.begun && max(d, -d) < g.sp.h.UI().Px(page.Slack) {
		return
	}
	g.begun = true
	to := g.end + g.sp.drawn.TimeAt(g.sp.drawn.Left+d) - g.sp.drawn.TimeAt(g.sp.drawn.Left)
	c := g.sp.catch(to, map[timeline.ID]bool{g.cue.ID: true}, in.Mods&widget.Alt != 0)
	g.sp.snapAt = render.Snap{}
	if c.name != "" {
		g.sp.snapAt = render.Snap{Instant: render.Instant{At: c.at, On: true}, Name: c.name}
	}
	q := *g.cue
	q.Open = max(c.at-g.hit, shortestOpen).RoundTo(timeline.EntryStep)
	song := g.sp.work().Session.Show().Song(g.sp.work().Song)
	if err := errLocked(song, []*timeline.Cue{g.cue}); err != nil {
		g.sp.h.Warn(err.Error())
		return
	}
	g.change = g.sp.try(change{"open " + q.Open.Text(2) + " s", []timeline.Edit{putCues(song.ID, []*timeline.Cue{&q})}})
}

func (g *endDrag) Done() {
	g.sp.snapAt = render.Snap{}
	if g.change != nil {
		g.sp.h.Keep(g.change)
	}
}

func (g *endDrag) Cancel() { g.sp.snapAt = render.Snap{} }

func (g *endDrag) Help() string { return "Alt: snap the other way   Esc: leave it" }

// scrubbing moves the playhead with the pointer.
type scrubbing struct{ sp *Page }

func (g *scrubbing) Move(in *widget.Input) {
	at := g.sp.drawn.TimeAt(in.Pointer.X)
	inverted := in.Mods&widget.Alt != 0
	if g.sp.h.Prefs().Snap != inverted {
		s := newSnapping(g.sp.work().InView(), g.sp.grid().step, -timeline.Hour, nil)
		at = s.near(at, g.sp.reach(snapReach)).at
	}
	v := g.sp.work().View()
	at = min(max(at, g.sp.work().Data.Whole().From), g.sp.work().Data.Length())
	if v.Playhead != at || g.sp.player.Playing() && in.Pressed != 0 {
		g.sp.Seek(at)
	}
}

func (g *scrubbing) Done()        { g.sp.h.Log("playhead %s", g.sp.work().View().Playhead) }
func (g *scrubbing) Cancel()      {}
func (g *scrubbing) Help() string { return "Alt: snap the other way" }
func (g *panning) Help() string   { return "Drag moves the view" }
func (g *stripping) Help() string { return "Drag shows another part of the song" }
func (g *marquee) Help() string {
	return "Shift: add to the selection   Ctrl: take in or out   Esc: leave it"
}
func (g *panning) Done()     {}
func (g *stripping) Done()   {}
func (g *stripping) Cancel() {}

// panning moves the view with the middle button.
type panning struct {
	sp   *Page
	from image.Point
	span render.Span
}

func (g *panning) Move(in *widget.Input) {
	v := g.sp.work().View()
	l := g.sp.drawn.Right - g.sp.drawn.Left
	by := timeline.Time(float64(g.from.X-in.Pointer.X) / float64(max(l, 1)) * float64(g.span.To-g.span.From))
	v.Set(g.sp.work().Data.Whole(), g.span.From+by, g.span.To-g.span.From)
	g.sp.loose = true
}

func (g *panning) Cancel() { g.sp.work().View().Span = g.span }

// stripping shows the part of the song that the pointer is on in the strip.
type stripping struct{ sp *Page }

func (g *stripping) Move(in *widget.Input) {
	v, whole := g.sp.work().View(), g.sp.work().Data.Whole()
	l := &g.sp.drawn.SongLayout
	at := whole.From + timeline.Time(float64(in.Pointer.X-l.Left)/float64(max(l.Right-l.Left, 1))*float64(whole.To-whole.From))
	now := v.Shown(whole)
	v.Set(whole, at-(now.To-now.From)/2, now.To-now.From)
	g.sp.loose = true
}

// marquee selects what a rectangle touches.
type marquee struct {
	sp       *Page
	from, to image.Point
	before   map[timeline.ID]bool
	mods     widget.Mods
	begun    bool
}

func newMarquee(sp *Page) *marquee {
	in := sp.h.UI().Input()
	sp.marquee = &marquee{sp: sp, from: in.Pointer, to: in.Pointer, before: sp.work().View().Selected, mods: in.Mods}
	return sp.marquee
}

func (g *marquee) rect() image.Rectangle {
	return image.Rectangle{Min: g.from, Max: g.to}.Canon()
}

func (g *marquee) Move(in *widget.Input) {
	g.to = in.Pointer
	if d := g.to.Sub(g.from); !g.begun && max(d.X, -d.X, d.Y, -d.Y) < g.sp.h.UI().Px(page.Slack) {
		return
	}
	g.begun, g.mods = true, in.Mods
	touched := map[timeline.ID]bool{}
	r := g.rect()
	r.Max = r.Max.Add(image.Pt(1, 1))
	for _, h := range g.sp.scene.Hits {
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
	g.sp.work().View().Choose(ids...)
}

func (g *marquee) Done() {
	g.sp.marquee = nil
	if !g.begun && g.mods&(widget.Shift|widget.Ctrl) == 0 {
		g.sp.work().View().Choose()
		g.sp.h.Forget()
	}
	g.sp.h.Log("selected %d", len(g.sp.work().View().Selected))
}

func (g *marquee) Cancel() {
	g.sp.marquee = nil
	v := g.sp.work().View()
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

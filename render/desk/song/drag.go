package song

import (
	"image"

	"emberbeat/render"
	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/snap"
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
	moved   map[timeline.ID]bool
	targets gathered
	change  *openshow.Attempt
	chosen  []timeline.ID // by the change
	last    drop          // that the change was made for
}

func newCueDrag(sp *Page, id timeline.ID, toggle, was bool) *cueDrag {
	song := sp.work().InView()
	g := &cueDrag{sp: sp, at: sp.in().Pointer, grabbed: song.Cue(id), cues: sp.work().Selected(), toggle: toggle, was: was}
	g.hit, _ = g.grabbed.At.In(song.Beats)
	g.lane = sp.work().LaneAt(g.grabbed.Lane)
	ids := sp.work().NewIDs()
	g.moved = make(map[timeline.ID]bool, len(g.cues))
	for _, c := range g.cues {
		g.copies, g.moved[c.ID] = append(g.copies, ids("cue", song.ID)), true
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
	song := g.sp.programmed()
	c := snap.Caught{At: g.hit, Bar: g.grabbed.At.Bar, On: g.grabbed.At.OnBeat}
	g.sp.snapAt = render.Snap{}
	if d.X != 0 {
		moved := g.hit + g.sp.drawn.TimeAt(g.sp.drawn.Left+d.X) - g.sp.drawn.TimeAt(g.sp.drawn.Left)
		c = g.sp.catchIn(song, &g.targets, moved, g.moved, in.Mods&widget.Alt != 0)
		if c.Name != "" {
			g.sp.snapAt = render.Snap{Instant: render.Instant{At: c.At, On: true}, Name: c.Name}
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
	at     snap.Caught
	lane   int
	copies bool
}

// apply builds the change for where the grabbed cue goes.
func (g *cueDrag) apply(song *timeline.Song, c snap.Caught, lane int, copies bool) {
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
	exact[grabbed] = c.Moment(song.Beats, g.grabbed.At.OnBeat)
	if c.At == g.hit {
		exact[grabbed] = g.grabbed.At
	}
	made, err := moveCues(song, cues, c.At-g.hit, lanes, exact)
	if err != nil {
		g.sp.refuse(err)
		return
	}
	if copies {
		made.label = "copy " + timeline.Counted(len(cues), "cue")
	}
	g.chosen = g.chosen[:0]
	for _, q := range cues {
		g.chosen = append(g.chosen, q.ID)
	}
	g.change = g.sp.try(made)
	g.sp.work().View().Choose(g.chosen...)
	g.sp.dragged = map[timeline.ID]bool{grabbed: true}
}

func (g *cueDrag) Done() {
	g.sp.snapAt, g.sp.dragged = render.Snap{}, nil
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
	g.sp.snapAt, g.sp.dragged = render.Snap{}, nil
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
	change *openshow.Attempt
	begun  bool
}

func newEndDrag(sp *Page, id timeline.ID) *endDrag {
	g := &endDrag{sp: sp, at: sp.in().Pointer}
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
	if c.Name != "" {
		g.sp.snapAt = render.Snap{Instant: render.Instant{At: c.At, On: true}, Name: c.Name}
	}
	q := *g.cue
	q.Open = max(c.At-g.hit, shortestOpen).RoundTo(timeline.EntryStep)
	song := g.sp.programmed()
	if err := errLocked(song, []*timeline.Cue{g.cue}); err != nil {
		g.sp.refuse(err)
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

package song

import (
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// slide drags a single time along the song: a marker, an edge of sections, an end of the loop.
type slide struct {
	sp     *Page
	at     image.Point
	from   timeline.Time
	within render.Span          // where it can go
	own    map[timeline.ID]bool // what is moved, which nothing is drawn to
	begun  bool

	move    func(landing)
	pressed func() // it was let go without having been moved
	keep    func()
	leave   func()
}

// landing is where what slides would come to stand.
type landing struct {
	at     timeline.Time
	moment func(onBeat bool) timeline.Moment // the same as an anchor
	name   string                            // of what has caught it, "" where nothing has
}

// land draws a time to what is within reach, as catch does, but never to what is moved itself.
func (sp *Page) land(at timeline.Time, own map[timeline.ID]bool, inverted bool) landing {
	song := *sp.programmed()
	song.Sections = slices.DeleteFunc(slices.Clone(song.Sections), func(c *timeline.Section) bool { return own[c.ID] })
	song.Markers = slices.DeleteFunc(slices.Clone(song.Markers), func(m *timeline.Marker) bool { return own[m.ID] })
	c := sp.catchIn(&song, &gathered{}, at, nil, inverted)
	return landing{c.At, func(onBeat bool) timeline.Moment { return c.Moment(song.Beats, onBeat) }, c.Name}
}

func (g *slide) Move(in *widget.Input) {
	d := in.Pointer.X - g.at.X
	if !g.begun && max(d, -d) < g.sp.h.UI().Px(page.Slack) {
		return
	}
	g.begun = true
	to := g.from + g.sp.drawn.TimeAt(g.sp.drawn.Left+d) - g.sp.drawn.TimeAt(g.sp.drawn.Left)
	inverted := in.Mods&widget.Alt != 0
	l := g.sp.land(min(max(to, g.within.From), g.within.To), g.own, inverted)
	if l.at < g.within.From || l.at > g.within.To { // it was drawn out of where it can go
		l = g.sp.land(min(max(to, g.within.From), g.within.To), g.own, g.sp.h.Prefs().Snap)
	}
	g.sp.snapAt = render.Snap{}
	if l.name != "" {
		g.sp.snapAt = render.Snap{Instant: render.Instant{At: l.at, On: true}, Name: l.name}
	}
	g.move(l)
}

func (g *slide) Done() {
	g.sp.snapAt = render.Snap{}
	switch {
	case g.begun:
		g.keep()
	case g.pressed != nil:
		g.pressed()
	}
}

func (g *slide) Cancel() {
	g.sp.snapAt = render.Snap{}
	if g.begun {
		g.leave()
	}
}

func (g *slide) Help() string { return "Alt: snap the other way   Esc: leave it" }

// slides starts a slide that changes the show, as one step: put gives what it comes to where it lands.
func (sp *Page) slides(label string, g *slide, put func(landing) timeline.Edit) {
	var tried *openshow.Attempt
	g.sp, g.at = sp, sp.in().Pointer
	g.move = func(l landing) { tried = sp.try(change{label, []timeline.Edit{put(l)}}) }
	g.keep = func() {
		if tried != nil {
			sp.h.Keep(tried)
		}
	}
	g.leave = func() {}
	sp.h.Start(g)
}

// pressMarker shows a marker's values and may begin to slide it; let go, the playhead goes there.
func (sp *Page) pressMarker(id timeline.ID) {
	song := sp.programmed()
	sp.h.Beside(timeline.Ref{Kind: "marker", Song: song.ID, ID: id})
	i := slices.IndexFunc(song.Markers, func(m *timeline.Marker) bool { return m.ID == id })
	if i < 0 {
		return
	}
	m := song.Markers[i]
	from, ok := m.At.In(song.Beats)
	if !ok || sp.NeedSongEdit() != "" {
		return
	}
	g := &slide{from: from, within: sp.inSong(), own: map[timeline.ID]bool{id: true}, pressed: func() { sp.Seek(from) }}
	sp.slides("move marker "+m.Name, g, func(l landing) timeline.Edit {
		moved := *m
		moved.At = l.moment(m.At.OnBeat)
		return page.Put(song.ID, &moved)
	})
}

// inSong is where a time of the song can go.
func (sp *Page) inSong() render.Span { return render.Span{To: sp.work().Data.Length()} }

// pressEdge shows a section's values and may begin to slide one of its edges. Where one section ends as another begins, both go.
func (sp *Page) pressEdge(kind render.HitKind, id timeline.ID) {
	sp.pressSection(id)
	song := sp.programmed()
	i := slices.IndexFunc(song.Sections, func(c *timeline.Section) bool { return c.ID == id })
	if i < 0 || sp.in().Clicks == 2 || sp.NeedSongEdit() != "" {
		return
	}
	edge := song.Sections[i].At
	if kind == render.HitSectionEnd {
		edge = song.Sections[i].To
	}
	from, ok := edge.In(song.Beats)
	if !ok {
		return
	}
	g := &slide{from: from, within: sp.inSong(), own: map[timeline.ID]bool{}}
	var starts, ends []*timeline.Section
	for _, c := range song.Sections {
		at, begins := c.At.In(song.Beats)
		to, given := c.To.In(song.Beats)
		given = given && to > at
		switch {
		case begins && at == from:
			starts = append(starts, c)
			g.own[c.ID] = true
			if given {
				g.within.To = min(g.within.To, to-shortestOpen)
			}
		case begins && given && to == from:
			ends = append(ends, c)
			g.own[c.ID] = true
			g.within.From = max(g.within.From, at+shortestOpen)
		}
	}
	sp.slides("move edge of section "+song.Sections[i].Name, g, func(l landing) timeline.Edit {
		var recs []timeline.Record
		for _, c := range starts {
			moved := *c
			moved.At = l.moment(c.At.OnBeat)
			recs = append(recs, &moved)
		}
		for _, c := range ends {
			moved := *c
			moved.To = l.moment(c.To.OnBeat)
			recs = append(recs, &moved)
		}
		return page.Put(song.ID, recs...)
	})
}

// pressLoop may begin to slide the end of the loop that the pointer is on, in a ruler; else it gives false.
func (sp *Page) pressLoop() bool {
	v, x := sp.work().View(), sp.in().Pointer.X
	if !v.Looping || v.Loop.To <= v.Loop.From {
		return false
	}
	was, reach := v.Loop, sp.h.UI().Px(render.Reach)/2
	off := func(at timeline.Time) int { d := sp.drawn.X(at) - x; return max(d, -d) }
	end := off(was.To) < off(was.From)
	if min(off(was.To), off(was.From)) > reach {
		return false
	}
	g := &slide{sp: sp, at: sp.in().Pointer, from: was.From, within: render.Span{To: was.To - shortestOpen}}
	if end {
		g.from, g.within = was.To, render.Span{From: was.From + shortestOpen, To: sp.work().Data.Length()}
	}
	g.move = func(l landing) {
		if end {
			v.Loop.To = l.at
		} else {
			v.Loop.From = l.at
		}
	}
	g.keep = sp.tune
	g.leave = func() { v.Loop = was }
	sp.h.Start(g)
	return true
}

package carry

import (
	"math"

	"emberbeat/timeline"
)

// bar is the start of a bar of the old map at its place in the new recording.
type bar struct {
	n     int // in the old map
	at    timeline.Time
	metre timeline.Metre
}

// piece is the beats of one passage: the bars that start in it, and how many beats
// lie beside them on either side.
type piece struct {
	bars       []bar
	head, tail float64 // beats before the first and after the last start of a bar
	anchors    []timeline.Anchor
	tailBeat   timeline.Time // length of a beat after the last
	lastBeat   bar           // whole beats after the last start of a bar; n counts them
	firstBeat  bar           // and before the first
	moved      bool
}

// grid makes the beat map of the new recording. Where the music is the same, the
// old map goes on: its anchors stand where the music has gone. Where it was played
// anew, bars are those of the old map, on the beats that were heard. Bars keep their
// numbers up to the first change, and are counted on from there; what was cut within
// a bar makes that bar shorter. heard is whether any of it rests on what was heard.
func (c *carrier) grid() (beats *timeline.BeatMap, heard bool) {
	old := c.song.Beats
	if old.Empty() || len(c.passages) == 0 {
		return old, false
	}
	if p := c.passages[0]; len(c.passages) == 1 && p.Exact && p.Old <= cutSlack && p.OldEnd >= c.m.Old-cutSlack {
		return old.Shift(p.New - p.Old), false
	}
	var g gridding
	var end timeline.Time
	for k := range c.passages {
		p := &c.passages[k]
		x, ear := c.piece(p)
		if len(x.bars) == 0 {
			continue
		}
		heard = heard || ear
		g.add(x, p.New-end)
		end = p.NewEnd
	}
	metre := timeline.Metre{}
	for i := range g.anchors {
		if a := &g.anchors[i]; a.Metre == metre {
			a.Metre = timeline.Metre{}
		} else if !a.Metre.IsZero() {
			metre = a.Metre
		}
	}
	beats, err := timeline.NewBeatMap(g.anchors)
	if err != nil || beats.Empty() {
		c.note("the beat map could not be carried over, and what was heard takes its place")
		if err != nil {
			c.notes[len(c.notes)-1] += ": " + err.Error()
		}
		return c.heard.Beats, true
	}
	return beats, heard
}

// piece gives the beats of a passage at their places in the new recording.
func (c *carrier) piece(p *Passage) (x piece, heard bool) {
	old := c.song.Beats
	n := old.Locate(p.Old - cutSlack).Bar
	for old.BarStart(n) < p.Old-cutSlack {
		n++
	}
	for ; old.BarStart(n) < p.OldEnd-cutSlack; n++ {
		x.bars = append(x.bars, bar{n, c.forward(p, old.BarStart(n)), old.MetreAt(n)})
	}
	if len(x.bars) == 0 {
		return x, false
	}
	first, last := &x.bars[0], &x.bars[len(x.bars)-1]
	beat := func(n int, k int64) timeline.Time {
		return old.At(timeline.BarBeat{Bar: n, Beat: timeline.NewRat(k, 1)})
	}
	// Whole beats after the last bar line, and before the first.
	for k := int64(1); k < int64(last.metre.Num) && beat(last.n, k) <= p.OldEnd; k++ {
		x.lastBeat = bar{int(k), c.forward(p, beat(last.n, k)), last.metre}
	}
	before := old.MetreAt(first.n - 1)
	for k := int64(1); k < int64(before.Num) && beat(first.n-1, int64(before.Num)-k) >= p.Old; k++ {
		x.firstBeat = bar{int(k), c.forward(p, beat(first.n-1, int64(before.Num)-k)), before}
	}
	x.tail = beatsBetween(old.BarStart(last.n), p.OldEnd, beat(last.n, 1)-beat(last.n, 0))
	x.head = beatsBetween(p.Old, old.BarStart(first.n), beat(first.n-1, int64(before.Num))-beat(first.n-1, int64(before.Num)-1))
	x.tailBeat = c.forward(p, beat(last.n, 1)) - last.at
	if !p.Exact && c.agrees(x.bars) {
		for i := range x.bars {
			if at, near := c.heardBeat(x.bars[i].at); near {
				x.bars[i].at, heard = at, true
			}
		}
		if heard { // the beats beside the bars were not asked about
			x.lastBeat, x.firstBeat = bar{}, bar{}
		}
	}
	x.moved = p.Moved
	x.anchor(c, p)
	return x, heard
}

func beatsBetween(from, to, beat timeline.Time) float64 {
	if beat <= 0 {
		return 0
	}
	return (to - from).Seconds() / beat.Seconds()
}

// forward gives where an instant of the old recording is on a passage, which goes on
// at its ends.
func (c *carrier) forward(p *Passage, old timeline.Time) timeline.Time {
	r := c.m.Runs[p.First]
	for i := p.First + 1; i <= p.Last && c.m.Runs[i].Old <= old; i++ {
		r = c.m.Runs[i]
	}
	return r.Forward(old)
}

// agrees reports whether the beats that were heard are those of the bars: most bars
// start on one of them, and a bar holds about as many.
func (c *carrier) agrees(bars []bar) bool {
	if c.heard.Beats.Empty() {
		return false
	}
	near, level := 0, 0
	for i, b := range bars {
		if _, ok := c.heardBeat(b.at); ok {
			near++
		}
		if i > 0 {
			beats := float64(bars[i-1].metre.Num) / (b.at - bars[i-1].at).Seconds() * 60
			if ratio := c.heard.Beats.BPM(bars[i-1].at+1) / beats; ratio > 0.85 && ratio < 1.18 {
				level++
			}
		}
	}
	return near*3 >= len(bars)*2 && level*3 >= (len(bars)-1)*2
}

// heardBeat gives the beat that was heard nearest to an instant, if it is near.
func (c *carrier) heardBeat(at timeline.Time) (timeline.Time, bool) {
	b := c.heard.Beats
	t := b.At(b.Snap(at, timeline.NewRat(1, 1)))
	return t, apart(t, at) <= sameBeat
}

// anchor gives the anchors of a piece, numbered as in the old map: a bar each where
// its speed drifts or rests on what was heard, else the old anchors and its ends.
func (x *piece) anchor(c *carrier, p *Passage) {
	old := c.song.Beats
	drifts := p.First != p.Last
	for i := range x.bars {
		b := &x.bars[i]
		inside := i > 0 && i+1 < len(x.bars)
		if !inside || drifts || b.at != c.forward(p, old.BarStart(b.n)) || anchored(old, b.n) {
			x.anchors = append(x.anchors, timeline.Anchor{Bar: b.n, At: b.at, Metre: b.metre})
		}
		// Anchors inside the bar stand where the music of them has gone.
		for _, a := range old.Anchors() {
			if end := i+1 == len(x.bars); a.Bar == b.n && !a.Beat.IsZero() && !drifts && b.at == c.forward(p, old.BarStart(b.n)) && (!end || a.At <= p.OldEnd) {
				x.anchors = append(x.anchors, timeline.Anchor{Bar: a.Bar, Beat: a.Beat, At: c.forward(p, a.At)})
			}
		}
	}
}

// anchored reports whether a bar's start is held by an anchor, or its metre is new.
func anchored(m *timeline.BeatMap, n int) bool {
	if m.MetreAt(n) != m.MetreAt(n-1) {
		return true
	}
	for _, a := range m.Anchors() {
		if a.Bar == n && a.Beat.IsZero() {
			return true
		}
	}
	return false
}

// gridding puts pieces together.
type gridding struct {
	anchors []timeline.Anchor
	last    piece // the one before
	bar     int   // the number of its last bar in the new map
}

// add joins a piece on, with so much new music between.
func (g *gridding) add(x piece, between timeline.Time) {
	n := x.bars[0].n
	switch {
	case len(g.anchors) == 0 && x.moved:
		n = 1
	case len(g.anchors) > 0:
		n = g.join(&x, between)
	}
	for _, a := range x.anchors {
		a.Bar += n - x.bars[0].n
		g.anchors = append(g.anchors, a)
	}
	g.bar = n + x.bars[len(x.bars)-1].n - x.bars[0].n
	if x.lastBeat.n > 0 {
		beat := timeline.NewRat(int64(x.lastBeat.n), 1)
		if last := g.anchors[len(g.anchors)-1]; (timeline.BarBeat{Bar: g.bar, Beat: beat}).Cmp(last.Place()) > 0 && x.lastBeat.at > last.At {
			g.anchors = append(g.anchors, timeline.Anchor{Bar: g.bar, Beat: beat, At: x.lastBeat.at})
		}
	}
	g.last = x
}

// join counts the beats between the last bar line of the piece before and the first
// of the next, makes bars of them, and gives the number of the bar that begins the
// next piece.
func (g *gridding) join(x *piece, between timeline.Time) int {
	was, is := g.last.bars[len(g.last.bars)-1], x.bars[0]
	beats := g.last.tail + x.head + beatsBetween(0, max(between, 0), g.last.tailBeat)
	n := int64(math.Round(beats))
	if n < 1 { // both bar lines are one
		g.drop(g.bar, 0)
		return g.bar
	}
	per := int64(was.metre.Num)
	full, rest := n/per, n%per
	next := g.bar + int(full)
	if rest > 0 {
		next++
	}
	// What the piece before says beyond the beats that are left is not so any more.
	g.drop(g.bar, n)
	place := func(k int64) timeline.BarBeat {
		if rest > 0 && k >= full*per {
			return timeline.BarBeat{Bar: g.bar + int(full), Beat: timeline.NewRat(k-full*per, 1)}
		}
		return timeline.BarBeat{Bar: g.bar + int(k/per), Beat: timeline.NewRat(k%per, 1)}
	}
	type point struct {
		k  int64
		at timeline.Time
	}
	points := []point{{0, was.at}}
	if k := int64(g.last.lastBeat.n); k > 0 && k < n && g.last.lastBeat.at < is.at {
		points = append(points, point{k, g.last.lastBeat.at})
	}
	if k := n - int64(x.firstBeat.n); x.firstBeat.n > 0 && k > points[len(points)-1].k && x.firstBeat.at > points[len(points)-1].at {
		points = append(points, point{k, x.firstBeat.at})
	}
	points = append(points, point{n, is.at})
	if rest > 0 {
		// The short bar begins on a line between its neighbours, unless a beat stands there.
		k := full * per
		for i := 1; i < len(points); i++ {
			if a, b := points[i-1], points[i]; a.k < k && k < b.k {
				at := a.at + timeline.Time(math.Round(float64(b.at-a.at)*float64(k-a.k)/float64(b.k-a.k)))
				points = append(points[:i], append([]point{{k, at}}, points[i:]...)...)
				break
			}
		}
	}
	g.drop(g.bar, 1)
	for _, q := range points[1 : len(points)-1] {
		a := timeline.Anchor{Bar: place(q.k).Bar, Beat: place(q.k).Beat, At: q.at}
		if rest > 0 && q.k == full*per {
			a.Metre = timeline.Metre{Num: int(rest), Den: was.metre.Den}
		}
		g.anchors = append(g.anchors, a)
	}
	if rest > 0 && full == 0 { // the bar that has begun is the short one
		for i := range g.anchors {
			if a := &g.anchors[i]; a.Bar == g.bar && a.Beat.IsZero() {
				a.Metre = timeline.Metre{Num: int(rest), Den: was.metre.Den}
			}
		}
	}
	return next
}

// drop takes away anchors that lie so many beats or more into a bar, or behind it.
func (g *gridding) drop(bar int, beats int64) {
	for n := len(g.anchors); n > 0; n-- {
		a := g.anchors[n-1]
		if a.Place().Cmp(timeline.BarBeat{Bar: bar, Beat: timeline.NewRat(beats, 1)}) < 0 {
			break
		}
		g.anchors = g.anchors[:n-1]
	}
}

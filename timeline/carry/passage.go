package carry

import (
	"cmp"
	"fmt"
	"slices"

	"emberbeat/timeline"
)

// Passage is a stretch of the old recording that the new one plays without a break,
// at one speed or at one that drifts: runs that touch on both sides.
type Passage struct {
	Old, OldEnd timeline.Time
	New, NewEnd timeline.Time
	First, Last int  // runs of the map
	Exact       bool // all of it sample by sample, at the same speed
	Sure        int  // of the least sure of its runs
	Moved       bool // it stands elsewhere in the order than before
}

// Judgements of how close is close.
const (
	touch    = timeline.Millisecond      // runs with less between them touch
	cutSlack = 30 * timeline.Millisecond // a cut may have been found so far beside where it is
	onGrid   = 15 * timeline.Millisecond // a cue so close to a half beat was meant for it
	sameHit  = 60 * timeline.Millisecond // a sound of the same kind so close to the path is the same one
	sameHeld = 15 * timeline.Millisecond // a cue so close to a sound was meant for it
	sameBeat = 70 * timeline.Millisecond // a beat so close to the path is the one that is meant
	listed   = timeline.Second           // what is new and shorter is not listed
)

// passagesOf gathers runs that touch, in the order of the new recording.
func passagesOf(m *timeline.TimeMap) []Passage {
	var list []Passage
	for i, r := range m.Runs {
		exact := r.Exact && r.NewEnd-r.New == r.OldEnd-r.Old
		if n := len(list); n > 0 {
			p := &list[n-1]
			if p.Exact == exact && apart(p.OldEnd, r.Old) <= touch && apart(p.NewEnd, r.New) <= touch && (!exact || p.NewEnd-p.OldEnd == r.New-r.Old) {
				p.OldEnd, p.NewEnd, p.Last, p.Sure = r.OldEnd, r.NewEnd, i, min(p.Sure, r.Sure)
				continue
			}
		}
		list = append(list, Passage{r.Old, r.OldEnd, r.New, r.NewEnd, i, i, exact, r.Sure, false})
	}
	markMoved(list)
	return list
}

func apart(a, b timeline.Time) timeline.Time { return max(a-b, b-a) }

// markMoved finds the passages that kept their order, those in which the most of the
// old recording is heard going forward, and marks the others as moved. One that begins
// again before where the last had ended goes forward as well, with what it has more.
func markMoved(list []Passage) {
	type best struct {
		long timeline.Time
		from int
	}
	to, end := make([]best, len(list)), -1
	for i := range list {
		to[i] = best{list[i].OldEnd - list[i].Old, -1}
		for k := range i {
			more := list[i].OldEnd - max(list[i].Old, list[k].OldEnd)
			if list[k].Old <= list[i].Old+touch && more > touch && to[k].long+more > to[i].long {
				to[i] = best{to[k].long + more, k}
			}
		}
		if end < 0 || to[i].long > to[end].long {
			end = i
		}
		list[i].Moved = true
	}
	for ; end >= 0; end = to[end].from {
		list[end].Moved = false
	}
}

// WithLocked puts stretches that a user has placed by hand into a map. Where they
// are in the new recording, nothing else is.
func WithLocked(m *timeline.TimeMap, locked []timeline.TimeRun) (*timeline.TimeMap, error) {
	if len(locked) == 0 {
		return m, nil
	}
	all := &timeline.TimeMap{Old: m.Old, New: m.New}
	for _, r := range m.Runs {
		all.Runs = append(all.Runs, besides(r, locked)...)
	}
	for _, r := range locked {
		r.Exact, r.Sure = false, 1000
		all.Runs = append(all.Runs, r)
	}
	slices.SortStableFunc(all.Runs, func(a, b timeline.TimeRun) int { return cmp.Compare(a.New, b.New) })
	if err := all.Check(); err != nil {
		return nil, fmt.Errorf("stretches placed by hand: %w", err)
	}
	return all, nil
}

// besides gives what of a run lies beside others in the new recording, and is not
// placed by them otherwise.
func besides(r timeline.TimeRun, others []timeline.TimeRun) []timeline.TimeRun {
	rest := []timeline.TimeRun{r}
	for _, o := range others {
		var next []timeline.TimeRun
		for _, x := range rest {
			next = append(next, without(x, o.New, o.NewEnd)...)
		}
		rest = rest[:0]
		for _, x := range next { // what the user has placed stands there, and not here as well
			rest = append(rest, without(x, x.Forward(max(o.Old, x.Old)), x.Forward(min(o.OldEnd, x.OldEnd)))...)
		}
	}
	return rest
}

// without takes a stretch of the new recording out of a run.
func without(r timeline.TimeRun, from, to timeline.Time) []timeline.TimeRun {
	from, to = max(from, r.New), min(to, r.NewEnd)
	if from >= to {
		return []timeline.TimeRun{r}
	}
	var list []timeline.TimeRun
	if a := r.Back(from); from > r.New && a > r.Old {
		x := r
		x.NewEnd, x.OldEnd = from, a
		list = append(list, x)
	}
	if b := r.Back(to); to < r.NewEnd && b < r.OldEnd {
		x := r
		x.New, x.Old = to, b
		list = append(list, x)
	}
	return list
}

// spot is where one instant of the old recording is in the new one.
type spot struct {
	at      timeline.Time
	run     int
	passage int
	edge    string // why the place is doubted, at a cut; "" where it is not
}

// passageOf gives the passage that a run belongs to.
func (c *carrier) passageOf(run int) int {
	return slices.IndexFunc(c.passages, func(p Passage) bool { return p.First <= run && run <= p.Last })
}

// spots gives every place of an instant of the old recording, best first: one that
// kept its order before one that moved, and the surer before the other. Before the
// start and after the end of the recordings the neighbouring run goes on.
func (c *carrier) spots(old timeline.Time) []spot {
	var list []spot
	for i, r := range c.m.Runs {
		k := c.passageOf(i)
		p := &c.passages[k]
		begins, ends := p.First == i && p.Old <= cutSlack, p.Last == i && p.OldEnd >= c.m.Old-cutSlack
		s := spot{r.Forward(old), i, k, ""}
		switch {
		case r.Old <= old && old < r.OldEnd:
			if p.Last == i && !ends && old >= p.OldEnd-cutSlack && c.breaks(k) {
				s.edge = "it stands on the cut"
			}
		case old < r.Old && begins, old >= r.OldEnd && ends:
		case old < r.Old && p.First == i && old >= r.Old-cutSlack && !c.holds(old):
			s.edge = "it stands on the cut"
		default:
			continue
		}
		list = append(list, s)
	}
	slices.SortStableFunc(list, func(a, b spot) int {
		p, q := &c.passages[a.passage], &c.passages[b.passage]
		return cmp.Or(cmp.Compare(len(a.edge), len(b.edge)), order(p.Moved, q.Moved), order(!p.Exact, !q.Exact), cmp.Compare(c.m.Runs[b.run].Sure, c.m.Runs[a.run].Sure))
	})
	return list
}

func order(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// breaks reports whether the music goes on otherwise after a passage.
func (c *carrier) breaks(k int) bool {
	return k+1 >= len(c.passages) || apart(c.passages[k+1].Old, c.passages[k].OldEnd) > touch || apart(c.passages[k+1].New, c.passages[k].NewEnd) > touch
}

// holds reports whether a run of the map holds an instant of the old recording.
func (c *carrier) holds(old timeline.Time) bool {
	return slices.ContainsFunc(c.m.Runs, func(r timeline.TimeRun) bool { return r.Old <= old && old < r.OldEnd })
}

// image is what is left of a stretch of the old recording in one passage.
type image struct {
	from, to timeline.Time // in the new recording
	passage  int
	runs     [2]int // first and last
	start    bool   // its own start is in it
	end      bool
}

// images gives what is left of a stretch, in the order of the new recording.
func (c *carrier) images(from, to timeline.Time) []image {
	var list []image
	for i, r := range c.m.Runs {
		k := c.passageOf(i)
		p := &c.passages[k]
		lo, hi := r.Old, r.OldEnd
		if p.First == i && p.Old <= cutSlack {
			lo = min(lo, from) // before the start the run goes on
		}
		if p.Last == i && p.OldEnd >= c.m.Old-cutSlack {
			hi = max(hi, to)
		}
		a, b := max(from, lo), min(to, hi)
		if a >= b {
			continue
		}
		x := image{r.Forward(a), r.Forward(b), k, [2]int{i, i}, a == from || p.First == i && a-from <= cutSlack, b == to || p.Last == i && to-b <= cutSlack}
		if n := len(list); n > 0 && list[n-1].passage == k {
			list[n-1].to, list[n-1].runs[1], list[n-1].end = x.to, i, x.end
			continue
		}
		list = append(list, x)
	}
	return list
}

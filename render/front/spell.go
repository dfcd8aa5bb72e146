package front

import (
	"cmp"
	"slices"

	"emberbeat/timeline"
)

// In a second nothing that one unit shows comes and goes more often than changes
// times (our judgement), and no place of the picture, whatever units it shows, more
// often than flashes (S: WCAG 2.2, 2.3.1: three, of two changes each).
const (
	second  = timeline.Second
	changes = 3
	flashes = 2 * 3
)

// spell is a time in which something is seen at one unit without a break: one hit,
// hits that overlap, or, where they follow so fast that the place would flash, all
// of them as one that stands still, in stripes.
type spell struct {
	unit     int32
	from, to timeline.Time
	striped  bool
	first, n int32 // of Stage.inSpell
	area     float64
}

// spell joins the hits of each unit to spells. What units overlap in the picture is
// a place that both change.
func (st *Stage) spell() {
	var hits []int32
	boxes := make([]box, len(st.units))
	for i := range st.hits {
		h := &st.hits[i]
		h.spell = -1
		if st.units[h.unit].on && h.look != nil {
			hits = append(hits, int32(i))
			boxes[h.unit].hold(h.look)
		}
	}
	st.join(hits, boxes)
	slices.SortStableFunc(st.spells, func(a, b spell) int { return cmp.Compare(a.from, b.from) })
	for i := range st.spells {
		s := &st.spells[i]
		st.latest = max(st.latest, s.to-s.from)
		for _, h := range st.inSpell[s.first : s.first+s.n] {
			st.hits[h].spell = int32(i)
			s.area = max(s.area, st.hits[h].look.area())
		}
	}
}

// box is what of the picture a unit can change, in m; the zero box is nothing.
type box struct {
	x0, x1, z0, z1 float64
	any            bool
}

// beside is how far units of one position stand apart in the picture at most, which
// is a matter of pixels, in m (our judgement, wide of it).
const beside = 0.5

func (b *box) hold(l *look) {
	x0, x1, z0, z1 := l.box()
	b.take(box{x0 - beside, x1 + beside, z0, z1, true})
}

// take makes the box large enough for another one.
func (b *box) take(o box) {
	if !b.any {
		*b = o
		return
	}
	b.x0, b.x1, b.z0, b.z1 = min(b.x0, o.x0), max(b.x1, o.x1), min(b.z0, o.z0), max(b.z1, o.z1)
}

func (b *box) meets(o *box) bool {
	return b.any && o.any && b.x0 <= o.x1 && o.x0 <= b.x1 && b.z0 <= o.z1 && o.z0 <= b.z1
}

// slow is how long an effect falls that goes so gently that its end is no change
// (our judgement).
const slow = 5 * second

// run is a spell that is being made.
type run struct {
	unit     int32
	from, to timeline.Time
	striped  bool
	slow     bool // it comes and goes gently, and makes no place flash
	hits     []int32
	gone     bool // it has been joined to another
}

// join makes the spells of all hits, one after the other.
func (st *Stage) join(hits []int32, boxes []box) {
	slices.SortStableFunc(hits, func(a, b int32) int { return cmp.Compare(st.hits[a].course.Hit, st.hits[b].course.Hit) })
	p := joiner{of: map[int32][]int{}, near: make([][]int32, len(boxes))}
	for i := range boxes {
		for k := range boxes {
			if boxes[i].meets(&boxes[k]) {
				p.near[i] = append(p.near[i], int32(k))
			}
		}
	}
	for _, i := range hits {
		x := &st.hits[i].course
		p.add(run{unit: st.hits[i].unit, from: x.Hit, to: x.Gone(), slow: x.Fall >= slow, hits: []int32{i}})
	}
	for i := range p.runs {
		if r := &p.runs[i]; !r.gone {
			st.addSpell(r.unit, r.from, r.to, r.striped, r.hits)
		}
	}
}

// joiner joins runs.
type joiner struct {
	runs  []run
	of    map[int32][]int // of each unit, by time; none overlap
	near  [][]int32       // units that change what a unit changes, itself among them
	edges []timeline.Time
	todo  []int32
	alone [1]int32
}

// add adds a hit, none of which is before the last: to the run of its unit that is
// still seen, or as a new one; then runs that would flash together are joined.
func (p *joiner) add(r run) {
	is := p.of[r.unit]
	if n := len(is); n > 0 && r.from <= p.runs[is[n-1]].to {
		p.runs[is[n-1]].take(&r)
	} else {
		p.of[r.unit] = append(is, len(p.runs))
		p.runs = append(p.runs, r)
	}
	if !r.slow {
		p.settle(r.from-second, r.unit)
	}
}

// take makes another run a part of this one.
func (r *run) take(o *run) {
	r.from, r.to = min(r.from, o.from), max(r.to, o.to)
	r.striped, r.slow = r.striped || o.striped, r.slow || o.slow
	r.hits = append(r.hits, o.hits...)
}

// settle joins runs as long as any second from a time on holds more changes than may
// be, at any place that a unit changes.
func (p *joiner) settle(since timeline.Time, unit int32) {
	p.todo = append(p.todo[:0], p.near[unit]...)
	for len(p.todo) > 0 {
		place := p.todo[len(p.todo)-1]
		p.alone[0] = place
		units := p.alone[:]
		from, to, ok := p.unquiet(units, since, changes)
		if !ok {
			units = p.near[place]
			from, to, ok = p.unquiet(units, since, flashes)
		}
		if !ok {
			p.todo = p.todo[:len(p.todo)-1]
			continue
		}
		since = min(since, p.join(units, from, to)-second)
	}
}

// unquiet finds a second, from a time on, of a place with more changes than may be;
// changes at one moment are one.
func (p *joiner) unquiet(place []int32, since timeline.Time, most int) (from, to timeline.Time, ok bool) {
	p.edges = p.edges[:0]
	for _, u := range place {
		is := p.of[u]
		for i := len(is) - 1; i >= 0 && p.runs[is[i]].to >= since; i-- {
			r := &p.runs[is[i]]
			if r.slow {
				continue
			}
			if p.edges = append(p.edges, r.to); r.from >= since {
				p.edges = append(p.edges, r.from)
			}
		}
	}
	slices.Sort(p.edges)
	e := slices.Compact(p.edges)
	for i := 0; i+most < len(e); i++ {
		if e[i+most]-e[i] < second {
			return e[i], e[i+most], true
		}
	}
	return 0, 0, false
}

// join makes of all runs that change a place between two times striped ones of one
// length, one a unit; what that changes elsewhere is to be looked at, from the time
// on that it gives.
func (p *joiner) join(place []int32, from, to timeline.Time) (lo timeline.Time) {
	lo, hi := from, to
	var units []int32
	for _, u := range place {
		is := p.of[u]
		for i := len(is) - 1; i >= 0 && p.runs[is[i]].to >= from; i-- {
			if r := &p.runs[is[i]]; !r.slow && (r.from >= from && r.from <= to || r.to <= to) {
				lo, hi = min(lo, r.from), max(hi, r.to)
				if !slices.Contains(units, u) {
					units = append(units, u)
				}
			}
		}
	}
	first := lo
	for _, u := range units {
		first = min(first, p.still(u, lo, hi))
		for _, n := range p.near[u] {
			if !slices.Contains(p.todo, n) {
				p.todo = append(p.todo, n)
			}
		}
	}
	return first
}

// still makes one striped run of all runs of a unit between two times, and gives its
// start.
func (p *joiner) still(unit int32, lo, hi timeline.Time) timeline.Time {
	var one *run
	p.of[unit] = slices.DeleteFunc(p.of[unit], func(i int) bool {
		r := &p.runs[i]
		switch {
		case r.slow || r.to < lo || r.from > hi:
			return false
		case one == nil:
			one = r
			return false
		}
		one.take(r)
		r.gone = true
		return true
	})
	one.from, one.to, one.striped = min(one.from, lo), max(one.to, hi), true
	return one.from
}

func (st *Stage) addSpell(u int32, from, to timeline.Time, striped bool, hits []int32) {
	st.spells = append(st.spells, spell{unit: u, from: from, to: to, striped: striped, first: int32(len(st.inSpell)), n: int32(len(hits))})
	st.inSpell = append(st.inSpell, hits...)
}

// crowd finds the spells that are drawn as the lines of their reach, because more
// than a part of the picture would change within a third of a second: their area in
// m² counts as they come and as they go.
func (st *Stage) crowd(out []bool, picture float64) []bool {
	out = append(out[:0], make([]bool, len(st.spells))...)
	type edge struct {
		at    timeline.Time
		spell int32
	}
	edges := make([]edge, 0, 2*len(st.spells))
	for i := range st.spells {
		edges = append(edges, edge{st.spells[i].from, int32(i)}, edge{st.spells[i].to, int32(i)})
	}
	slices.SortFunc(edges, func(a, b edge) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.spell, b.spell)) })
	sum, first, marked := 0.0, 0, 0
	for i := range edges {
		sum += st.spells[edges[i].spell].area
		for edges[i].at-edges[first].at > second/changes {
			sum -= st.spells[edges[first].spell].area
			first++
		}
		if sum <= picture*crowded {
			continue
		}
		for k := max(first, marked); k <= i; k++ {
			out[edges[k].spell] = true
		}
		marked = i + 1
	}
	return out
}

// crowded is the part of the picture that may change at once before lines replace
// bodies (our judgement, on the small area of WCAG 2.2, 2.3.1).
const crowded = 0.1

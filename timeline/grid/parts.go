package grid

import (
	"errors"
	"fmt"
	"math/big"
	"slices"

	"emberbeat/timeline"
)

// parts is a beat map taken apart: the times of some of its beats, which are counted from the start of bar 1, and where its metres begin.
// Corrections change one of the two and leave the other.
type parts struct {
	knots []knot
	runs  []run
}

// knot is the time of a beat. Between two of them the tempo is even.
type knot struct {
	count timeline.Rat // beats from the start of bar 1
	at    timeline.Time
}

// run is a stretch of bars of one metre, up to the next run. The first one also holds what comes before it.
type run struct {
	from  timeline.Rat // count at which bar starts
	bar   int
	metre timeline.Metre
}

func whole(n int) timeline.Rat { return timeline.NewRat(int64(n), 1) }

// take takes a map apart, which must not be empty.
func take(m *timeline.BeatMap) *parts {
	anchors := m.Anchors()
	p := &parts{}
	for i, a := range anchors {
		if n := len(p.runs); i > 0 && (a.Metre.IsZero() || a.Metre == p.runs[n-1].metre) {
			continue
		}
		r := run{bar: a.Bar, metre: a.Metre}
		if i > 0 {
			r.from = p.count(a.Place())
		}
		p.runs = append(p.runs, r)
	}
	one := p.count(timeline.BarBeat{Bar: 1})
	for i := range p.runs {
		p.runs[i].from = p.runs[i].from.Sub(one)
	}
	for _, a := range anchors {
		p.knots = append(p.knots, knot{p.count(a.Place()), a.At})
	}
	last := len(anchors) - 1
	if n := len(p.runs); n > 1 && p.runs[n-1].metre.Den != p.runs[n-2].metre.Den && p.knots[last].count == p.runs[n-1].from {
		next := timeline.BarBeat{Bar: anchors[last].Bar + 1} // the last stretch keeps note values, not beats: it needs an end of its own
		p.knots = append(p.knots, knot{p.count(next), m.At(next)})
	}
	return p
}

// runOf gives the run of a bar.
func (p *parts) runOf(bar int) int {
	i := len(p.runs) - 1
	for i > 0 && p.runs[i].bar > bar {
		i--
	}
	return i
}

// count gives the beats from the start of bar 1 to a place.
func (p *parts) count(b timeline.BarBeat) timeline.Rat {
	r := &p.runs[p.runOf(b.Bar)]
	return r.from.Add(whole((b.Bar - r.bar) * r.metre.Num)).Add(b.Beat)
}

// place gives the place that a count is called by.
func (p *parts) place(count timeline.Rat) timeline.BarBeat {
	i := len(p.runs) - 1
	for i > 0 && p.runs[i].from.Cmp(count) > 0 {
		i--
	}
	r := &p.runs[i]
	in := count.Sub(r.from)
	bars := in.Mul(timeline.NewRat(1, int64(r.metre.Num))).Floor()
	return timeline.BarBeat{Bar: r.bar + int(bars), Beat: in.Sub(whole(int(bars) * r.metre.Num))}
}

// errUneven says that bars do not come out whole before a change of metre.
func errUneven(bar int) error {
	return fmt.Errorf("the metre changes at bar %d, and the bars before it would not come out whole: take that change away first, or split the tempo there", bar)
}

// renumber gives runs the numbers of their bars anew, with the bar at count 0 as bar 1.
func (p *parts) renumber() error {
	i := 0 // the run that holds count 0
	for i+1 < len(p.runs) && p.runs[i+1].from.Num() <= 0 {
		i++
	}
	bars := func(r run, to timeline.Rat, named int) (int, error) {
		n := to.Sub(r.from).Mul(timeline.NewRat(1, int64(r.metre.Num)))
		if n.Den() != 1 {
			return 0, errUneven(named)
		}
		return int(n.Num()), nil
	}
	if i == 0 {
		p.runs[0].from, p.runs[0].bar = timeline.Rat{}, 1
	} else {
		n, err := bars(p.runs[i], timeline.Rat{}, p.runs[i].bar)
		if err != nil {
			return err
		}
		p.runs[i].bar = 1 - n
		for k := i - 1; k >= 0; k-- {
			if k == 0 {
				p.runs[0].from, p.runs[0].bar = p.runs[1].from, p.runs[1].bar
				break
			}
			n, err := bars(p.runs[k], p.runs[k+1].from, p.runs[k+1].bar)
			if err != nil {
				return err
			}
			p.runs[k].bar = p.runs[k+1].bar - n
		}
	}
	for k := i + 1; k < len(p.runs); k++ {
		n, err := bars(p.runs[k-1], p.runs[k].from, p.runs[k].bar)
		if err != nil {
			return err
		}
		p.runs[k].bar = p.runs[k-1].bar + n
	}
	return nil
}

// at gives the time of a count, to the nearest unit, halves away from zero.
func (p *parts) at(count timeline.Rat) timeline.Time {
	i := slices.IndexFunc(p.knots[1:], func(k knot) bool { return k.count.Cmp(count) > 0 })
	if i < 0 {
		i = len(p.knots) - 2
	}
	a, b := p.knots[i], p.knots[i+1]
	x := rat(count.Sub(a.count))
	x.Mul(x, new(big.Rat).SetInt64(int64(b.at-a.at))).Quo(x, rat(b.count.Sub(a.count)))
	return a.at + round(x)
}

func rat(r timeline.Rat) *big.Rat { return big.NewRat(r.Num(), r.Den()) }

// round gives the nearest whole number, halves away from zero.
func round(x *big.Rat) timeline.Time {
	n, d := new(big.Int).Abs(x.Num()), x.Denom()
	n.Add(n.Lsh(n, 1), d).Quo(n, new(big.Int).Lsh(d, 1))
	if x.Sign() < 0 {
		n.Neg(n)
	}
	if !n.IsInt64() {
		return 0 // far out of the range of times, which the map then refuses
	}
	return timeline.Time(n.Int64())
}

// add puts a knot at a count, at the time that is there now, and gives its place in the list.
func (p *parts) add(count timeline.Rat) int {
	i, found := slices.BinarySearchFunc(p.knots, count, func(k knot, c timeline.Rat) int { return k.count.Cmp(c) })
	if !found {
		p.knots = slices.Insert(p.knots, i, knot{count, p.at(count)})
	}
	return i
}

// later moves the knots from the i-th on.
func (p *parts) later(i int, by timeline.Time) {
	for k := i; k < len(p.knots); k++ {
		p.knots[k].at += by
	}
}

// build puts the map together again.
func (p *parts) build() (*timeline.BeatMap, error) {
	if len(p.knots) < 2 {
		return nil, errors.New("a beat map needs the times of two beats at least")
	}
	if err := p.renumber(); err != nil {
		return nil, err
	}
	for _, r := range p.runs[1:] {
		p.add(r.from)
	}
	var anchors []timeline.Anchor
	metre := timeline.Metre{}
	for _, k := range p.knots {
		b := p.place(k.count)
		a := timeline.Anchor{Bar: b.Bar, Beat: b.Beat, At: k.at}
		if m := p.runs[p.runOf(b.Bar)].metre; m != metre {
			a.Metre, metre = m, m
		}
		anchors = append(anchors, a)
	}
	return timeline.NewBeatMap(anchors)
}

package anew

import (
	"math"
	"sort"
)

// knot is a place where a time of the new recording and one of the old meet, in seconds.
type knot struct{ new, old float64 }

// line is a stretch of the song played anew, as knots in order; between two of
// them time runs evenly.
type line []knot

func (l line) first() knot { return l[0] }
func (l line) last() knot  { return l[len(l)-1] }

// at gives the old time of a new one; beyond its ends the line goes on straight.
func (l line) at(new float64) float64 {
	i := sort.Search(len(l)-1, func(i int) bool { return l[i].new >= new })
	i = max(1, i)
	p, q := l[i-1], l[i]
	return p.old + (new-p.new)/(q.new-p.new)*(q.old-p.old)
}

const (
	knotStep   = 0.5 // s between the places where a line may bend
	baseReach  = 5   // frames of harmony over which a line is smoothed on either side
	bendMost   = 3   // steps by which the offset may change from knot to knot
	slopeReach = 2.0 // s at an end of a line that say how it goes on
)

// base makes a smooth line of a strand.
func (s *strand) base(rs rates) line {
	raw := make([]float64, len(s.old))
	for i := range raw {
		n := float64(s.from + i)
		x := n * rs[s.rate[i]]
		raw[i] = float64(s.old[i]) - math.Floor(x) + x
	}
	out := make(line, len(raw))
	for i := range raw {
		h := min(baseReach, i, len(raw)-1-i)
		sum := 0.0
		for _, v := range raw[i-h : i+h+1] {
			sum += v
		}
		out[i] = knot{float64(s.from+i) / wideRate, sum / float64(2*h+1) / wideRate}
	}
	return out
}

// search says how a line is moved by what begins in both recordings at once.
type search struct {
	share       *[onsetDims]float32
	reach, step float64 // s of offset on either side, and how fine
	stiff       float64 // what a bend costs, by its square in steps
}

// The line is first found within a beat, then to some milliseconds.
var searches = []search{{&riseShare, 0.3, 0.01, 1}, {&attackShare, 0.06, 0.005, 2}}

// refined moves a line to where most begins in both recordings at once.
func (l line) refined(old, new rises) line {
	for _, s := range searches {
		l = s.refine(old, new, l)
	}
	return l.smoothed()
}

// refine finds the best line of offsets from l, knot by knot.
func (s *search) refine(old, new rises, l line) line {
	from, to := l.first().new, l.last().new
	knots := max(2, int(math.Round((to-from)/knotStep))+1)
	step := (to - from) / float64(knots-1)
	mid := int(math.Round(s.reach / s.step))
	width := 2*mid + 1
	first := int(math.Ceil(from * fineRate))
	e := s.meetings(old, new, l, first, int(to*fineRate)-first+1, mid)
	value, next := make([]float64, width), make([]float64, width)
	back := make([][]int8, knots)
	for k := 1; k < knots; k++ {
		i0 := max(0, int(math.Ceil((from+float64(k-1)*step)*fineRate))-first)
		i1 := min(len(e), int(math.Ceil((from+float64(k)*step)*fineRate))-first)
		back[k] = make([]int8, width)
		for d := range width {
			best, how := math.Inf(-1), 0
			for m := -bendMost; m <= bendMost; m++ {
				p := d - m
				if p < 0 || p >= width {
					continue
				}
				if v := value[p] + float64(between(e[i0:max(i0, i1)], p, m)) - s.stiff*float64(m*m); v > best {
					best, how = v, m
				}
			}
			next[d], back[k][d] = best, int8(how)
		}
		value, next = next, value
	}
	d := 0
	for i, v := range value {
		if v > value[d] {
			d = i
		}
	}
	out := make(line, knots)
	for k := knots - 1; k >= 0; k-- {
		at := from + float64(k)*step
		out[k] = knot{at, l.at(at) + float64(d-mid)*s.step}
		if k > 0 {
			d -= int(back[k][d])
		}
	}
	return out
}

// meetings measures, for so many frames of the new recording, how much begins in
// both at each offset from the line.
func (s *search) meetings(old, new rises, l line, first, frames, mid int) [][]float32 {
	e := make([][]float32, max(0, min(frames, len(new)-first)))
	all := make([]float32, len(e)*(2*mid+1))
	for i := range e {
		e[i], all = all[:2*mid+1], all[2*mid+1:]
		n := first + i
		v := new[n]
		for c := range v {
			v[c] *= s.share[c] / riseShare[c]
		}
		at := l.at(float64(n)/fineRate) * fineRate
		for d := range e[i] {
			if o, ok := old.at(at + float64(d-mid)*s.step*fineRate); ok {
				e[i][d] = dot(&v, &o)
			}
		}
	}
	return e
}

// between sums along a line from offset p that bends by m steps.
func between(e [][]float32, p, m int) float32 {
	sum := float32(0)
	for i, r := range e {
		x := float32(p) + float32(m)*float32(i)/float32(len(e))
		j := int(x)
		v := r[j]
		if f := x - float32(j); f > 0 {
			v += f * (r[j+1] - v)
		}
		sum += v
	}
	return sum
}

// smoothed takes the steps of the search out: each knot is moved to the parabola
// through its neighbours (Savitzky & Golay 1964, seven points), which keeps what
// speeds up evenly as it is.
func (l line) smoothed() line {
	weights := [7]float64{-2, 3, 6, 7, 6, 3, -2}
	out := append(line(nil), l...)
	for i := 3; i+3 < len(l); i++ {
		sum := 0.0
		for j, w := range weights {
			sum += w / 21 * l[i-3+j].old
		}
		out[i].old = sum
	}
	return out
}

// slope is the old seconds in one new second at an end of the line.
func (l line) slope(end bool) float64 {
	a, b := l.first(), l.last()
	if end {
		a = knot{max(a.new, b.new-slopeReach), 0}
		a.old = l.at(a.new)
	} else {
		b = knot{min(b.new, a.new+slopeReach), 0}
		b.old = l.at(b.new)
	}
	return (b.old - a.old) / (b.new - a.new)
}

// longer lets a line go on by so many seconds on either side, inside of both recordings.
func (l line) longer(by, oldEnd, newEnd float64) line {
	p, q := l.first(), l.last()
	a, b := l.slope(false), l.slope(true)
	before := min(by, p.new, p.old/a)
	after := min(by, newEnd-q.new, (oldEnd-q.old)/b)
	var out line
	if before > 1e-6 {
		out = append(out, knot{p.new - before, p.old - before*a})
	}
	out = append(out, l...)
	if after > 1e-6 {
		out = append(out, knot{q.new + after, q.old + after*b})
	}
	return out
}

// part is the stretch of a line between two new times.
func (l line) part(from, to float64) line {
	from, to = max(from, l.first().new), min(to, l.last().new)
	if from >= to {
		return nil
	}
	out := line{{from, l.at(from)}}
	for _, k := range l {
		if k.new > from+1e-6 && k.new < to-1e-6 {
			out = append(out, k)
		}
	}
	return append(out, knot{to, l.at(to)})
}

// inside cuts off what lies outside of the recordings.
func (l line) inside(oldEnd, newEnd float64) line {
	from, to := 0.0, newEnd
	for i := 1; i < len(l); i++ {
		p, q := l[i-1], l[i]
		cross := func(old float64) float64 { return p.new + (old-p.old)/(q.old-p.old)*(q.new-p.new) }
		if p.old < 0 && q.old >= 0 {
			from = max(from, cross(0))
		}
		if p.old <= oldEnd && q.old > oldEnd {
			to = min(to, cross(oldEnd))
		}
	}
	return l.part(from, to)
}

// plain leaves out the knots that a straight line misses by no more than off seconds.
func (l line) plain(off float64) line {
	if len(l) < 3 {
		return l
	}
	p, q := l.first(), l.last()
	far, at := 0.0, 0
	for i, k := range l[1 : len(l)-1] {
		if d := math.Abs(p.old + (k.new-p.new)/(q.new-p.new)*(q.old-p.old) - k.old); d > far {
			far, at = d, i+1
		}
	}
	if far <= off {
		return line{p, q}
	}
	left := l[: at+1 : at+1].plain(off)
	return append(left[:len(left)-1:len(left)-1], l[at:].plain(off)...)
}

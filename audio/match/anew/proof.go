package anew

import "math"

// proof is how alike two recordings are around a knot.
type proof struct {
	class, band float64 // how well what begins in both agrees: 1 entirely, 0 as by chance
	harmony     float64 // mean likeness of what sounds
}

// proofReach is how far around a knot its proof looks, in seconds.
const proofReach = 4.0

// evidence sums what speaks for a stretch of a line.
type evidence struct{ cc, co, cn, bb, bo, bn, h, n float64 }

func (e *evidence) add(o *evidence) {
	e.cc, e.co, e.cn = e.cc+o.cc, e.co+o.co, e.cn+o.cn
	e.bb, e.bo, e.bn = e.bb+o.bb, e.bo+o.bo, e.bn+o.bn
	e.h, e.n = e.h+o.h, e.n+o.n
}

func (e *evidence) proof() proof {
	if e.n == 0 {
		return proof{}
	}
	return proof{e.cc / math.Sqrt(e.co*e.cn+1e-9), e.bb / math.Sqrt(e.bo*e.bn+1e-9), e.h / e.n}
}

// evidence gathers what speaks for a line between two new times.
func (l line) evidence(old, new rises, like *likeness, from, to float64) evidence {
	var s evidence
	for n := int(math.Ceil(from * fineRate)); n < len(new) && float64(n) < to*fineRate; n++ {
		at := float64(n) / fineRate
		x := l.at(at)
		o, ok := old.at(x * fineRate)
		if !ok {
			continue
		}
		for d, v := range o {
			v, w := float64(v), float64(new[n][d])
			if d < classes {
				s.cc, s.co, s.cn = s.cc+w*v, s.co+v*v, s.cn+w*w
			} else {
				s.bb, s.bo, s.bn = s.bb+w*v, s.bo+v*v, s.bn+w*w
			}
		}
		s.h += float64(like.row(min(like.rows-1, int(at*wideRate+0.5)))[min(like.cols-1, int(x*wideRate+0.5))])
		s.n++
	}
	return s
}

// proofs measures what speaks for each knot of a line.
func (l line) proofs(old, new rises, like *likeness) []proof {
	part := make([]evidence, len(l)) // of the stretch before each knot
	for i := 1; i < len(l); i++ {
		part[i] = l[i-1:i+1].evidence(old, new, like, l[i-1].new, l[i].new)
	}
	out := make([]proof, len(l))
	a, b := 0, 0
	for i := range l {
		for b < len(l) && l[b].new <= l[i].new+proofReach {
			b++
		}
		for l[a].new < l[i].new-proofReach {
			a++
		}
		var s evidence
		for j := a + 1; j < b; j++ {
			s.add(&part[j])
		}
		out[i] = s.proof()
	}
	return out
}

// What a line must weigh. Of 500 lines in 160 pairs of different songs, each fitted by
// key and speed as well as it goes, the heaviest weighed 30; in pairs of the same song
// every line of 10 s and more weighed 65 or more but one, of 30.
const (
	songWeight = 45 // to prove that it is the same song
	lineWeight = 24 // to be believed where that is proved
)

// What a place needs to be held, and to be held without a look, as the share of agreement
// around it. Where the line as a whole is proved, a place in it that is wrong is one
// that is not in the other recording at all.
const (
	held      = 0.30
	known     = 0.45
	plainly   = 0.75
	mostBonus = 0.20 // for the weight of the line
	twinSure  = 0.75 // of a line that could as well be elsewhere
)

// agreement is how well what begins agrees, in all.
func (p proof) agreement() float64 { return max(0, 0.6*p.class+0.4*p.band) }

// prove gives each knot its confidence.
func (t *traced) prove(pr *pair) {
	bonus := max(0, min(mostBonus, 0.05*math.Log2(t.weight/songWeight)))
	t.sure = nil
	for _, p := range t.proofs(pr.wideA, pr.wideB, pr.like) {
		v := p.agreement() + bonus
		s := 0.0
		switch {
		case v >= known:
			s = 0.8 + 0.2*min(1, (v-known)/(plainly-known))
		case v >= held:
			s = 0.5 + 0.3*(v-held)/(known-held)
		}
		if t.twin {
			s = min(s, twinSure)
		}
		t.sure = append(t.sure, s)
	}
}

// meetings gives, frame by frame between two new times, how much begins in both.
func (l line) meetings(old, new rises, from, to int) []float64 {
	out := make([]float64, max(0, to-from))
	for i := range out {
		n := from + i
		if n < 0 || n >= len(new) {
			continue
		}
		if o, ok := old.at(l.at(float64(n)/fineRate) * fineRate); ok {
			out[i] = float64(dot(&o, &new[n]))
		}
	}
	return out
}

const (
	seamPull  = 0.01 // of the mean agreement that a seam must gain for each moment it is moved
	edgeShare = 0.3  // of the mean agreement of a line that its ends must still have
)

// seam finds the new time at which a line gives way to the next, where both could
// be, from what begins. Where that leaves a choice it is near the given time.
func seam(old, new rises, a, b line, near float64) float64 {
	lo, hi := max(b.first().new, a.first().new), min(a.last().new, b.last().new)
	if lo >= hi {
		return (a.last().new + b.first().new) / 2
	}
	from, to := int(lo*fineRate), int(hi*fineRate)
	ea, eb := a.meetings(old, new, from, to), b.meetings(old, new, from, to)
	mean := 0.0
	for i := range ea {
		mean += seamPull * max(0, ea[i]+eb[i]) / 2 / float64(len(ea))
	}
	sum, best, where := 0.0, math.Inf(-1), near
	for i := range ea {
		at := float64(from+i) / fineRate
		if v := sum - mean*fineRate*math.Abs(at-near); v > best {
			best, where = v, at
		}
		sum += ea[i] - eb[i]
	}
	return where
}

// edges finds the new times between which a line holds: what was added on either
// side falls off again where too little begins in both.
func (l line) edges(old, new rises, core line) (from, to float64) {
	a, b := int(l.first().new*fineRate), int(l.last().new*fineRate)
	e := l.meetings(old, new, a, b)
	mean, n := 0.0, 0
	for i, v := range e {
		if t := float64(a+i) / fineRate; t >= core.first().new && t < core.last().new {
			mean, n = mean+v, n+1
		}
	}
	mean *= edgeShare / float64(max(1, n))
	from, to = l.first().new, l.last().new
	sum, best := 0.0, 0.0
	half := len(e) / 2
	for i := half; i >= 0 && i < len(e); i-- {
		if sum += e[i] - mean; sum > best {
			best, from = sum, float64(a+i)/fineRate
		}
	}
	sum, best = 0, 0
	for i := half; i < len(e); i++ {
		if sum += e[i] - mean; sum > best {
			best, to = sum, float64(a+i+1)/fineRate
		}
	}
	return from, min(to, l.last().new)
}

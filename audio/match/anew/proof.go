package anew

import "math"

// proof is how alike two recordings are around a knot.
type proof struct {
	class, band float64 // how well what begins in both agrees: 1 entirely, 0 as by chance
	harmony     float64 // how what sounds stands among all places, in the mean; see likeness.near
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
		s.h += like.near(at, x)
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
	doubtful  = 0.75 // of a line that could as well be elsewhere

	// Drums alone may go on through a part that the other recording does not have. Of
	// 6,800 places that are right the least stands at -.32, of lines let go on beyond
	// their part nearly all are under -.6.
	noHarmony    = -0.5
	faintHarmony = -0.35
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
		if p.harmony < faintHarmony {
			s = min(s, doubtful)
		}
		if p.harmony < noHarmony {
			s = 0
		}
		if t.twin {
			s = min(s, doubtful)
		}
		t.sure = append(t.sure, s)
	}
}

// speaks gives, for each moment between two new times, how much speaks for a line: what
// begins in both, in parts of usual, and what sounds, as much.
func (p *pair) speaks(l line, from, to int, usual float64) []float64 {
	out := make([]float64, max(0, to-from))
	for i := range out {
		n := from + i
		if n < 0 || n >= len(p.b) {
			continue
		}
		x := l.at(float64(n) / fineRate)
		if o, ok := p.a.at(x * fineRate); ok {
			out[i] = float64(dot(&o, &p.b[n]))/usual + harmonyShare*p.like.near(float64(n)/fineRate, x)
		}
	}
	return out
}

// usual is how much begins in both recordings at a moment along a line, in the mean.
func (p *pair) usual(l line) float64 {
	sum, n := 1e-9, 1e-9
	for i := int(l.first().new * fineRate); i < min(len(p.b), int(l.last().new*fineRate)); i++ {
		if o, ok := p.a.at(l.at(float64(i)/fineRate) * fineRate); ok {
			sum, n = sum+float64(dot(&o, &p.b[i])), n+1
		}
	}
	return max(sum/n, 1e-6)
}

const (
	harmonyShare = 0.5
	seamPull     = 0.01 // of what usually speaks for a line that a seam must gain for each moment it is moved
	edgeShare    = 0.3  // of what usually speaks for a line that its ends must still have
)

// seam finds the new time at which a line gives way to the next, where both could
// be. Where that leaves a choice it is near the given time.
func (p *pair) seam(a, b line, usualA, usualB, near float64) float64 {
	lo, hi := max(b.first().new, a.first().new), min(a.last().new, b.last().new)
	if lo >= hi {
		return (a.last().new + b.first().new) / 2
	}
	from, to := int(lo*fineRate), int(hi*fineRate)
	ea, eb := p.speaks(a, from, to, (usualA+usualB)/2), p.speaks(b, from, to, (usualA+usualB)/2)
	sum, best, where := 0.0, math.Inf(-1), near
	for i := range ea {
		at := float64(from+i) / fineRate
		if v := sum - seamPull*fineRate*math.Abs(at-near); v > best {
			best, where = v, at
		}
		sum += ea[i] - eb[i]
	}
	return where
}

// edges finds the new times between which a line holds: what was added on either
// side falls off again where too little speaks for it.
func (p *pair) edges(l line, usual float64) (from, to float64) {
	a, b := int(l.first().new*fineRate), int(l.last().new*fineRate)
	e := p.speaks(l, a, b, usual)
	from, to = l.first().new, l.last().new
	sum, best := 0.0, 0.0
	half := len(e) / 2
	for i := half; i >= 0 && i < len(e); i-- {
		if sum += e[i] - edgeShare; sum > best {
			best, from = sum, float64(a+i)/fineRate
		}
	}
	sum, best = 0, 0
	for i := half; i < len(e); i++ {
		if sum += e[i] - edgeShare; sum > best {
			best, to = sum, float64(a+i+1)/fineRate
		}
	}
	return from, min(to, l.last().new)
}

package anew

import "slices"

// grown lets a line go on at one end for as long as what begins agrees.
func (p *pair) grown(l line, end bool) line {
	for range mostGrowth {
		n := len(l)
		longer := l.longer(growBy, p.old.seconds, p.new.seconds)
		var tip line
		if end {
			tip = longer[max(0, n-growLean):]
			if longer.last().new-l.last().new < growLeast {
				return l
			}
			tip = tip.refined(p.a, p.b)
			if !p.goesOn(tip, l.last().new, tip.last().new) {
				return l
			}
			l = append(l.part(l.first().new, tip.first().new), tip[1:]...)
		} else {
			if l.first().new-longer.first().new < growLeast {
				return l
			}
			tip = longer[:min(len(longer), growLean+1)].refined(p.a, p.b)
			if !p.goesOn(tip, tip.first().new, l.first().new) {
				return l
			}
			l = append(tip[:len(tip)-1:len(tip)-1], l.part(tip.last().new, l.last().new)...)
		}
	}
	return l
}

// goesOn says whether a line is still in both recordings between two new times.
func (p *pair) goesOn(l line, from, to float64) bool {
	e := l.evidence(p.wideA, p.wideB, p.like, from, to)
	v := e.proof()
	return v.agreement() >= growAgree && v.harmony >= growHarmony
}

const (
	growBy      = 4.0 // s at a time
	growLeast   = 0.5
	growLean    = 10 // knots of the line that say how it goes on
	growAgree   = 0.45
	growHarmony = -0.3
	mostGrowth  = 6
)

// join settles where each line begins and ends: at the seam with its neighbour, or
// where nothing more begins in both recordings.
func (p *pair) join(ts []traced) []traced {
	core := make([]line, len(ts))
	long := make([]line, len(ts))
	usual := make([]float64, len(ts))
	for i, t := range ts {
		core[i] = p.grown(p.grown(t.line, false), true).straightened()
		usual[i] = p.usual(t.line)
		long[i] = core[i].longer(edgeReach, p.old.seconds, p.new.seconds)
	}
	at := 0.0 // what is taken of the new recording by now
	for i := range ts {
		from, to := p.edges(long[i], usual[i])
		first, last := long[i].first(), long[i].last()
		if first.old < 1e-3 && core[i].first().old < fileEnd || first.new < 1e-3 && core[i].first().new < fileEnd {
			from = first.new
		}
		if q := core[i].last(); last.old > p.old.seconds-1e-3 && q.old > p.old.seconds-fileEnd || last.new > p.new.seconds-1e-3 && q.new > p.new.seconds-fileEnd {
			to = last.new
		}
		from = max(from, at)
		if i > 0 && core[i].first().new-core[i-1].last().new < neighbours {
			from = at
		}
		if i+1 < len(ts) && core[i+1].first().new-core[i].last().new < neighbours {
			to = p.seam(long[i], long[i+1], usual[i], usual[i+1], (ts[i].last().new+ts[i+1].first().new)/2)
		}
		if to-from < leastLeft {
			ts[i].line = nil
			continue
		}
		ts[i].line = long[i].part(from, to).inside(p.old.seconds, p.new.seconds)
		at = to
	}
	return slices.DeleteFunc(ts, func(t traced) bool { return t.line == nil })
}

package ear

import (
	"math"
	"slices"
)

// part is a stretch of the song with one way of keeping time. A steady part is
// an exact grid: pulse k at offset + k·period. A free part is a list of pulses
// as they were tracked.
type part struct {
	from, to       float64
	steady         bool
	offset, period float64
	pulses         []float64 // of a free part
	hold           float64   // share of onset weight that lies on the grid
}

const (
	gridNear    = 0.018 // s; an attack this near a grid place lies on it
	extendStep  = 6.0   // s by which a grid is prolonged at a time
	holdLeast   = 0.40  // share of onsets on the grid, above chance, for it to be prolonged
	leastSteady = 8.0   // s; shorter stretches are not called steady
	leastPulses = 12
)

// findParts turns tracked pulses into parts. The best fitting line is prolonged
// both ways as long as the attacks lie on it; the rest is treated in the same
// way until only stretches without a grid remain.
func findParts(pulses []float64, ons []onset, duration float64) []part {
	lines := segmentLines(pulses)
	taken := make([]bool, len(lines))
	var parts []part
	for {
		best := -1
		for i, l := range lines {
			if !taken[i] && l.b-l.a >= leastPulses && (best < 0 || l.worth() > lines[best].worth()) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		taken[best] = true
		l := lines[best]
		lo, hi := 0.0, duration
		mid := (pulses[l.a] + pulses[l.b-1]) / 2
		for _, p := range parts {
			if p.from >= mid {
				hi = min(hi, p.from)
			}
			if p.to <= mid {
				lo = max(lo, p.to)
			}
		}
		if covered(parts, mid) {
			continue
		}
		p, ok := growGrid(l, pulses, ons, lo, hi)
		if !ok {
			continue
		}
		parts = append(parts, p)
	}
	all := fillFree(absorb(parts, ons, duration), pulses, duration)
	meet(all, ons)
	return all
}

func covered(parts []part, t float64) bool {
	for _, p := range parts {
		if t >= p.from && t < p.to {
			return true
		}
	}
	return false
}

// worth ranks lines: long and tight first.
func (l line) worth() float64 {
	return float64(l.b-l.a) * l.period / (0.004 + l.resid)
}

// growGrid fits the exact grid to the attacks near a line and prolongs it.
func growGrid(l line, pulses []float64, ons []onset, lo, hi float64) (part, bool) {
	p := part{steady: true, offset: l.offset, period: l.period, from: max(lo, pulses[l.a]), to: min(hi, pulses[l.b-1])}
	if p.to-p.from < leastSteady {
		return p, false
	}
	p.fit(ons, 0.030)
	p.fit(ons, 0.030)
	p.hold = p.share(ons, p.from, p.to)
	if p.hold < holdLeast {
		return p, false
	}
	p.prolong(ons, lo, hi)
	p.fit(ons, 0.025)
	return p, p.to-p.from >= leastSteady
}

// prolong moves the ends outward step by step; stretches with too few onsets
// to tell are skipped over if the grid is met again behind them.
func (p *part) prolong(ons []onset, lo, hi float64) {
	for p.to < hi {
		reach, ok := 0.0, false
		for reach = extendStep; p.to+reach-extendStep < hi && reach <= 5*extendStep; reach += extendStep {
			if s := p.share(ons, p.to+reach-extendStep, p.to+reach); s >= holdLeast && p.even(ons, p.to+reach-extendStep, p.to+reach) {
				ok = true
				break
			} else if s >= 0 && reach > extendStep {
				break
			}
		}
		if !ok {
			break
		}
		p.to = min(hi, p.to+reach)
		p.fit(ons, 0.025)
	}
	if hi-p.to < extendStep || p.silent(ons, p.to, hi) {
		p.to = hi
	}
	for p.from > lo {
		reach, ok := 0.0, false
		for reach = extendStep; p.from-reach+extendStep > lo && reach <= 5*extendStep; reach += extendStep {
			if s := p.share(ons, p.from-reach, p.from-reach+extendStep); s >= holdLeast && p.even(ons, p.from-reach, p.from-reach+extendStep) {
				ok = true
				break
			} else if s >= 0 && reach > extendStep {
				break
			}
		}
		if !ok {
			break
		}
		p.from = max(lo, p.from-reach)
		p.fit(ons, 0.025)
	}
	if p.from-lo < extendStep || p.silent(ons, lo, p.from) {
		p.from = lo
	}
}

func (p *part) silent(ons []onset, from, to float64) bool { return p.share(ons, from, to) < 0 }

// onsetsIn gives the onsets in [from, to).
func onsetsIn(ons []onset, from, to float64) []onset {
	at := func(t float64) int {
		i, _ := slices.BinarySearchFunc(ons, t, func(o onset, t float64) int {
			if o.at < t {
				return -1
			}
			return 1
		})
		return i
	}
	return ons[at(from):at(max(from, to))]
}

// share is the part of the onset weight in [from, to) that lies on the grid or
// on halves, thirds or quarters of it, set against what chance would give:
// 1 all of it, 0 no more than chance; negative where too few onsets tell.
func (p *part) share(ons []onset, from, to float64) float64 {
	in := onsetsIn(ons, from, to)
	best := 0.0
	for _, div := range []float64{1, 2, 3, 4, 6} {
		step := p.period / div
		chance := min(0.9, 2*gridNear/step)
		on, all := 0.0, 0.0
		for _, o := range in {
			w := o.weight()
			all += w
			k := math.Round((o.at - p.offset) / step)
			if math.Abs(o.at-p.offset-k*step) < gridNear {
				on += w
			}
		}
		if len(in) < 4 || all <= 0 {
			return -1
		}
		best = max(best, (on/all-chance)/(1-chance))
	}
	return best
}

func (o onset) weight() float64 { return math.Pow(o.rise, 1.75) }

// pull is what an onset counts where a line is laid through many: one blow, such
// as the first of the song, must not draw it to itself.
func (o onset) pull() float64 { return min(o.rise, 1) }

// fit sets offset and period by least squares over the attacks within near of
// the pulses, with Tukey weights so that what is played late or early counts less.
func (p *part) fit(ons []onset, near float64) {
	for range 3 {
		var n, sx, sy, sxx, sxy float64
		base := math.Round(((p.from+p.to)/2 - p.offset) / p.period)
		for _, o := range onsetsIn(ons, p.from, p.to) {
			for _, half := range []float64{1, 2} {
				step := p.period / half
				k := math.Round((o.at - p.offset) / step)
				r := o.at - p.offset - k*step
				if math.Abs(r) >= near || !o.attack {
					continue
				}
				u := 1 - (r/near)*(r/near)
				w := o.pull() * u * u / half
				x := k/half - base
				n, sx, sy, sxx, sxy = n+w, sx+w*x, sy+w*o.at, sxx+w*x*x, sxy+w*x*o.at
				break
			}
		}
		den := n*sxx - sx*sx
		if n <= 0 || den <= 1e-9*sxx*n {
			return
		}
		slope := (n*sxy - sx*sy) / den
		if math.Abs(slope/p.period-1) > 0.02 {
			return
		}
		p.offset = (sy-slope*sx)/n - slope*base
		p.period = slope
	}
}

// absorb lets the longest grid swallow what is too short to be a part of its
// own and does not speak against it: most songs are made to one click, also
// where a quiet intro or ending does not show it.
func absorb(parts []part, ons []onset, duration float64) []part {
	main := -1
	for i, p := range parts {
		if main < 0 || p.to-p.from > parts[main].to-parts[main].from {
			main = i
		}
	}
	if main < 0 {
		return parts
	}
	p := parts[main]
	var keep []part
	for i, q := range parts {
		if i == main {
			continue
		}
		if q.to-q.from < shortPart && (p.share(ons, q.from, q.to) >= 0.6*q.hold && p.even(ons, q.from, q.to) || p.trails(q)) {
			continue
		} else if p.agrees(q) {
			p.from, p.to = min(p.from, q.from), max(p.to, q.to)
			continue
		}
		keep = append(keep, q)
	}
	lo, hi := 0.0, duration
	for _, q := range keep {
		if q.from >= p.to-0.01 {
			hi = min(hi, q.from)
		} else {
			lo = max(lo, q.to)
		}
	}
	if p.follows(ons, p.to, hi) {
		p.to = hi
	}
	if p.follows(ons, lo, p.from) {
		p.from = lo
	}
	p.fit(ons, 0.025)
	return append(keep, p)
}

// follows says whether a rest beside the grid may go with it.
func (p *part) follows(ons []onset, from, to float64) bool {
	if to-from < freeEnd {
		return true
	}
	return p.share(ons, from, to) > holdFaint && p.even(ons, from, to)
}

const (
	shortPart = 16.0 // s; a shorter grid of its own is doubted
	freeEnd   = 12.0 // s; a shorter rest at the end of a grid follows it
	holdFaint = 0.25 // share of onsets that lets a long rest follow it
)

// trails says whether q is p's grid as slow attacks show it: the same period, a little late.
func (p part) trails(q part) bool {
	if math.Abs(q.period/p.period-1) > 0.005 {
		return false
	}
	mid := (q.from + q.to) / 2
	t := q.offset + q.period*math.Round((mid-q.offset)/q.period)
	x := (t - p.offset) / p.period
	return math.Abs(x-math.Round(x))*p.period < 0.045
}

// agrees says whether two grids are one: the same period, or twice or half of
// it, and pulses that fall together half way between them.
func (p part) agrees(q part) bool {
	long, short := p.period, q.period
	if long < short {
		long, short = short, long
	}
	r := math.Round(long / short)
	if r > 2 || math.Abs(long/short/r-1) > 0.003 {
		return false
	}
	t := q.offset + short*math.Round(((p.from+p.to+q.from+q.to)/4-q.offset)/short)
	x := (t - p.offset) / short
	return math.Abs(x-math.Round(x))*short < 0.015
}

// fillFree adds a free part for every stretch that no grid took.
func fillFree(parts []part, pulses []float64, duration float64) []part {
	slices.SortFunc(parts, func(a, b part) int {
		if a.from < b.from {
			return -1
		}
		return 1
	})
	var out []part
	at := 0.0
	add := func(to float64) {
		if to-at < 0.01 {
			return
		}
		q := part{from: at, to: to}
		for _, t := range pulses {
			if t >= at && t < to {
				q.pulses = append(q.pulses, t)
			}
		}
		out = append(out, q)
	}
	for _, p := range parts {
		add(p.from)
		out = append(out, p)
		at = p.to
	}
	add(duration)
	return out
}

// times lists the pulses of all parts, in order, levels matched so that the
// period never jumps by an octave where the music does not.
func times(parts []part) []float64 {
	ref := mainPeriod(parts)
	var out []float64
	for _, p := range parts {
		for _, t := range p.list(ref) {
			if len(out) == 0 || t-out[len(out)-1] > 0.35*ref {
				out = append(out, t)
			}
		}
	}
	return out
}

// mainPeriod is the pulse period of the longest steady part, or the median of
// the free pulses.
func mainPeriod(parts []part) float64 {
	best, span := 0.0, 0.0
	var gaps []float64
	for _, p := range parts {
		if p.steady && p.to-p.from > span {
			best, span = p.period, p.to-p.from
		}
		for i := 1; i < len(p.pulses); i++ {
			gaps = append(gaps, p.pulses[i]-p.pulses[i-1])
		}
	}
	if best == 0 {
		best = median(gaps)
	}
	return best
}

// list gives the pulses of a part near the level of ref.
func (p *part) list(ref float64) []float64 {
	if !p.steady {
		return matchLevel(p.pulses, ref)
	}
	period := p.level(ref)
	var out []float64
	for k := math.Ceil((p.from - p.offset - 0.03) / period); ; k++ {
		t := p.offset + k*period
		if t >= p.to-0.03 {
			return out
		}
		if t > -0.03 {
			out = append(out, max(0, t))
		}
	}
}

// matchLevel doubles or halves tracked pulses whose gaps are an octave off.
func matchLevel(t []float64, ref float64) []float64 {
	if len(t) < 3 {
		return t
	}
	var gaps []float64
	for i := 1; i < len(t); i++ {
		gaps = append(gaps, t[i]-t[i-1])
	}
	g := median(gaps)
	var out []float64
	switch {
	case g > 1.42*ref:
		for i, v := range t {
			out = append(out, v)
			if i+1 < len(t) {
				out = append(out, (v+t[i+1])/2)
			}
		}
	case g < 0.707*ref:
		for i := 0; i < len(t); i += 2 {
			out = append(out, t[i])
		}
	default:
		return t
	}
	return out
}

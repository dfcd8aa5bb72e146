package ear

import "math"

// A song that goes from 96 to 144 beats a minute can keep one grid of pulses
// throughout: two thirds of the one beat are the other. The grid does not show
// such a change; how the pulse is counted does.

const (
	splitSong  = 40.0 // s; shorter songs are counted in one way
	splitChunk = 14.0 // s that are counted on their own
	splitMost  = 16   // chunks
	splitSure  = 2.0  // score by which another way to count must lead in a chunk
)

// split cuts the only steady part where the counting changes by two thirds or
// three quarters, or the reverse. Changes by an octave are left alone: a break
// in half time is no other tempo.
func (h *hearing) split(r reading) {
	if len(h.parts) != 1 || !h.parts[0].steady || h.duration < splitSong || h.locks.tempo() > 0 {
		return
	}
	n := min(splitMost, int(h.duration/splitChunk))
	cycles := make([]int, n)
	for i := range cycles {
		cycles[i] = h.countChunk(float64(i)*h.duration/float64(n), float64(i+1)*h.duration/float64(n), r)
	}
	whole := h.parts[0]
	h.parts = nil
	from := 0.0
	for i := 1; i < n; i++ {
		if cycles[i] == cycles[i-1] {
			continue
		}
		at := h.border(float64(i-1)*h.duration/float64(n), float64(i+1)*h.duration/float64(n), cycles[i-1], cycles[i])
		if at-from < leastSteady || h.duration-at < leastSteady {
			continue
		}
		h.addPart(whole, from, at, cycles[i-1])
		from = at
	}
	h.addPart(whole, from, h.duration, h.lastCycle(cycles, from))
}

// lastCycle is the cycle of the chunk in which the last part is well under way.
func (h *hearing) lastCycle(cycles []int, from float64) int {
	n := len(cycles)
	i := int((from + (h.duration-from)/2) / h.duration * float64(n))
	return cycles[min(i, n-1)]
}

func (h *hearing) addPart(p part, from, to float64, cycle int) {
	p.from, p.to = from, to
	p.fit(h.onsets, 0.025)
	h.parts = append(h.parts, p)
	h.cycles = append(h.cycles, cycle)
}

// countChunk gives the cycle that a stretch is counted in: that of r unless a
// foreign one leads clearly.
func (h *hearing) countChunk(from, to float64, r reading) int {
	v := h.ticks.between(from, to)
	own, foreign, cycle := -1e9, -1e9, r.cycle
	for _, q := range h.heed(v, v.readings(h.strongIn(v))) {
		q.weigh()
		switch {
		case octave(q.cycle, r.cycle):
			own = max(own, q.score)
		case q.score > foreign && 3*q.cycle >= 2*r.cycle && 2*q.cycle <= 3*r.cycle:
			foreign, cycle = q.score, q.cycle
		}
	}
	if foreign < own+splitSure {
		return r.cycle
	}
	return cycle
}

// octave says whether one cycle is the other, or double or half of it, and so on.
func octave(a, b int) bool {
	for a < b {
		a *= 2
	}
	for b < a {
		b *= 2
	}
	return a == b
}

// border finds where counting by cycle a gives way to cycle b: the hit on a beat
// of b up to which the pattern heard before, and from which the pattern heard
// afterwards, explains best what is struck. span is the length of a chunk.
func (h *hearing) border(from, to float64, a, b int) float64 {
	v := h.ticks.between(from, to)
	span := (to - from) / 2
	old := h.pattern(from-span, from+span/2, a)
	new := h.pattern(to-span/2, to+span, b)
	done, rest := 0.0, 0.0
	for i := range v.at {
		rest += new.fits(v, i)
	}
	best, at := math.Inf(-1), 0
	for i := range v.at {
		rest -= new.fits(v, i)
		both := max(old.fits(v, i), new.fits(v, i)) // the hit itself belongs to both
		if sum := done + both + rest; sum > best && new.onBeat(v, i) && v.total[i] > 0.3*new.height {
			best, at = sum, i
		}
		done += old.fits(v, i)
	}
	return v.at[at]
}

// pattern is what is struck on average over four beats of a cycle.
type pattern struct {
	mean   [bandCount][]float64 // of each tick, from a beat on
	start  int                  // number in the song of a tick that is a beat
	cycle  int
	height float64 // of the beats
}

// pattern folds a stretch on four beats of a cycle, from its strongest phase on.
func (h *hearing) pattern(from, to float64, cycle int) *pattern {
	v := h.ticks.between(max(0, from), to)
	phase := 0
	for p := range cycle {
		if fold(v.total, cycle, p) > fold(v.total, cycle, phase) {
			phase = p
		}
	}
	p := &pattern{start: v.first + phase, cycle: cycle, height: fold(v.total, cycle, phase)}
	for b := range p.mean {
		p.mean[b] = make([]float64, patternBeats*cycle)
		for i := range p.mean[b] {
			p.mean[b][i] = fold(v.power[b], patternBeats*cycle, phase+i)
		}
	}
	return p
}

const patternBeats = 4

// fits says how well the pattern explains tick i of a stretch: above 0 where it
// does better than silence.
func (p *pattern) fits(v *ticks, i int) float64 {
	n := patternBeats * p.cycle
	j := mod(v.first+i-p.start, n)
	gain := 0.0
	for b := range p.mean {
		m := p.mean[b][j]
		gain += m * (2*v.power[b][i] - m)
	}
	return gain
}

func (p *pattern) onBeat(v *ticks, i int) bool { return mod(v.first+i-p.start, p.cycle) == 0 }

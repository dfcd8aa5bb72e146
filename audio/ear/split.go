package ear

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

// border finds where counting by cycle a gives way to cycle b: the pulse that
// leaves most of the strength on the beats of both.
func (h *hearing) border(from, to float64, a, b int) float64 {
	v := h.ticks.between(from, to)
	before, after := strengths(v, a), strengths(v, b)
	rest := 0.0
	for _, x := range after {
		rest += x
	}
	best, at, done := -1e18, 0, 0.0
	for i := range before {
		if i%ticksPerPulse == 0 && done+rest > best {
			best, at = done+rest, i
		}
		done += before[i]
		rest -= after[i]
	}
	return v.at[at]
}

// strengths gives each tick what it adds if it is on the beat of the best phase
// of a cycle: its strength above the mean, weighed by the length of the cycle.
func strengths(v *ticks, cycle int) []float64 {
	phase := 0
	for p := range cycle {
		if fold(v.total, cycle, p) > fold(v.total, cycle, phase) {
			phase = p
		}
	}
	mean := fold(v.total, 1, 0)
	out := make([]float64, len(v.total))
	for i := phase; i < len(out); i += cycle {
		out[i] = (v.total[i] - mean) * float64(cycle)
	}
	return out
}

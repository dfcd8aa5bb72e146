package ltc

import (
	"math"
)

// edgeFinder finds where a wave crosses its own middle. Middle and strength
// are taken from the block at hand and its two neighbours, so that they follow
// level and offset and are right from the first sample.
type edgeFinder struct {
	found func(place float64) // in samples, between them

	block     []float32 // being filled
	waiting   []float32 // full, its successor is not known yet
	spans     [3]span   // before the waiting block, of it, after it
	at        int64     // first sample of the waiting block
	started   bool
	state     height
	last      float64 // sample before
	cross     float64 // where the middle was last crossed towards the other state
	crossed   bool
	amplitude float64 // half the height of the wave at hand
}

// span is the lowest and highest sample of a block.
type span struct{ low, high float64 }

var noSpan = span{math.Inf(1), math.Inf(-1)}

// spanOf gives the span of samples that are all numbers.
func spanOf(samples []float32) span {
	low, high := float32(math.Inf(1)), float32(math.Inf(-1))
	for _, v := range samples {
		if v < low {
			low = v
		}
		if v > high {
			high = v
		}
	}
	return span{float64(low), float64(high)}
}

func (a span) join(b span) span { return span{min(a.low, b.low), max(a.high, b.high)} }

// Limits of what is taken for a wave.
const (
	faintest   = 0.001 // amplitude below which there is silence: −60 dB
	hysteresis = 0.35  // of the amplitude: noise crosses the middle, not this
	blocksASec = 200   // ten bit cells or more at play speed
)

func newEdgeFinder(sampleRate int, found func(float64)) *edgeFinder {
	size := max(16, sampleRate/blocksASec)
	return &edgeFinder{found: found, block: make([]float32, 0, size), waiting: make([]float32, 0, size), spans: [3]span{noSpan, noSpan, noSpan}}
}

// write takes samples; what is no number counts as silence.
func (e *edgeFinder) write(samples []float32) {
	for len(samples) > 0 {
		from := len(e.block)
		n := min(cap(e.block)-from, len(samples))
		e.block = append(e.block, samples[:n]...)
		samples = samples[n:]
		for i, v := range e.block[from:] {
			if !(v <= 1e6 && v >= -1e6) {
				e.block[from+i] = 0
			}
		}
		if len(e.block) == cap(e.block) {
			e.turn()
		}
	}
}

// silence takes so many samples of silence. Blocks of it between others of it hold no
// edge, and are not looked at.
func (e *edgeFinder) silence(n int) {
	for n > 0 {
		if none := (span{}); len(e.block) == 0 && len(e.waiting) == cap(e.block) && e.spans[0] == none && e.spans[1] == none {
			whole := n / cap(e.block)
			e.at += int64(whole * cap(e.block))
			n -= whole * cap(e.block)
		}
		from := len(e.block)
		m := min(cap(e.block)-from, n)
		e.block = e.block[:from+m]
		clear(e.block[from:])
		n -= m
		if m > 0 && len(e.block) == cap(e.block) {
			e.turn()
		}
	}
}

// close looks at what is left and gives the number of samples.
func (e *edgeFinder) close() int64 {
	e.turn()
	e.turn()
	return e.at
}

// turn takes the filled block as successor of the waiting one, which can now
// be looked at.
func (e *edgeFinder) turn() {
	e.spans[2] = spanOf(e.block)
	e.look()
	e.at += int64(len(e.waiting))
	e.waiting, e.block = e.block, e.waiting[:0]
	e.spans[0], e.spans[1] = e.spans[1], e.spans[2]
}

// look finds the edges in the waiting block.
func (e *edgeFinder) look() {
	around := e.spans[0].join(e.spans[1]).join(e.spans[2])
	middle := (around.low + around.high) / 2
	e.amplitude = (around.high - around.low) / 2
	if len(e.waiting) == 0 {
		return
	}
	if e.amplitude < faintest {
		e.last, e.started = float64(e.waiting[len(e.waiting)-1]), true
		return
	}
	reach := hysteresis * e.amplitude
	if !e.started {
		e.start(float64(e.waiting[0]), middle, reach)
	}
	for i, sample := range e.waiting {
		v := float64(sample)
		e.step(e.at+int64(i), v, middle, reach)
		e.last = v
	}
}

// start takes the start of the sound for an edge: that of a stripe cut at the
// start of a frame.
func (e *edgeFinder) start(first, middle, reach float64) {
	e.started, e.last = true, first
	switch {
	case first > middle+reach:
		e.state = low
	case first < middle-reach:
		e.state = high
	}
	e.cross, e.crossed = 0, true
}

// step looks at one sample: a crossing of the middle counts once the wave has
// gone well beyond it.
func (e *edgeFinder) step(i int64, v, middle, reach float64) {
	up := e.last <= middle && v > middle
	down := e.last >= middle && v < middle
	if up && e.state != high || down && e.state != low {
		e.cross, e.crossed = float64(i-1)+(middle-e.last)/(v-e.last), true
	}
	next := e.state
	switch {
	case v > middle+reach:
		next = high
	case v < middle-reach:
		next = low
	}
	if next == e.state {
		return
	}
	e.state = next
	if e.crossed {
		e.found(max(e.cross, 0))
	}
	e.crossed = false
}

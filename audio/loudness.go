package audio

import (
	"math"
	"slices"
)

// Loudness measures programme loudness while sound is read: ITU-R BS.1770-4
// (K weighting, gated integration), momentary and short-term loudness as in
// EBU Tech 3341, loudness range as in EBU Tech 3342. It keeps ten numbers a
// second.
type Loudness struct {
	rate, channels int
	filters        []kFilter // one a channel
	weights        []float64 // of each channel
	steps          []float64 // weighted mean square of each 100 ms
	sum            float64   // weighted sum of squares of the current step
	inStep         int64     // frames in it
	frames         int64     // in all
	peak           float32
}

// Loudness moves in steps of 100 ms; these many of them make a window.
const (
	stepsPerSecond = 10
	momentarySteps = 4
	shortSteps     = 30
)

// Gates of BS.1770-4 and of EBU Tech 3342.
const (
	absoluteGate = -70.0 // LUFS
	relativeGate = -10.0 // LU, integrated
	rangeGate    = -20.0 // LU, loudness range
)

// Silent is what a window without any sound measures, in LUFS.
var Silent = math.Inf(-1)

// NewLoudness begins to measure sound of that rate and number of channels, in
// the order of WAV files: 3 are L R C, 4 are L R Ls Rs, 5 are L R C Ls Rs, 6
// and more are L R C LFE and surrounds.
func NewLoudness(rate, channels int) *Loudness {
	m := &Loudness{rate: rate, channels: channels, weights: channelWeights(channels)}
	m.filters = slices.Repeat([]kFilter{newKFilter(rate)}, channels)
	return m
}

// channelWeights are those of BS.1770-4 table 3: 1 for the front, 0 for the
// low frequency effects, 1.41 (+1.5 dB) for the surrounds.
func channelWeights(channels int) []float64 {
	const surround = 1.41
	w := []float64{1, 1, 1, 0}
	switch channels {
	case 4:
		return []float64{1, 1, surround, surround}
	case 5:
		return []float64{1, 1, 1, surround, surround}
	}
	for len(w) < channels {
		w = append(w, surround)
	}
	return w[:channels]
}

// Write adds frames; it is a sink for Run.
func (m *Loudness) Write(frames []float32) error {
	for len(frames) >= m.channels {
		n := min(int64(len(frames)/m.channels), m.stepEnd()-m.frames)
		m.collect(frames[:n*int64(m.channels)])
		frames = frames[n*int64(m.channels):]
		if m.frames == m.stepEnd() {
			m.steps = append(m.steps, m.sum/float64(m.inStep))
			m.sum, m.inStep = 0, 0
			m.settle()
		}
	}
	return nil
}

// stepEnd is the frame at which the current step ends, rounded down where 100
// ms are not whole frames.
func (m *Loudness) stepEnd() int64 {
	return int64(len(m.steps)+1) * int64(m.rate) / stepsPerSecond
}

// collect adds frames that lie in one step.
func (m *Loudness) collect(frames []float32) {
	for c := range m.filters {
		f, sum := m.filters[c], 0.0
		for i := c; i < len(frames); i += m.channels {
			v := frames[i]
			m.peak = max(m.peak, v, -v)
			k := f.step(float64(v))
			sum += k * k
		}
		m.filters[c] = f
		m.sum += sum * m.weights[c]
	}
	n := int64(len(frames) / m.channels)
	m.inStep += n
	m.frames += n
}

// settle keeps the filters out of numbers so small that they slow processors.
func (m *Loudness) settle() {
	for c := range m.filters {
		m.filters[c].settle()
	}
}

// Peak is the largest sample so far, in dB of full scale.
func (m *Loudness) Peak() float64 { return 20 * math.Log10(float64(m.peak)) }

// Steps is the number of whole steps of 100 ms measured so far.
func (m *Loudness) Steps() int { return len(m.steps) }

// Momentary is the loudness of the 400 ms that end with that step, in LUFS;
// Silent if there are not so many.
func (m *Loudness) Momentary(step int) float64 { return lufs(m.window(step, momentarySteps)) }

// ShortTerm is the loudness of the 3 s that end with that step, in LUFS;
// Silent if there are not so many.
func (m *Loudness) ShortTerm(step int) float64 { return lufs(m.window(step, shortSteps)) }

// window is the mean square of the n steps that end with step.
func (m *Loudness) window(step, n int) float64 {
	if step+1 < n || step >= len(m.steps) {
		return 0
	}
	var sum float64
	for _, v := range m.steps[step+1-n : step+1] {
		sum += v
	}
	return sum / float64(n)
}

// windows lists the mean squares of all whole windows of n steps above the
// absolute gate.
func (m *Loudness) windows(n int) []float64 {
	list := make([]float64, 0, len(m.steps))
	for step := n - 1; step < len(m.steps); step++ {
		if w := m.window(step, n); lufs(w) > absoluteGate {
			list = append(list, w)
		}
	}
	return list
}

// gate keeps those of list above their mean plus lu.
func gate(list []float64, lu float64) []float64 {
	limit := mean(list) * math.Pow(10, lu/10)
	return slices.DeleteFunc(list, func(w float64) bool { return w <= limit })
}

// Integrated is the gated loudness of all so far, in LUFS; Silent if nothing
// is above the gate.
func (m *Loudness) Integrated() float64 {
	return lufs(mean(gate(m.windows(momentarySteps), relativeGate)))
}

// Range is the loudness range (LRA) of all so far, in LU.
func (m *Loudness) Range() float64 {
	list := gate(m.windows(shortSteps), rangeGate)
	if len(list) == 0 {
		return 0
	}
	slices.Sort(list)
	at := func(share float64) float64 { return lufs(list[int(math.Round(float64(len(list)-1)*share))]) }
	return at(0.95) - at(0.10)
}

// MaxMomentary is the largest momentary loudness so far, in LUFS.
func (m *Loudness) MaxMomentary() float64 { return m.loudest(momentarySteps) }

// MaxShortTerm is the largest short-term loudness so far, in LUFS.
func (m *Loudness) MaxShortTerm() float64 { return m.loudest(shortSteps) }

func (m *Loudness) loudest(n int) float64 {
	top := 0.0
	for step := range m.steps {
		top = max(top, m.window(step, n))
	}
	return lufs(top)
}

// lufs is the loudness of a weighted mean square (BS.1770-4).
func lufs(square float64) float64 { return -0.691 + 10*math.Log10(square) }

func mean(list []float64) float64 {
	if len(list) == 0 {
		return 0
	}
	var sum float64
	for _, v := range list {
		sum += v
	}
	return sum / float64(len(list))
}

package ear

// The clocks of the features.
const (
	fluxRate  = 100  // frames of spectral flux a second
	envRate   = 1000 // steps of the attack envelopes a second
	toneRate  = 20   // frames of pitch classes a second
	toneBins  = 12   // pitch classes, C first
	timbreLen = 16   // broad bands of the timbre picture
)

// Bands of the spectral flux, lowest first.
const (
	bandLow    = iota // 30 to 150 Hz: kick drum, bass
	bandLowMid        // 150 to 500 Hz: body of snare and toms, low chords
	bandMid           // 500 to 4000 Hz: voices, guitars, snare
	bandHigh          // 4 to 16 kHz: cymbals, hats, snare wires
	bandCount
)

// Bands of the attack envelopes.
const (
	envLow = iota
	envMid
	envHigh
	envCount
)

// features is what is kept of a recording: under half a megabyte a minute.
// Everything after the front end works on this alone.
type features struct {
	rate     int
	duration float64
	flux     [bandCount][]float32 // rise of log magnitude, at fluxRate
	env      [envCount][]uint8    // level in steps of envStep dB above -envFloor dB, at envRate
	tone     []float32            // toneBins values a frame at toneRate
	bass     []float32            // the same for 55 to 220 Hz
	timbre   []float32            // timbreLen values a frame at toneRate, log magnitude
	power    []float32            // mean square per flux frame
	loud     Loudness
	short    []float32 // short-term loudness, EnergyRate values a second
	pitches  *harmony  // made of tone and bass when first asked for
}

const (
	envStep  = 0.4
	envFloor = 100.0
)

// frames gives the number of flux frames.
func (f *features) frames() int { return len(f.flux[0]) }

// harmony answers questions about tone and bass.
func (f *features) harmony() *harmony {
	if f.pitches == nil {
		f.pitches = newHarmony(f)
	}
	return f.pitches
}

// reserve makes room for so many seconds, so that long recordings do not leave
// a trail of outgrown lists behind.
func (f *features) reserve(seconds float64) {
	n := func(rate int) int { return int(seconds*float64(rate)) + 2 }
	for b := range f.flux {
		f.flux[b] = make([]float32, 0, n(fluxRate))
	}
	for b := range f.env {
		f.env[b] = make([]uint8, 0, n(envRate))
	}
	f.power = make([]float32, 0, n(fluxRate))
	f.tone = make([]float32, 0, n(toneRate)*toneBins)
	f.bass = make([]float32, 0, n(toneRate)*toneBins)
	f.timbre = make([]float32, 0, n(toneRate)*timbreLen)
}

package ear

import (
	"math"
	"slices"
)

// ticksPerPulse divides a pulse so that halves, thirds, quarters and sixths
// fall on ticks, and so do pulses of 2/3, 3/4, 4/3 and 3/2 of the length.
const ticksPerPulse = 12

// ticks is the song in musical time: what each band does on each tick.
type ticks struct {
	at      []float64            // time of each tick
	power   [bandCount][]float64 // salience of each band
	total   []float64
	accent  []float64 // square of total: what is struck hard
	opening int       // tick of the first sound of the song, -1 if not here
	lift    [envCount][]float64
	tone    *harmony
	pulse   float64         // s, main pulse period
	like    map[int]float64 // what likeness has worked out
	first   int             // number of the first tick in the song, for a stretch of it
}

// newTicks lays ticks between the pulses and reads the flux there.
// The song opens at the given time.
func newTicks(f *features, pulses []float64, opening float64) *ticks {
	k := &ticks{tone: f.harmony()}
	var gaps []float64
	for i := 0; i+1 < len(pulses); i++ {
		g := pulses[i+1] - pulses[i]
		gaps = append(gaps, g)
		for j := range ticksPerPulse {
			k.at = append(k.at, pulses[i]+g*float64(j)/ticksPerPulse)
		}
	}
	k.at = append(k.at, pulses[len(pulses)-1])
	k.pulse = median(gaps)
	reach := max(1, int(k.pulse*fluxRate/ticksPerPulse/2))
	for b := range f.flux {
		k.power[b] = sample(salience(f.flux[b]), k.at, reach)
	}
	for b := range f.env {
		k.lift[b] = liftAt(f.env[b], k.at)
	}
	k.total = sample(salience(f.detection()), k.at, reach)
	for _, v := range k.total {
		k.accent = append(k.accent, v*v)
	}
	k.open(opening)
	return k
}

// open finds the tick on which the song opens, within half a pulse of the first
// one also before it.
func (k *ticks) open(t float64) {
	k.opening = -1
	step := k.pulse / ticksPerPulse
	if x := math.Round((t - k.at[0]) / step); t >= 0 && x < 0 && x > -4*ticksPerPulse {
		k.opening = mod(int(x), 144) // every cycle divides 144
		return
	}
	i, _ := slices.BinarySearch(k.at, t-step/2)
	if t >= 0 && i < len(k.at) && math.Abs(k.at[i]-t) <= step {
		k.opening = i
	}
}

// between is the stretch of ticks from one time to another.
func (k *ticks) between(from, to float64) *ticks {
	a, _ := slices.BinarySearch(k.at, from-0.03)
	b, _ := slices.BinarySearch(k.at, to-0.03)
	b = max(a, b)
	v := &ticks{at: k.at[a:b], total: k.total[a:b], accent: k.accent[a:b], opening: -1, tone: k.tone, pulse: k.pulse, first: a}
	for i := range k.power {
		v.power[i] = k.power[i][a:b]
	}
	for i := range k.lift {
		v.lift[i] = k.lift[i][a:b]
	}
	if a == 0 {
		v.opening = k.opening
	}
	if n := len(v.at); n > ticksPerPulse {
		v.pulse = (v.at[n-1] - v.at[0]) / float64(n-1) * ticksPerPulse
	}
	return v
}

// likeness is the correlation of what the bands do with what they do so many
// ticks later.
func (k *ticks) likeness(lag int) float64 {
	if v, ok := k.like[lag]; ok {
		return v
	}
	sum := 0.0
	for b := range k.power {
		sum += lagCorrelation(k.power[b], lag) / bandCount
	}
	if k.like == nil {
		k.like = map[int]float64{}
	}
	k.like[lag] = sum
	return sum
}

// sample takes the largest value within reach frames of each time.
func sample(z []float32, at []float64, reach int) []float64 {
	out := make([]float64, len(at))
	for i, t := range at {
		c := int(math.Round(t * fluxRate))
		top := float32(0)
		for j := max(0, c-reach); j <= min(len(z)-1, c+reach); j++ {
			top = max(top, z[j])
		}
		out[i] = float64(top)
	}
	return out
}

// fold averages v over all ticks congruent to phase modulo cycle.
func fold(v []float64, cycle, phase int) float64 {
	sum, n := 0.0, 0
	for i := phase % cycle; i < len(v); i += cycle {
		sum += v[i]
		n++
	}
	if n == 0 {
		return 0
	}
	return sum / float64(n)
}

// harmony answers how much the pitch content changes at a time.
type harmony struct {
	sum  []float64 // running sums of normalised pitch vectors
	dims int
	n    int
}

func newHarmony(f *features) *harmony {
	n := len(f.tone) / toneBins
	h := &harmony{dims: 2 * toneBins, n: n}
	h.sum = make([]float64, (n+1)*h.dims)
	for i := range n {
		row := h.sum[i*h.dims : (i+2)*h.dims]
		h.add(row, 0, f.tone[i*toneBins:(i+1)*toneBins])
		h.add(row, toneBins, f.bass[i*toneBins:(i+1)*toneBins])
	}
	return h
}

func (h *harmony) add(row []float64, at int, v []float32) {
	top := float32(1e-6)
	for _, x := range v {
		top = max(top, x)
	}
	for j, x := range v {
		row[h.dims+at+j] = row[at+j] + math.Sqrt(float64(x/top))
	}
}

// mean writes the average pitch vector of [from, to) seconds into out.
func (h *harmony) mean(from, to float64, out []float64) {
	a := min(max(int(math.Round(from*toneRate)), 0), h.n)
	b := min(max(int(math.Round(to*toneRate)), a+1), h.n)
	for j := range out {
		if b > a {
			out[j] = (h.sum[b*h.dims+j] - h.sum[a*h.dims+j]) / float64(b-a)
		} else {
			out[j] = 0
		}
	}
}

// change is 1 minus the likeness of the pitches before and after a time; bass and treble apart.
func (h *harmony) change(t, span float64) (treble, bass float64) {
	var u, v [2 * toneBins]float64
	h.mean(t-span, t, u[:])
	h.mean(t+0.02, t+span+0.02, v[:])
	return 1 - cosine(u[:toneBins], v[:toneBins]), 1 - cosine(u[toneBins:], v[toneBins:])
}

func cosine(u, v []float64) float64 {
	var uu, vv, uv float64
	for i := range u {
		uu, vv, uv = uu+u[i]*u[i], vv+v[i]*v[i], uv+u[i]*v[i]
	}
	if uu == 0 || vv == 0 {
		return 1
	}
	return uv / math.Sqrt(uu*vv)
}

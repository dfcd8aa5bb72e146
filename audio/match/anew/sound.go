package anew

import (
	"math"

	"emberbeat/audio/fourier"
)

// The clocks of what is compared.
const (
	fineRate  = 100 // frames a second of what begins
	toneRate  = 50  // of the notes it is heard in
	wideRate  = 5   // frames a second of harmony
	classes   = 12
	bands     = 4
	onsetDims = classes + bands
)

// Sound is what is compared of a recording: which notes sound, and when
// something begins. It holds 5 kB a second.
type Sound struct {
	seconds float64
	tone    [][classes]float32 // pitch classes above the bass, at wideRate, of unit length
	bass    [][classes]float32 // pitch classes of the bass, at wideRate, of unit length
	rise    rises              // what begins, by pitch class and by band, at fineRate
}

// windows of the transforms, in seconds, and the pitches (MIDI numbers) each is asked for.
const (
	toneWindow = 0.186
	bassWindow = 0.372
	hitWindow  = 0.046
	toneLow    = 55
	toneHigh   = 104
	bassLow    = 31
	bassHigh   = 56
	whiten     = 7 // semitones on each side against which a pitch must stand out
)

// pitchBank sums spectral bins into semitones.
type pitchBank struct {
	low    int
	first  []int
	weight [][]float32
	end    int // of the bins that count
}

// newPitchBank spreads each semitone over its neighbours by a triangle, at least
// one bin wide on each side.
func newPitchBank(size, rate, low, high int) *pitchBank {
	b := &pitchBank{low: low}
	bin := float64(rate) / float64(size)
	for p := low; p <= high; p++ {
		hz := 440 * math.Pow(2, float64(p-69)/12)
		if hz*1.06 > 0.48*float64(rate) {
			break
		}
		half := max(hz*0.0595, bin)
		from, to := int(math.Ceil((hz-half)/bin)), int(math.Floor((hz+half)/bin))
		var w []float32
		sum := float32(0)
		for k := from; k <= to; k++ {
			v := float32(1 - math.Abs(float64(k)*bin-hz)/half)
			w = append(w, v)
			sum += v
		}
		b.first = append(b.first, from)
		b.weight = append(b.weight, w)
		b.end = from + len(w)
	}
	return b
}

func (b *pitchBank) apply(spec, out []float32) {
	for i, w := range b.weight {
		s := spec[b.first[i]:]
		s = s[:len(w)]
		sum := float32(0)
		for j, v := range w {
			sum += v * s[j]
		}
		out[i] = sum
	}
}

// framesOf calls each with the windowed spectrum around i/perSecond, for all
// frames whose centre is inside the sound.
func framesOf(x []float32, rate int, window float64, perSecond int, each func(i int, spec []float32)) int {
	size := 1 << int(math.Round(math.Log2(float64(rate)*window)))
	f := fourier.New(size)
	win := make([]float32, size)
	for i := range win {
		win[i] = float32(0.5-0.5*math.Cos(2*math.Pi*float64(i)/float64(size))) * 4 / float32(size)
	}
	block, spec := make([]float32, size), make([]float32, size/2+1)
	n := len(x) * perSecond / rate
	for i := range n {
		from := i*rate/perSecond - size/2
		if from >= 0 && from+size <= len(x) {
			in, out := x[from:][:len(win)], block[:len(win)]
			for j, w := range win {
				out[j] = in[j] * w
			}
		} else {
			for j, w := range win {
				v := float32(0)
				if k := from + j; k >= 0 && k < len(x) {
					v = x[k]
				}
				block[j] = v * w
			}
		}
		f.Power(block, spec)
		each(i, spec)
	}
	return size
}

func sqrt32(v float32) float32 { return float32(math.Sqrt(float64(v))) }
func log32(v float32) float32  { return math.Ln2 * fourier.Log2(v) }

// Hear keeps what is compared of a recording, given as one channel.
func Hear(mono []float32, rate int) *Sound {
	s := &Sound{seconds: float64(len(mono)) / float64(rate)}
	power := 0.0
	for _, v := range mono {
		power += float64(v) * float64(v)
	}
	ref := float32(math.Sqrt(power/float64(max(1, len(mono))))) + 1e-6
	s.tones(mono, rate, ref)
	s.basses(mono, rate, ref)
	s.hits(mono, rate, ref)
	return s
}

const (
	bend = 300 // the log curve of pitches bends at the recording's level over this
)

func (s *Sound) tones(x []float32, rate int, ref float32) {
	size := 1 << int(math.Round(math.Log2(float64(rate)*toneWindow)))
	bank := newPitchBank(size, rate, toneLow, toneHigh)
	n := len(bank.weight)
	const lag = 2
	ring := [lag + 1][]float32{}
	for i := range ring {
		ring[i] = make([]float32, n)
	}
	per := toneRate / wideRate
	frames := len(x) * toneRate / rate
	s.rise = make(rises, len(x)*fineRate/rate)
	const twice = fineRate / toneRate
	s.tone = make([][classes]float32, frames/per+1)
	plain := make([][classes]float32, frames)
	white := make([]float32, n)
	framesOf(x, rate, toneWindow, toneRate, func(i int, spec []float32) {
		for k, p := range spec[:bank.end] {
			spec[k] = sqrt32(p)
		}
		cur := ring[i%(lag+1)]
		bank.apply(spec, cur)
		for k, v := range cur {
			cur[k] = log32(1 + bend*v/ref)
		}
		old := ring[(i+1)%(lag+1)]
		for k, v := range cur {
			// the rise over the lag belongs to its middle
			if d := v - old[k]; d > 0 && i >= lag {
				c, at := (bank.low+k)%classes, twice*(i-lag/2)
				s.rise[at-1][c] += d / 2
				s.rise[at][c] += d
				if at+1 < len(s.rise) {
					s.rise[at+1][c] += d / 2
				}
			}
		}
		standOut(cur, white)
		for k, v := range white {
			plain[i][(bank.low+k)%classes] += v
		}
	})
	gather(plain, s.tone, per)
}

// standOut keeps of each pitch what is above the mean of its neighbourhood.
func standOut(in, out []float32) {
	sum, a, b := float32(0), 0, 0 // of in[a:b]
	for k, v := range in {
		for b < min(len(in), k+whiten+1) {
			sum += in[b]
			b++
		}
		for a < k-whiten {
			sum -= in[a]
			a++
		}
		out[k] = max(0, v-sum/float32(b-a))
	}
}

// gather averages fine frames around each wide one, under a window twice as long
// as the step, and makes the result of unit length about its mean.
func gather(in, out [][classes]float32, per int) {
	for j := range out {
		var v [classes]float32
		for k := -per; k <= per; k++ {
			if i := j*per + k; i >= 0 && i < len(in) {
				w := float32(0.5 + 0.5*math.Cos(math.Pi*float64(k)/float64(per+1)))
				for c := range v {
					v[c] += w * in[i][c]
				}
			}
		}
		for c := range v {
			v[c] = sqrt32(v[c])
		}
		out[j] = unit(v)
	}
}

// unit takes the mean out and makes the length 1; what has no shape is zero.
func unit(v [classes]float32) [classes]float32 {
	mean, sq := float32(0), float32(0)
	for _, x := range v {
		mean += x / classes
	}
	for i := range v {
		v[i] -= mean
		sq += v[i] * v[i]
	}
	if sq < 1e-6 {
		return [classes]float32{}
	}
	sq = 1 / sqrt32(sq)
	for i := range v {
		v[i] *= sq
	}
	return v
}

func (s *Sound) basses(x []float32, rate int, ref float32) {
	const perSecond = 10
	size := 1 << int(math.Round(math.Log2(float64(rate)*bassWindow)))
	bank := newPitchBank(size, rate, bassLow, bassHigh)
	n := len(bank.weight)
	cur, white := make([]float32, n), make([]float32, n)
	plain := make([][classes]float32, len(x)*perSecond/rate)
	framesOf(x, rate, bassWindow, perSecond, func(i int, spec []float32) {
		for k, p := range spec[:bank.end] {
			spec[k] = sqrt32(p)
		}
		bank.apply(spec, cur)
		for k, v := range cur {
			cur[k] = log32(1 + bend*v/ref)
		}
		standOut(cur, white)
		for k, v := range white {
			plain[i][(bank.low+k)%classes] += v
		}
	})
	s.bass = make([][classes]float32, len(s.tone))
	gather(plain, s.bass, perSecond/wideRate)
}

// hits measures the rise of four bands.
func (s *Sound) hits(x []float32, rate int, ref float32) {
	edges := [bands + 1]float64{30, 150, 500, 2000, 5500}
	size := 1 << int(math.Round(math.Log2(float64(rate)*hitWindow)))
	bin := float64(rate) / float64(size)
	var bins [bands][2]int // of each band, from and to
	for b := range bins {
		k := int(edges[b]/bin) + 1
		bins[b][0] = k
		for ; k < size/2+1 && float64(k)*bin < edges[b+1]; k++ {
		}
		bins[b][1] = k
	}
	const lag = 2
	var ring [lag + 1][]float32
	for i := range ring {
		ring[i] = make([]float32, size/2+2) // and one beyond, which is nothing
	}
	framesOf(x, rate, hitWindow, fineRate, func(i int, spec []float32) {
		cur := ring[i%(lag+1)]
		for k, p := range spec {
			cur[k] = log32(1 + bend*sqrt32(p)/ref)
		}
		old := ring[(i+1)%(lag+1)]
		at := i - lag/2
		if i < lag || at >= len(s.rise) {
			return
		}
		for b, r := range bins {
			sum := float32(0)
			for k := r[0]; k < r[1]; k++ {
				was := old[k-1]
				if v := old[k]; v > was {
					was = v
				}
				if v := old[k+1]; v > was {
					was = v
				}
				if v := cur[k] - was; v > 0 {
					sum += v
				}
			}
			s.rise[at][classes+b] += sum / float32(max(1, r[1]-r[0]))
		}
	})
}

// halved is the harmony of a sound at half of wideRate.
func (s *Sound) halved() *Sound {
	half := func(v [][classes]float32) [][classes]float32 {
		out := make([][classes]float32, len(v)/2)
		for i := range out {
			for c := range classes {
				out[i][c] = v[2*i][c] + v[2*i+1][c]
			}
			out[i] = unit(out[i])
		}
		return out
	}
	return &Sound{seconds: s.seconds, tone: half(s.tone), bass: half(s.bass)}
}

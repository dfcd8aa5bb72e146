package ear

import "math"

// framer cuts a stream into frames of one size whose centres lie at
// round(t·rate/perSecond). Half a frame of silence stands before the first
// sample and after the last, so that frame t looks at the sound around its own time.
type framer struct {
	size, rate, perSecond int
	buf                   []float32
	start                 int // sample index of buf[0]
	next                  int // number of the next frame
	total                 int
}

func newFramer(size, rate, perSecond, chunk int) *framer {
	f := &framer{size: size, rate: rate, perSecond: perSecond, start: -size / 2}
	f.buf = make([]float32, size/2, 2*size+chunk)
	return f
}

// feed appends x and calls each for every frame that is complete by now.
func (f *framer) feed(x []float32, each func(frame []float32)) {
	f.buf = append(f.buf, x...)
	f.total += len(x)
	f.drain(each)
}

// flush ends the stream: frames whose centre lies inside the sound are completed with silence.
func (f *framer) flush(each func(frame []float32)) {
	end := f.total
	for range f.size {
		f.buf = append(f.buf, 0)
	}
	for f.centre() < end {
		before := f.next
		f.one(each)
		if f.next == before {
			return
		}
	}
}

func (f *framer) centre() int { return (f.next*f.rate + f.perSecond/2) / f.perSecond }

func (f *framer) one(each func(frame []float32)) {
	a := f.centre() - f.size/2 - f.start
	if a+f.size > len(f.buf) {
		return
	}
	each(f.buf[a : a+f.size])
	f.next++
}

func (f *framer) drain(each func(frame []float32)) {
	for {
		before := f.next
		f.one(each)
		if f.next == before {
			break
		}
	}
	if drop := f.centre() - f.size/2 - f.start; drop > 0 && drop <= len(f.buf) {
		f.buf = f.buf[:copy(f.buf, f.buf[drop:])]
		f.start += drop
	}
}

func hann(n int) []float32 {
	w := make([]float32, n)
	for i := range w {
		w[i] = float32(0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/float64(n)))
	}
	return w
}

// filterbank sums spectral bins into overlapping triangular bands.
type filterbank struct {
	first  []int // first bin of each band
	weight [][]float32
	centre []float64 // Hz
}

// newFilterbank spaces bands evenly in pitch, perOctave to the octave. Where
// bins are wider than bands, neighbouring bands fall together and are merged.
func newFilterbank(size, rate, perOctave int, low, high float64) *filterbank {
	bin := float64(rate) / float64(size)
	high = math.Min(high, 0.49*float64(rate))
	var edges []int
	for k := 0; ; k++ {
		hz := low * math.Pow(2, float64(k)/float64(perOctave))
		if hz > high {
			break
		}
		b := int(math.Round(hz / bin))
		if b < 1 {
			b = 1
		}
		if len(edges) == 0 || b > edges[len(edges)-1] {
			edges = append(edges, b)
		}
	}
	fb := &filterbank{}
	for i := 1; i+1 < len(edges); i++ {
		fb.add(edges[i-1], edges[i], edges[i+1], bin)
	}
	return fb
}

func (fb *filterbank) add(left, mid, right int, bin float64) {
	var w []float32
	sum := float32(0)
	for b := left + 1; b < right; b++ {
		v := float32(b-left) / float32(mid-left)
		if b > mid {
			v = float32(right-b) / float32(right-mid)
		}
		w = append(w, v)
		sum += v
	}
	for i := range w {
		w[i] /= sum
	}
	fb.first = append(fb.first, left+1)
	fb.weight = append(fb.weight, w)
	fb.centre = append(fb.centre, float64(mid)*bin)
}

// apply writes one value a band.
func (fb *filterbank) apply(spec, out []float32) {
	for i, w := range fb.weight {
		s := spec[fb.first[i]:]
		s = s[:len(w)]
		sum := float32(0)
		for j, v := range w {
			sum += v * s[j]
		}
		out[i] = sum
	}
}

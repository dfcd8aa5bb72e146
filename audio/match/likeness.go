package match

import (
	"math"
	"slices"

	"emberbeat/audio/fourier"
)

// Where time or pitch was changed, waveforms are no longer alike, and spectra
// are: they are compared frame by frame as far as they differ from what the
// recording is on average, and the line is drawn finer by where sounds begin.

// rows is a band spectrum whose frames are compared with others: each without
// the mean of its band and of its frame, and of length 1, or 0 in silence.
type rows struct {
	frames int
	v      []float32
}

func newRows(bands []uint8) rows {
	n := len(bands) / bandCount
	r := rows{n, make([]float32, len(bands))}
	var mean [bandCount]float64
	loud := 0
	for f := range n {
		row := bands[f*bandCount : (f+1)*bandCount]
		if slices.Max(row) < hushed {
			continue
		}
		loud++
		for k, v := range row {
			mean[k] += float64(v)
		}
	}
	for k := range mean {
		mean[k] /= float64(max(1, loud))
	}
	for f := range n {
		row, out := bands[f*bandCount:(f+1)*bandCount], r.v[f*bandCount:(f+1)*bandCount]
		if slices.Max(row) < hushed {
			continue
		}
		var sum, square float64
		for k, v := range row {
			d := float64(v) - mean[k]
			sum += d
			out[k] = float32(d)
		}
		sum /= bandCount
		for k := range out {
			out[k] -= float32(sum)
			square += float64(out[k]) * float64(out[k])
		}
		if square > 0 {
			k := float32(1 / math.Sqrt(square))
			for i := range out {
				out[i] *= k
			}
		}
	}
	return r
}

// hushed is the level, as of bander, under which a frame is silent: -87 dB.
const hushed = 40

// like is how alike a frame of the old recording, so many bands higher, and one
// of the new are, -1..1; 0 outside.
func (r rows) like(old int, new rows, at, bands int) float64 {
	if old < 0 || old >= r.frames || at < 0 || at >= new.frames {
		return 0
	}
	a, b := r.v[old*bandCount:(old+1)*bandCount], new.v[at*bandCount:(at+1)*bandCount]
	if bands >= 0 {
		a, b = a[bands:], b[:bandCount-bands]
	} else {
		a, b = a[:bandCount+bands], b[-bands:]
	}
	b = b[:len(a)]
	var s, t, u, v float32
	for len(a) >= 4 && len(b) >= 4 {
		s += a[0] * b[0]
		t += a[1] * b[1]
		u += a[2] * b[2]
		v += a[3] * b[3]
		a, b = a[4:], b[4:]
	}
	for k, x := range a {
		s += x * b[k]
	}
	return float64(s + t + u + v)
}

const (
	fineSize  = 512 // samples at matchRate, 46 ms
	fineHop   = 64  // 5.8 ms
	fineBands = 20
	fineSpan  = 2.0  // s that are compared at once
	fineReach = 0.12 // s tried on either side
	fineRise  = 4    // frames over which a rise counts
)

// fineRows measures where sounds begin, band by band, around a place of a wave:
// the rise of the compressed spectrum from frame to frame.
type fineRows struct {
	fft         *fourier.Transform
	win         []float32
	block, spec []float32
}

func newFineRows() *fineRows {
	f := &fineRows{fft: fourier.New(fineSize), win: make([]float32, fineSize), block: make([]float32, fineSize), spec: make([]float32, fineSize/2+1)}
	for i := range f.win {
		f.win[i] = float32(0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/fineSize))
	}
	return f
}

// rises gives frames of rises, the first about the time from; the bands lie
// higher by a factor. rate stretches time: the hop is so many times as long.
func (f *fineRows) rises(w wave, from, rate float64, frames int, higher float64) []float32 {
	total := frames + fineRise
	logs := make([]float32, total*fineBands)
	var edges [fineBands + 1]int
	for k := range edges {
		hz := 150 * higher * math.Exp2(float64(k)*4.9/fineBands) // to 4.5 kHz
		edges[k] = int(hz * fineSize / w.rate)
	}
	start := (from - fineRise*fineHop*rate/matchRate) * w.rate
	for i := range total {
		at := int(math.Round(start + float64(i)*fineHop*rate*w.rate/matchRate))
		for j := range f.block {
			v := float32(0)
			if k := at + j - fineSize/2; k >= 0 && k < len(w.x) {
				v = w.x[k]
			}
			f.block[j] = v * f.win[j]
		}
		f.fft.Power(f.block, f.spec)
		for k := range fineBands {
			sum := float32(0)
			a, b := edges[k], max(edges[k]+1, edges[k+1])
			for _, v := range f.spec[min(a, len(f.spec)-1):min(b, len(f.spec))] {
				sum += v
			}
			logs[i*fineBands+k] = float32(math.Log(float64(sum) + 1e-6))
		}
	}
	out := make([]float32, frames*fineBands)
	for i := range frames {
		for k := range fineBands {
			out[i*fineBands+k] = max(0, logs[(i+fineRise)*fineBands+k]-logs[i*fineBands+k])
		}
	}
	return out
}

// fine finds by how much the old recording lies later than a line says around
// a time of the new one, from where sounds begin; higher is the factor of its
// pitch. false where nothing begins in either.
func (f *fineRows) fine(old, new wave, t float64, l line, higher float64) (probe, bool) {
	hop := float64(fineHop) / matchRate
	n, reach := int(math.Round(fineSpan/hop)), int(math.Round(fineReach/hop))
	from := t - fineSpan/2
	b := f.rises(new, from, 1, n, 1)
	a := f.rises(old, l.old(from)-float64(reach)*hop*l.rate, l.rate, n+2*reach, higher)
	flatten(a)
	flatten(b)
	var eb float64
	for _, v := range b {
		eb += float64(v) * float64(v)
	}
	likes := make([]float64, 2*reach+1)
	top := 0
	for s := range likes {
		part := a[s*fineBands : s*fineBands+len(b)]
		var ab, aa float32
		for i, v := range b {
			ab += v * part[i]
			aa += part[i] * part[i]
		}
		if aa > 0 && eb > 0 {
			likes[s] = float64(ab) / math.Sqrt(float64(aa)*eb)
		}
		if likes[s] > likes[top] {
			top = s
		}
	}
	if likes[top] <= 0 {
		return probe{}, false
	}
	place := float64(top - reach)
	if top > 0 && top+1 < len(likes) {
		u, v, w := likes[top-1], likes[top], likes[top+1]
		if d := u - 2*v + w; d < 0 {
			place += 0.5 * (u - w) / d
		}
	}
	return probe{new: t, off: place * hop * l.rate, like: likes[top]}, true
}

// flatten takes the mean of each band away.
func flatten(x []float32) {
	n := len(x) / fineBands
	for k := range fineBands {
		sum := float32(0)
		for i := range n {
			sum += x[i*fineBands+k]
		}
		sum /= float32(n)
		for i := range n {
			x[i*fineBands+k] -= sum
		}
	}
}

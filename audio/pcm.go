package audio

import (
	"context"
	"math"
)

// PCM is a whole song in memory, to play and to seek in: interleaved 16 bit
// samples.
type PCM struct {
	Rate, Channels int
	Samples        []int16
}

// Frames is the number of frames.
func (p *PCM) Frames() int64 {
	if p.Channels == 0 {
		return 0
	}
	return int64(len(p.Samples) / p.Channels)
}

// Write appends frames; it is a sink for Run.
func (p *PCM) Write(frames []float32) error {
	at := len(p.Samples)
	p.Samples = append(p.Samples, make([]int16, len(frames))...)
	for i, v := range frames {
		p.Samples[at+i] = ToPCM(v)
	}
	return nil
}

// roundBig pushes the fraction out of a float32 of less than 2^22, rounding it
// to the nearest integer, ties to even.
const roundBig = 3 << 22

// ToPCM rounds a sample of full scale ±1 to 16 bit, without dither, and clips
// it. What came from 16 bit samples comes back unchanged.
func ToPCM(v float32) int16 {
	v *= 1 << 15
	switch {
	case v >= math.MaxInt16:
		return math.MaxInt16
	case v <= math.MinInt16:
		return math.MinInt16
	}
	return int16(v + roundBig - roundBig)
}

// expectedCap is the largest number of samples reserved on the word of a
// file's header: half an hour of stereo.
const expectedCap = 1800 * 48000 * 2

// NewPCM is an empty PCM with room for what src announces.
func NewPCM(src Source) *PCM {
	in := src.Info()
	room := min(max(in.Frames, 0)*int64(in.Channels), expectedCap)
	return &PCM{Rate: in.Rate, Channels: in.Channels, Samples: make([]int16, 0, room)}
}

// Decode reads the whole file at path. progress, which may be nil, hears of
// frames done and in total (-1 while unknown).
func Decode(ctx context.Context, path string, progress func(done, total int64)) (*PCM, error) {
	src, err := Open(path)
	if err != nil {
		return nil, err
	}
	defer src.Close()
	p := NewPCM(src)
	if err := Run(ctx, src, 0, p.Write, Progress(src, progress)); err != nil {
		return nil, err
	}
	return p, nil
}

// Leave makes the song the one of some of its channels, counted from 1 and in
// order: one or two stand alone, of more the others fall silent in their places,
// which say on which side they sound. Without any it is silence. It is for a song
// that nobody plays yet.
func (p *PCM) Leave(channels []int) {
	n := len(channels)
	if n == p.Channels {
		return
	}
	if n == 1 || n == 2 {
		to := 0
		for at := 0; at < len(p.Samples); at += p.Channels {
			for _, c := range channels {
				p.Samples[to] = p.Samples[at+c-1]
				to++
			}
		}
		clear(p.Samples[to:]) // nothing of the others stays in memory that is played from
		p.Samples, p.Channels = p.Samples[:to:to], n
		return
	}
	for at := 0; at < len(p.Samples); at += p.Channels {
		next := 0
		for c := range p.Channels {
			if next < n && channels[next] == c+1 {
				next++
				continue
			}
			p.Samples[at+c] = 0
		}
	}
}

// PyramidOf gives the peaks of a whole song.
func PyramidOf(p *PCM) *Pyramid {
	b := NewBuilder(p.Rate, p.Channels)
	part := make([]float32, 4096*p.Channels)
	for at := 0; at < len(p.Samples); at += len(part) {
		n := min(len(part), len(p.Samples)-at)
		for i, v := range p.Samples[at : at+n] {
			part[i] = float32(v) / (1 << 15)
		}
		_ = b.Write(part[:n]) // gives no error
	}
	return b.Finish()
}

// Peaks fills columns with the peaks of the frames from..to, each for an equal
// part of them, sample by sample: for zooms where a Pyramid is too coarse. It
// leaves the bands at 0. What lies outside the song is silence.
func (p *PCM) Peaks(from, to int64, columns []Peak) {
	n := int64(len(columns))
	for i := range n {
		a := from + (to-from)*i/n
		b := max(a+1, from+(to-from)*(i+1)/n)
		columns[i] = p.peak(max(a, 0), min(b, p.Frames()))
	}
}

// peak sums up frames a..b.
func (p *PCM) peak(a, b int64) Peak {
	if a >= b {
		return Peak{}
	}
	samples := p.Samples[a*int64(p.Channels) : b*int64(p.Channels)]
	q := Peak{Min: samples[0], Max: samples[0]}
	var square float64
	for _, v := range samples {
		q.Min, q.Max = min(q.Min, v), max(q.Max, v)
		square += float64(v) * float64(v)
	}
	q.RMS = uint16(math.Sqrt(square/float64(len(samples))) + 0.5)
	return q
}

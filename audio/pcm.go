package audio

import (
	"context"
	"io"
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

// ToPCM rounds a sample of full scale ±1 to 16 bit, without dither, and clips
// it. What came from 16 bit samples comes back unchanged.
func ToPCM(v float32) int16 {
	r := math.RoundToEven(float64(v) * (1 << 15))
	return int16(max(math.MinInt16, min(math.MaxInt16, r)))
}

// Decode reads the whole file at path. progress, which may be nil, hears of
// frames done and in total (-1 while unknown).
func Decode(ctx context.Context, path string, progress func(done, total int64)) (*PCM, error) {
	src, err := Open(path)
	if err != nil {
		return nil, err
	}
	defer src.Close()
	return DecodeSource(ctx, src, progress)
}

// DecodeSource reads what is left of src.
func DecodeSource(ctx context.Context, src Source, progress func(done, total int64)) (*PCM, error) {
	in := src.Info()
	p := &PCM{Rate: in.Rate, Channels: in.Channels}
	err := Run(ctx, src, 0, Progress(src, progress), func(frames []float32) error {
		for _, v := range frames {
			p.Samples = append(p.Samples, ToPCM(v))
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return p, nil
}

// Progress is a sink for Run that counts frames for progress, which may be nil.
func Progress(src Source, progress func(done, total int64)) func([]float32) error {
	channels := int64(src.Info().Channels)
	var done int64
	return func(frames []float32) error {
		if progress == nil {
			return nil
		}
		done += int64(len(frames)) / channels
		progress(done, src.Info().Frames)
		return nil
	}
}

// defaultBlock is the number of frames Run reads at once if not told: small
// enough to cancel at once, large enough to cost nothing a block.
const defaultBlock = 4096

// Run reads src to its end in blocks of that many frames (0: a sensible
// number) and hands each block to every sink in turn: one decoding feeds all.
// A sink must not keep the slice. Run stops at the first error, and within one
// block when ctx ends.
func Run(ctx context.Context, src Source, block int, sinks ...func(frames []float32) error) error {
	if block <= 0 {
		block = defaultBlock
	}
	channels := src.Info().Channels
	buf := make([]float32, block*channels)
	for {
		if err := ctx.Err(); err != nil {
			return err
		}
		n, err := src.Read(buf)
		for _, sink := range sinks {
			if n == 0 {
				break
			}
			if err := sink(buf[:n*channels]); err != nil {
				return err
			}
		}
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

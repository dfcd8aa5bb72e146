package audio

import (
	"context"
	"io"
)

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
		if n > 0 {
			if err := feed(buf[:n*channels], sinks); err != nil {
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

// feed hands one block to every sink.
func feed(frames []float32, sinks []func([]float32) error) error {
	for _, sink := range sinks {
		if err := sink(frames); err != nil {
			return err
		}
	}
	return nil
}

// Progress is a sink for Run that counts the frames read from src for
// progress, which may be nil; total is -1 while unknown.
func Progress(src Source, progress func(done, total int64)) func([]float32) error {
	channels := int64(src.Info().Channels)
	var done int64
	return func(frames []float32) error {
		done += int64(len(frames)) / channels
		if progress != nil {
			progress(done, src.Info().Frames)
		}
		return nil
	}
}

package audio

import (
	"fmt"
	"io"

	"emberbeat/audio/bits"
)

// guarded is a Source whose errors name its file, and whose decoder may panic
// on a damaged file without harm.
type guarded struct {
	Source
	name   string
	broken error // what ended it, if it was a panic
}

// open opens the decoder.
func (g *guarded) open(format Format, r io.ReadSeeker, size int64) error {
	src, err := decoders[format](r, size)
	g.Source = src
	return err
}

// Read reads from the decoder until that panics.
func (g *guarded) Read(dst []float32) (n int, err error) {
	if g.broken != nil {
		return 0, g.broken
	}
	err = g.try(func() (err error) {
		n, err = g.Source.Read(dst)
		return err
	})
	return n, err
}

// try calls f and gives its error, or its panic, as an error about the file.
func (g *guarded) try(f func() error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			g.broken = &FileError{Path: g.name, What: fmt.Sprintf("is damaged (%v)", p), Want: bits.WantAgain}
			err = g.broken
		}
	}()
	if err = f(); err == nil || err == io.EOF {
		return err
	}
	return at(g.name, err)
}

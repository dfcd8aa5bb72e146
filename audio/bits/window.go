package bits

import "io"

// Window is a reader that can look ahead.
type Window struct {
	r          io.Reader
	buf        []byte
	start, end int
	eof        bool
}

// NewWindow makes a Window that reads from r.
func NewWindow(r io.Reader) Window { return Window{r: r} }

const (
	windowPad   = 8 // bytes behind the window that Reader may touch
	windowChunk = 1 << 16
)

// Peek gives the next n bytes, fewer only at the end of the file.
func (w *Window) Peek(n int) ([]byte, error) {
	if w.end-w.start < n && !w.eof {
		if err := w.fill(n); err != nil {
			return nil, err
		}
	}
	return w.buf[w.start:min(w.end, w.start+n)], nil
}

// fill reads until the window holds n bytes, or all there are.
func (w *Window) fill(n int) error {
	if len(w.buf) < n+windowChunk+windowPad {
		w.buf = append(make([]byte, 0, n+windowChunk+windowPad), w.buf[w.start:w.end]...)
		w.buf = w.buf[:cap(w.buf)]
	} else {
		copy(w.buf, w.buf[w.start:w.end])
	}
	w.start, w.end = 0, w.end-w.start
	for w.end < n && !w.eof {
		got, err := w.r.Read(w.buf[w.end : len(w.buf)-windowPad])
		w.end += got
		if err == io.EOF {
			w.eof = true
		} else if err != nil {
			return err
		}
	}
	return nil
}

// Drop moves on by n bytes that were peeked at.
func (w *Window) Drop(n int) { w.start += n }

// Skip moves on by n bytes, which must be there.
func (w *Window) Skip(n int) error {
	for n > 0 {
		b, err := w.Peek(min(n, windowChunk))
		if err != nil {
			return err
		}
		if len(b) == 0 {
			return io.ErrUnexpectedEOF
		}
		w.Drop(len(b))
		n -= len(b)
	}
	return nil
}

// Bits gives a reader of n bytes from here on, or fewer at the end.
func (w *Window) Bits(n int) (Reader, error) {
	b, err := w.Peek(n)
	if err != nil {
		return Reader{}, err
	}
	if len(w.buf) < w.start+len(b)+windowPad { // an empty file
		return Reader{Buf: make([]byte, windowPad)}, nil
	}
	return Reader{Buf: w.buf[w.start : w.start+len(b)+windowPad], End: 8 * len(b)}, nil
}

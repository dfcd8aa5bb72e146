package audio

import "io"

// window is a reader that can look ahead.
type window struct {
	r          io.Reader
	buf        []byte
	start, end int
	eof        bool
}

func newWindow(r io.Reader) window { return window{r: r} }

const (
	windowPad   = 8 // bytes behind the window that bitReader may touch
	windowChunk = 1 << 16
)

// peek gives the next n bytes, fewer only at the end of the file.
func (w *window) peek(n int) ([]byte, error) {
	if w.end-w.start < n && !w.eof {
		if err := w.fill(n); err != nil {
			return nil, err
		}
	}
	return w.buf[w.start:min(w.end, w.start+n)], nil
}

// fill reads until the window holds n bytes, or all there are.
func (w *window) fill(n int) error {
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

// drop moves on by n bytes that were peeked at.
func (w *window) drop(n int) { w.start += n }

// skip moves on by n bytes, which must be there.
func (w *window) skip(n int) error {
	for n > 0 {
		b, err := w.peek(min(n, windowChunk))
		if err != nil {
			return err
		}
		if len(b) == 0 {
			return io.ErrUnexpectedEOF
		}
		w.drop(len(b))
		n -= len(b)
	}
	return nil
}

// bits gives a reader of n bytes from here on, or fewer at the end.
func (w *window) bits(n int) (bitReader, error) {
	b, err := w.peek(n)
	if err != nil {
		return bitReader{}, err
	}
	if len(w.buf) < w.start+len(b)+windowPad { // an empty file
		return bitReader{buf: make([]byte, windowPad)}, nil
	}
	return bitReader{buf: w.buf[w.start : w.start+len(b)+windowPad], end: 8 * len(b)}, nil
}

package mp3

import (
	"bufio"
	"io"

	"emberbeat/audio/bits"
)

// walk goes over the frames of an MP3 file, past tags and rubbish.
type walk struct {
	in      *bufio.Reader
	first   header // what all frames must agree with; 0 before the first
	frame   []byte // the current frame, valid until the next one
	skipped int64  // bytes passed over between frames, tags not counted
	lost    bool   // something was passed over before the current frame
	cut     bool   // the file ends inside a frame
}

// maxFrame is a little more than the longest frame: 1441 bytes.
const maxFrame = 1536

// confirmed is the number of headers in a row, each where the one before says
// it should be, that make a first frame.
const confirmed = 4

func newWalk(r io.Reader) *walk {
	return &walk{in: bufio.NewReaderSize(r, 1<<16), frame: make([]byte, 0, maxFrame)}
}

// next reads the next frame; io.EOF at the end of the file.
func (w *walk) next() (header, error) {
	trusted := w.first != 0 // right behind a frame a header needs no proof
	w.lost = false
	for {
		h, ok, err := w.header(trusted)
		if err != nil {
			return 0, err
		}
		if ok {
			return w.take(h)
		}
		if err := w.skip(); err != nil {
			return 0, err
		}
		trusted = false
	}
}

// header looks for a frame right here.
func (w *walk) header(trusted bool) (header, bool, error) {
	b, err := w.in.Peek(4)
	if len(b) < 4 {
		return 0, false, w.end(err)
	}
	h, ok := parseHeader(b)
	if !ok || w.first != 0 && !h.follows(w.first) {
		return 0, false, nil
	}
	if trusted {
		return h, h.size() > 0, nil
	}
	return h, w.confirm(h), nil
}

// confirm tells whether more frames follow the one with header h, up to the end
// of the file or as many as make it sure.
func (w *walk) confirm(h header) bool {
	at := 0
	for n := 1; n < confirmed; n++ {
		if h.size() == 0 || h.layer() != 3 {
			return n == 1 && w.first == 0 && w.skipped == 0 // the caller names and refuses it
		}
		at += h.size()
		b, _ := w.in.Peek(at + 4)
		if len(b) < at+4 {
			return len(b) >= at && n > 1 || len(b) == at
		}
		next, ok := parseHeader(b[at:])
		if !ok || !next.follows(h) {
			return bits.IsTag(b[at:])
		}
		h = next
	}
	return true
}

// take reads the frame with header h.
func (w *walk) take(h header) (header, error) {
	if w.first == 0 {
		w.first = h
	}
	w.frame = w.frame[:h.size()]
	if n, err := io.ReadFull(w.in, w.frame); err != nil {
		w.cut = n > 0
		return 0, w.end(err)
	}
	return h, nil
}

// end gives err, with every way to meet the end of the file as io.EOF.
func (w *walk) end(err error) error {
	if err == io.ErrUnexpectedEOF || err == nil {
		return io.EOF
	}
	return err
}

// skip passes over a tag or over one byte of rubbish.
func (w *walk) skip() error {
	b, _ := w.in.Peek(10)
	n := 1
	switch {
	case bits.HasAt(b, 0, "ID3") && len(b) == 10:
		n = bits.TagSize(b)
	case bits.HasAt(b, 0, "TAG"):
		n = 128
	default:
		w.skipped++
		w.lost = true
	}
	if _, err := w.in.Discard(n); err != nil {
		return w.end(err)
	}
	return nil
}

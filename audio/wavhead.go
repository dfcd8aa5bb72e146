package audio

import (
	"encoding/binary"
	"fmt"
	"io"

	"emberbeat/audio/bits"
)

// wavHead is what stands before the samples of a WAV file.
type wavHead struct {
	format   wavFormat
	dataAt   int64 // offset of the first sample
	dataSize int64 // bytes of samples that are really there
	warnings []string
}

// wavWalk is the state of one walk over a file's chunks.
type wavWalk struct {
	r       io.ReadSeeker
	size    int64 // of the file
	riff    int64 // size of the file as the header has it
	ds64    int64 // size of the data chunk by the ds64 chunk, -1 without one
	hasFmt  bool
	hasData bool
	head    wavHead
}

const wantWAV = "export the song again as WAV"

// readWAVHead walks the chunks of a file of size bytes. Nothing is allocated
// by a size that the file claims.
func readWAVHead(r io.ReadSeeker, size int64) (wavHead, error) {
	w := &wavWalk{r: r, size: size, ds64: -1}
	start := make([]byte, 12)
	if err := w.readAt(0, start); err != nil {
		return wavHead{}, err
	}
	w.riff = int64(binary.LittleEndian.Uint32(start[4:])) + 8
	pos := int64(12)
	for pos+8 <= size && !(w.hasFmt && w.hasData) {
		next, err := w.chunk(pos)
		if err != nil {
			return wavHead{}, err
		}
		pos = next
	}
	switch {
	case !w.hasFmt:
		return wavHead{}, bits.Wrong(wantWAV, "is a WAV file without a fmt chunk (%d bytes in all)", size)
	case !w.hasData:
		return wavHead{}, bits.Wrong(wantWAV, "is a WAV file without a data chunk: the header ends at byte %d of %d", min(pos, size), size)
	}
	return w.head, nil
}

// readAt fills b from offset; a file that ends before is cut short.
func (w *wavWalk) readAt(offset int64, b []byte) error {
	if offset+int64(len(b)) > w.size {
		return bits.Wrong(wantWAV, "is a WAV file that ends inside its header, at byte %d", w.size)
	}
	if _, err := w.r.Seek(offset, io.SeekStart); err != nil {
		return err
	}
	_, err := io.ReadFull(w.r, b)
	return err
}

// chunk reads the chunk at pos and gives the place of the next one.
func (w *wavWalk) chunk(pos int64) (int64, error) {
	var h [8]byte
	if err := w.readAt(pos, h[:]); err != nil {
		return 0, err
	}
	id, size := string(h[:4]), int64(binary.LittleEndian.Uint32(h[4:]))
	body := pos + 8
	switch id {
	case "data":
		size = w.data(body, size)
	case "fmt ":
		if err := w.fmt(body, size); err != nil {
			return 0, err
		}
	case "ds64":
		if err := w.readDS64(body, size); err != nil {
			return 0, err
		}
	default:
		if body+size > w.size {
			return 0, bits.Wrong(wantWAV, "is a damaged WAV file: chunk %q at byte %d claims %d bytes, but only %d follow", id, pos, size, w.size-body)
		}
	}
	return body + size + size&1, nil
}

// readDS64 takes the 64 bit sizes of RF64 (EBU Tech 3306).
func (w *wavWalk) readDS64(body, size int64) error {
	var b [16]byte
	if size < int64(len(b)) {
		return bits.Wrong(wantWAV, "is a damaged RF64 file: its ds64 chunk has %d bytes instead of at least 24", size)
	}
	if err := w.readAt(body, b[:]); err != nil {
		return err
	}
	riff, data := binary.LittleEndian.Uint64(b[:]), binary.LittleEndian.Uint64(b[8:])
	if data > 1<<62 || riff > 1<<62 {
		return bits.Wrong(wantWAV, "is a damaged RF64 file: its ds64 chunk claims %d bytes", data)
	}
	w.riff, w.ds64 = int64(riff)+8, int64(data)
	return nil
}

// fmt reads the fmt chunk.
func (w *wavWalk) fmt(body, size int64) error {
	if size < 16 || body+size > w.size {
		return bits.Wrong(wantWAV, "is a damaged WAV file: its fmt chunk claims %d bytes, %d follow, and at least 16 are needed", size, w.size-body)
	}
	b := make([]byte, min(size, 40))
	if err := w.readAt(body, b); err != nil {
		return err
	}
	f, err := parseWAVFormat(b)
	if err != nil {
		return err
	}
	if f.odd != "" {
		w.warn("%s", f.odd)
	}
	w.head.format, w.hasFmt = f, true
	return nil
}

// data notes where the samples are, and how many bytes of them there are. It
// gives the size of the chunk as far as it can be believed.
func (w *wavWalk) data(body, size int64) int64 {
	rest := w.size - body
	if size == 0xFFFFFFFF && w.ds64 >= 0 {
		size = w.ds64
	}
	switch {
	case streamed(size) && size > rest, size == 0 && w.riff != w.size:
		// Written to a pipe: the writer could not know the size.
		size = rest
	case size > rest:
		w.warn("The file is cut short: %d bytes of sound are announced, %d are there.", size, rest)
		size = rest
	}
	w.head.dataAt, w.head.dataSize, w.hasData = body, size, true
	return size
}

func (w *wavWalk) warn(format string, args ...any) {
	w.head.warnings = append(w.head.warnings, fmt.Sprintf(format, args...))
}

// streamed tells whether size is what programs write that do not know the
// size: all ones, or the largest value that some readers take, rounded down.
func streamed(size int64) bool {
	return size >= 0x7FFFF000 && size <= 0x7FFFFFFF || size >= 0xFFFFF000 && size <= 0xFFFFFFFF
}

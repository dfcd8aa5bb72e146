package intake

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// Broadcast is what a WAV file says besides its sound: the broadcast extension
// of EBU Tech 3285, and the labels of its cue points.
type Broadcast struct {
	SampleRate    int
	HasExtension  bool
	Description   string
	Originator    string
	Date, Time    string
	TimeReference uint64 // samples from midnight to the first sample
	Labels        []CueLabel
	Notes         []string
}

// CueLabel is a named sample.
type CueLabel struct {
	Sample int64
	Name   string
}

// Sizes in a WAV file.
const (
	bextFixed   = 602 // of version 1 and 2, to the coding history
	bextLeast   = 346 // up to the time reference
	cuePoint    = 24
	mostLabels  = 100_000
	mostChunk   = 16 << 20 // the largest chunk that is looked into
	lastRate    = 10_000_000
	mostSamples = 1 << 50
)

// ReadBroadcast reads the chunks of a WAV or RF64 file of size bytes. A
// damaged chunk is passed over with a note; what is no WAV file is an error.
func ReadBroadcast(r io.ReaderAt, size int64) (*Broadcast, error) {
	w := &waveChunks{r: r, size: size, names: map[uint32]string{}, ds64: -1}
	var head [12]byte
	if _, err := r.ReadAt(head[:], 0); err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	id := string(head[:4])
	if id != "RIFF" && id != "RF64" && id != "BW64" || string(head[8:]) != "WAVE" {
		return nil, errors.New("this is no WAV file")
	}
	for pos := int64(12); pos+8 <= size; {
		next, err := w.chunk(pos)
		if err != nil {
			return nil, err
		}
		pos = next
	}
	w.label()
	return &w.found, nil
}

// waveChunks is the state of a walk over chunks.
type waveChunks struct {
	r     io.ReaderAt
	size  int64
	ds64  int64
	found Broadcast
	cues  []cue
	names map[uint32]string
}

type cue struct {
	id     uint32
	sample int64
}

func (w *waveChunks) note(format string, args ...any) {
	if len(w.found.Notes) < 20 { // as many as a person reads
		w.found.Notes = append(w.found.Notes, fmt.Sprintf(format, args...))
	}
}

// chunk reads the chunk at a place and gives that of the next.
func (w *waveChunks) chunk(pos int64) (int64, error) {
	var h [8]byte
	if _, err := w.r.ReadAt(h[:], pos); err != nil && !errors.Is(err, io.EOF) {
		return 0, err
	}
	id, size := string(h[:4]), int64(binary.LittleEndian.Uint32(h[4:]))
	if id == "data" && size == 0xFFFFFFFF && w.ds64 >= 0 {
		size = w.ds64
	}
	pos += 8
	rest := w.size - pos
	if handle := map[string]func([]byte){"fmt ": w.format, "ds64": w.sizes, "bext": w.extension, "cue ": w.points, "LIST": w.list}[id]; handle != nil {
		if size > rest {
			w.note("Chunk %q claims %d bytes, of which %d are there; it is passed over.", id, size, rest)
			return w.size, nil
		}
		b := make([]byte, min(size, mostChunk))
		if _, err := w.r.ReadAt(b, pos); err != nil && !errors.Is(err, io.EOF) {
			return 0, err
		}
		handle(b)
	}
	if size > rest {
		return w.size, nil
	}
	return pos + size + size&1, nil
}

func (w *waveChunks) format(b []byte) {
	if len(b) < 8 {
		return
	}
	if rate := binary.LittleEndian.Uint32(b[4:]); rate > 0 && rate <= lastRate {
		w.found.SampleRate = int(rate)
	}
}

func (w *waveChunks) sizes(b []byte) {
	if len(b) >= 16 {
		w.ds64 = int64(min(binary.LittleEndian.Uint64(b[8:]), 1<<62))
	}
}

// extension reads the fixed part of a bext chunk.
func (w *waveChunks) extension(b []byte) {
	if len(b) < bextLeast {
		w.note("The broadcast extension has %d bytes instead of at least %d; it is passed over.", len(b), bextFixed)
		return
	}
	f := &w.found
	f.HasExtension = true
	f.Description, f.Originator = field(b[:256]), field(b[256:288])
	f.Date, f.Time = field(b[320:330]), field(b[330:338])
	f.TimeReference = binary.LittleEndian.Uint64(b[338:])
}

// field is text up to the first zero byte.
func field(b []byte) string {
	if i := bytes.IndexByte(b, 0); i >= 0 {
		b = b[:i]
	}
	return strings.TrimSpace(text(b))
}

// points reads a cue chunk.
func (w *waveChunks) points(b []byte) {
	if len(b) < 4 {
		return
	}
	count := int64(binary.LittleEndian.Uint32(b))
	if there := int64(len(b)-4) / cuePoint; count > there {
		w.note("The file says it has %d cue points; %d are there.", count, there)
		count = there
	}
	for i := range min(count, mostLabels) {
		p := b[4+i*cuePoint:]
		w.cues = append(w.cues, cue{binary.LittleEndian.Uint32(p), int64(binary.LittleEndian.Uint32(p[20:]))})
	}
}

// list reads the names in an adtl list. A labl chunk is the name; a note
// stands in where there is none.
func (w *waveChunks) list(b []byte) {
	if len(b) < 4 || string(b[:4]) != "adtl" {
		return
	}
	for b = b[4:]; len(b) >= 8; {
		id, size := string(b[:4]), int64(binary.LittleEndian.Uint32(b[4:]))
		b = b[8:]
		if size > int64(len(b)) {
			w.note("A label claims %d bytes, of which %d are there; it is passed over.", size, len(b))
			return
		}
		if (id == "labl" || id == "note") && size >= 4 {
			point := binary.LittleEndian.Uint32(b)
			name := field(b[4:size])
			if _, known := w.names[point]; name != "" && (id == "labl" || !known) && len(w.names) < mostLabels {
				w.names[point] = name
			}
		}
		b = b[min(size+size&1, int64(len(b))):]
	}
}

// label names the cue points, in the order of the sound.
func (w *waveChunks) label() {
	for i, c := range w.cues {
		name := w.names[c.id]
		if name == "" {
			name = fmt.Sprintf("marker %d", i+1)
		}
		w.found.Labels = append(w.found.Labels, CueLabel{c.sample, name})
	}
	slices.SortStableFunc(w.found.Labels, func(a, b CueLabel) int { return int(a.Sample - b.Sample) })
}

// Found gives what the file says about a song whose audio it is: its start in
// timecode of a rate, to the nearest frame, and its markers.
func (b *Broadcast) Found(rate timeline.Rate) (*Found, error) {
	f := &Found{Notes: b.Notes}
	if b.SampleRate == 0 {
		return nil, errors.New("the WAV file does not say its sample rate")
	}
	for _, l := range b.Labels {
		f.Markers = append(f.Markers, Named{l.Name, timeline.AtTime(timeline.FromSamples(l.Sample, b.SampleRate))})
	}
	if !b.HasExtension {
		return f, nil
	}
	if b.TimeReference > mostSamples {
		return nil, fmt.Errorf("the time reference of %d samples is no time of a day", b.TimeReference)
	}
	at := timeline.FromSamples(int64(b.TimeReference), b.SampleRate)
	frame := rate.Nearest(at)
	tc, err := rate.Timecode(frame)
	if err != nil {
		return nil, fmt.Errorf("the time reference of %d samples: %w", b.TimeReference, err)
	}
	if off := rate.At(frame) - at; off != 0 {
		f.Notes = append(slices.Clone(f.Notes), fmt.Sprintf("The time reference is no whole frame: %s is %s s away.", rate.Label(frame), off.Text(6)))
	}
	f.Start = &tc
	return f, nil
}

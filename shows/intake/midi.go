package intake

import (
	"encoding/binary"
	"errors"
	"fmt"
	"unicode/utf8"

	"emberbeat/timeline"
)

// MIDI is what a Standard MIDI File says about time: tempos, time signatures
// and named places. Notes and everything else are passed over.
type MIDI struct {
	Name    string
	quarter int64 // ticks of a quarter note; 0 where ticks are parts of a frame
	frame   int64 // ticks of a frame
	rate    timeline.Rate
	tempos  []midiTempo
	metres  []midiMetre
	names   []midiName
	says    bool  // a tempo is said, if only the one that would hold unsaid
	end     int64 // last tick
	Notes   []string
}

type midiTempo struct {
	tick  int64
	tempo int64 // µs a quarter note
	at    int64 // in 1/quarter µs
}

type midiMetre struct {
	tick  int64
	metre timeline.Metre
}

// midiName is a text that marks a place.
type midiName struct {
	tick int64
	kind byte
	text string
	in   string // name of its track
}

// Meta events (RP-001).
const (
	metaText      = 0x01
	metaTrackName = 0x03
	metaMarker    = 0x06
	metaCue       = 0x07
	metaEnd       = 0x2F
	metaTempo     = 0x51
	metaSignature = 0x58
)

// defaultTempo is 120 quarter notes a minute (RP-001).
const defaultTempo = 500_000

// longest is the most that a file may last, in microseconds.
const longest = 1000 * 3600 * 1_000_000

// MaxMIDIBytes is the largest file that is read.
const MaxMIDIBytes = 64 << 20

const wantMIDI = "export it again as a Standard MIDI File of format 0 or 1"

// ReadMIDI reads a file's bytes. A file that ends early is read as far as it
// goes, with a note; one that is no MIDI file, or has tracks that are songs of
// their own (format 2), is an error.
func ReadMIDI(data []byte) (*MIDI, error) {
	if len(data) < 14 || string(data[:4]) != "MThd" || binary.BigEndian.Uint32(data[4:]) < 6 {
		return nil, errors.New("this is no Standard MIDI File; " + wantMIDI)
	}
	format, tracks, division := binary.BigEndian.Uint16(data[8:]), int(binary.BigEndian.Uint16(data[10:])), binary.BigEndian.Uint16(data[12:])
	if format > 1 {
		return nil, fmt.Errorf("the MIDI file has format %d; %s", format, wantMIDI)
	}
	m := &MIDI{}
	if err := m.setDivision(division); err != nil {
		return nil, err
	}
	rest := data[8:]
	rest = rest[min(int64(len(rest)), int64(binary.BigEndian.Uint32(data[4:]))):]
	found := 0
	for len(rest) >= 8 {
		name, size := string(rest[:4]), int64(binary.BigEndian.Uint32(rest[4:]))
		rest = rest[8:]
		if size > int64(len(rest)) {
			m.note("The file ends early: a part of %d bytes has %d.", size, len(rest))
			size = int64(len(rest))
		}
		if name == "MTrk" {
			m.track(rest[:size], found == 0)
			found++
		}
		rest = rest[size:]
	}
	if found < tracks {
		m.note("The file says it has %d tracks; %d are there.", tracks, found)
	}
	return m, m.finish()
}

func (m *MIDI) note(format string, args ...any) {
	if len(m.Notes) < 20 { // as many as a person reads
		m.Notes = append(m.Notes, fmt.Sprintf(format, args...))
	}
}

// setDivision reads what a tick is.
func (m *MIDI) setDivision(d uint16) error {
	if d&0x8000 == 0 {
		m.quarter = int64(d)
		if d == 0 {
			return errors.New("the MIDI file has 0 ticks to a quarter note; " + wantMIDI)
		}
		return nil
	}
	rates := map[int8]timeline.Rate{-24: timeline.Rate24, -25: timeline.Rate25, -29: timeline.Rate2997DF, -30: timeline.Rate30}
	m.rate, m.frame = rates[int8(d>>8)], int64(d&0xFF)
	if m.rate == timeline.RateUnset || m.frame == 0 {
		return fmt.Errorf("the MIDI file divides %d frames a second into %d ticks, which is no division; %s", -int8(d>>8), m.frame, wantMIDI)
	}
	return nil
}

// track reads the meta events of a track.
func (m *MIDI) track(b []byte, first bool) {
	r := midiBytes{b: b}
	name, from := "", len(m.names)
	for tick := int64(0); len(r.b) > 0 && !r.broken; {
		tick += r.varLength()
		kind, data := r.event()
		if r.broken || tick > 1<<40 {
			m.note("A track ends inside an event; it is read as far as it goes.")
			break
		}
		m.end = max(m.end, tick)
		switch {
		case kind == metaEnd:
			r.b = nil
		case kind == metaTrackName && name == "":
			name = text(data)
		default:
			m.meta(tick, kind, data)
		}
	}
	if first {
		m.Name = name
	}
	for i := from; i < len(m.names); i++ {
		m.names[i].in = name
	}
}

// meta takes one meta event.
func (m *MIDI) meta(tick int64, kind byte, data []byte) {
	switch {
	case kind == metaTempo && len(data) == 3:
		tempo := int64(data[0])<<16 | int64(data[1])<<8 | int64(data[2])
		if tempo == 0 {
			m.note("A tempo of 0 microseconds a quarter note is left out.")
			return
		}
		m.tempos, m.says = append(m.tempos, midiTempo{tick: tick, tempo: tempo}), true
	case kind == metaSignature && len(data) >= 2:
		metre := timeline.Metre{Num: int(data[0]), Den: 1 << min(data[1], 16)}
		if err := metre.Check(); err != nil {
			m.note("A time signature is left out: %v.", err)
			return
		}
		m.metres = append(m.metres, midiMetre{tick, metre})
	case kind == metaText || kind == metaMarker || kind == metaCue:
		m.names = append(m.names, midiName{tick: tick, kind: kind, text: text(data)})
	}
}

// text makes a name of a text event: one line, Latin letters where it is no
// UTF-8.
func text(data []byte) string {
	if len(data) > 200 {
		data = data[:200]
	}
	var runes []rune
	if utf8.Valid(data) {
		runes = []rune(string(data))
	} else {
		for _, b := range data {
			runes = append(runes, rune(b))
		}
	}
	kept := runes[:0]
	for _, r := range runes {
		if r >= ' ' && r != 0x7F {
			kept = append(kept, r)
		}
	}
	return timeline.CleanText(string(kept)) // and what else no show keeps
}

// midiBytes reads events.
type midiBytes struct {
	b       []byte
	broken  bool
	running byte
}

func (r *midiBytes) byte() byte {
	if len(r.b) == 0 {
		r.broken = true
		return 0
	}
	b := r.b[0]
	r.b = r.b[1:]
	return b
}

// varLength reads a number of at most four bytes, seven bits each.
func (r *midiBytes) varLength() int64 {
	var n int64
	for range 4 {
		b := r.byte()
		n = n<<7 | int64(b&0x7F)
		if b&0x80 == 0 {
			return n
		}
	}
	r.broken = true
	return 0
}

func (r *midiBytes) take(n int64) []byte {
	if n > int64(len(r.b)) {
		r.broken = true
		return nil
	}
	b := r.b[:n]
	r.b = r.b[n:]
	return b
}

// event reads an event and gives the kind and data of a meta event; all others
// give 0.
func (r *midiBytes) event() (kind byte, data []byte) {
	status := r.byte()
	switch {
	case status == 0xFF:
		kind = r.byte()
		r.running = 0
		return kind, r.take(r.varLength())
	case status == 0xF0 || status == 0xF7:
		r.running = 0
		r.take(r.varLength())
	case status >= 0xF0:
		r.broken = true // no such thing in a file
	case status >= 0x80:
		r.running = status
		r.take(channelBytes(status))
	case r.running != 0:
		r.take(channelBytes(r.running) - 1)
	default:
		r.broken = true
	}
	return 0, nil
}

// channelBytes is the number of bytes after a channel message's status.
func channelBytes(status byte) int64 {
	if s := status & 0xF0; s == 0xC0 || s == 0xD0 {
		return 1
	}
	return 2
}

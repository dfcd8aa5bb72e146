package stripe

import (
	"cmp"
	"fmt"
	"io"
	"slices"

	"emberbeat/timeline"
)

// MIDI is a song's tempo map, time signatures, sections and markers as a
// Standard MIDI File. It holds meta events alone: no notes, no timecode, no
// machine or show control.
//
// Tick 0 is the start of the audio. Where that is no bar line, the file starts
// with a short bar that ends on the first one; a text event says which bar of
// the song that is.
type MIDI struct {
	tracks [3][]midiEvent
	tempos midiTempos
	Left   int // sections and markers before the audio, which the file cannot hold
}

// midiEvent is a meta event at a tick.
type midiEvent struct {
	tick int64
	kind byte
	data []byte
}

// Meta events (RP-001).
const (
	metaText      = 0x01
	metaName      = 0x03
	metaMarker    = 0x06
	metaEnd       = 0x2F
	metaTempo     = 0x51
	metaOffset    = 0x54
	metaSignature = 0x58
)

// The tracks of the file.
const (
	tempoTrack = iota
	sectionTrack
	markerTrack
)

// ticksPerQuarter divides all beats down to 128ths and their triplets and
// quintuplets; at 40 beats a minute a tick is 0.4 ms.
const ticksPerQuarter = 3840

// longestMIDI bounds what the sums of ticks can hold.
const longestMIDI = 48 * timeline.Hour

// NewMIDI gives the file of a song.
func NewMIDI(ps *timeline.SongPlan) (*MIDI, error) {
	if ps.Duration > longestMIDI {
		return nil, fmt.Errorf("song %q is too long for a MIDI file: at most %d hours", ps.Song.FullTitle(), longestMIDI/timeline.Hour)
	}
	m := &MIDI{}
	m.add(tempoTrack, 0, metaName, []byte(ps.Song.FullTitle()))
	m.offset(ps)
	if err := m.bars(ps.Song.Beats, ps.Duration); err != nil {
		return nil, fmt.Errorf("song %q: %w", ps.Song.FullTitle(), err)
	}
	m.add(sectionTrack, 0, metaName, []byte("sections"))
	for _, s := range ps.Song.Sections {
		m.named(sectionTrack, ps.Song, s.At, cmp.Or(s.Name, "section"))
	}
	m.add(markerTrack, 0, metaName, []byte("markers"))
	for _, k := range ps.Song.Markers {
		m.named(markerTrack, ps.Song, k.At, cmp.Or(k.Name, "marker"))
	}
	return m, nil
}

func (m *MIDI) add(track int, tick int64, kind byte, data []byte) {
	m.tracks[track] = append(m.tracks[track], midiEvent{tick, kind, data})
}

// offset says at which timecode the file starts.
func (m *MIDI) offset(ps *timeline.SongPlan) {
	base := -ps.TimeOf(0)
	frame := ps.Rate.Floor(base)
	tc, err := ps.Rate.Timecode(frame)
	if err != nil || ps.StartErr != nil {
		return // a rule reports it
	}
	rates := map[int]byte{24: 0, 25: 1, 30: 3}
	rate := rates[ps.Rate.Nominal()]
	if ps.Rate.Drop() {
		rate = 2
	}
	hundredths := (base - ps.Rate.At(frame)) * 100 / ps.Rate.FrameTicks()
	m.add(tempoTrack, 0, metaOffset, []byte{rate<<5 | tc.H, tc.M, tc.S, tc.F, byte(hundredths)})
}

// named adds a marker event.
func (m *MIDI) named(track int, song *timeline.Song, at timeline.Moment, name string) {
	t, ok := at.In(song.Beats)
	if !ok || t < 0 {
		m.Left++
		return
	}
	tick, ok := m.tempos.tickOf(at, song.Beats)
	if !ok {
		tick = m.tempos.tickAt(t)
	}
	m.add(track, tick, metaMarker, []byte(name))
}

// WriteTo writes the file: format 1, tempo map first.
func (m *MIDI) WriteTo(w io.Writer) (int64, error) {
	b := []byte{'M', 'T', 'h', 'd', 0, 0, 0, 6, 0, 1, 0, byte(len(m.tracks)), ticksPerQuarter >> 8, ticksPerQuarter & 0xFF}
	for _, events := range m.tracks {
		slices.SortStableFunc(events, func(a, b midiEvent) int { return cmp.Compare(a.tick, b.tick) })
		var body []byte
		var at int64
		for _, e := range append(events, midiEvent{m.tempos.end, metaEnd, nil}) {
			body = appendVarLength(body, uint32(max(0, e.tick-at)))
			body = appendVarLength(append(body, 0xFF, e.kind), uint32(len(e.data)))
			body = append(body, e.data...)
			at = max(at, e.tick)
		}
		n := len(body)
		b = append(b, 'M', 'T', 'r', 'k', byte(n>>24), byte(n>>16), byte(n>>8), byte(n))
		b = append(b, body...)
	}
	n, err := w.Write(b)
	return int64(n), err
}

// appendVarLength writes a number seven bits a byte, highest first.
func appendVarLength(b []byte, n uint32) []byte {
	for shift := 21; shift > 0; shift -= 7 {
		if n>>shift != 0 {
			b = append(b, byte(n>>shift)|0x80)
		}
	}
	return append(b, byte(n&0x7F))
}

package stripe

import (
	"fmt"
	"math/bits"
	"sort"

	"emberbeat/timeline"
)

// midiTempos is a tempo map in ticks.
type midiTempos struct {
	pieces []midiPiece
	bars   []midiBar
	end    int64 // tick after the last bar
}

// midiPiece is a stretch of one tempo.
type midiPiece struct {
	tick  int64
	at    int64 // in 1/ticksPerQuarter µs
	tempo int64 // µs a quarter note
}

// midiBar is where a bar of the song starts.
type midiBar struct {
	bar  int
	tick int64
}

// quartersAPiece bounds a stretch of uneven tempo. Tempos are whole
// microseconds, so such a stretch is played by two neighbouring ones, and is
// off by at most a quarter microsecond a quarter note in its middle.
const quartersAPiece = 1500

// slowestTempo is the largest tempo that 24 bits hold.
const slowestTempo = 1<<24 - 1

// fileTime gives a time in the unit of pieces.
func fileTime(t timeline.Time) int64 {
	// 25 µs are 7056 units of Time.
	const num, den = 25 * ticksPerQuarter, 7056
	return int64(t)/den*num + (int64(t)%den*num+den/2)/den
}

// bars writes tempos and time signatures from the start of the audio to the
// first bar line after its end.
func (m *MIDI) bars(beats *timeline.BeatMap, duration timeline.Time) error {
	if beats.Empty() {
		m.add(tempoTrack, 0, metaSignature, []byte{4, 2, 24, 8})
		return m.stretch(0, ticksPerQuarter*int64(duration/timeline.Second+1)*2, (duration/timeline.Second+1)*timeline.Second)
	}
	bar := beats.Locate(0).Bar
	for beats.BarStart(bar) < 0 {
		bar++
	}
	tick, err := m.pickup(beats, beats.BarStart(bar), bar)
	if err != nil {
		return err
	}
	return m.walk(beats, duration, bar, tick)
}

// leastPickup is a start of the audio that counts as being on the bar line.
const leastPickup = timeline.Millisecond / 4

// pickup writes the short bar before the first bar line: as many notes as fit
// it best, of a value that keeps the tempo below 1,000 a minute if one can.
func (m *MIDI) pickup(beats *timeline.BeatMap, length timeline.Time, bar int) (int64, error) {
	if length < leastPickup {
		m.text(bar, 0)
		return 0, nil
	}
	metre := beats.MetreAt(bar - 1)
	beat := (beats.BarStart(bar) - beats.BarStart(bar-1)) / timeline.Time(metre.Num)
	num, den := max(1, int64((length+beat/2)/beat)), int64(metre.Den)
	for den < 32 && int64(length)*1000*den < 60*4*num*int64(timeline.Second) {
		num, den = max(1, min(32, int64(2*den)*int64(length)/int64(beat)/int64(metre.Den))), 2*den
	}
	ticks := num * 4 * ticksPerQuarter / den
	m.signature(0, timeline.Metre{Num: int(num), Den: int(den)})
	m.text(bar, ticks)
	return ticks, m.stretch(0, ticks, length)
}

func (m *MIDI) text(bar int, tick int64) {
	m.add(tempoTrack, 0, metaText, fmt.Appendf(nil, "bar %d at tick %d", bar, tick))
}

// walk goes from bar to bar and writes a stretch from each anchor to the next.
func (m *MIDI) walk(beats *timeline.BeatMap, duration timeline.Time, bar int, tick int64) error {
	anchors := beats.Anchors()
	next := sort.Search(len(anchors), func(i int) bool { return anchors[i].Place().Cmp(timeline.BarBeat{Bar: bar}) > 0 })
	from, metre := tick, timeline.Metre{}
	for ; ; bar++ {
		m.tempos.bars = append(m.tempos.bars, midiBar{bar, tick})
		if now := beats.MetreAt(bar); now != metre {
			metre = now
			m.signature(tick, metre)
		}
		for ; next < len(anchors) && anchors[next].Bar == bar; next++ {
			to := tick + beatTicks(anchors[next].Beat, metre)
			if err := m.stretch(from, to, anchors[next].At); err != nil {
				return err
			}
			from = max(from, to)
		}
		tick += beatTicks(timeline.NewRat(int64(metre.Num), 1), metre)
		if end := beats.BarStart(bar + 1); end >= duration {
			return m.stretch(from, tick, end)
		}
	}
}

// stretch writes tempos from a tick to a later one that must be reached at a
// time.
func (m *MIDI) stretch(from, to int64, at timeline.Time) error {
	if to <= from {
		return nil // two anchors within a tick
	}
	start := m.tempos.timeAt(from)
	end := fileTime(at)
	parts := (to - from + quartersAPiece*ticksPerQuarter - 1) / (quartersAPiece * ticksPerQuarter)
	if (end-start)%(to-from) == 0 {
		parts = 1
	}
	for k := int64(1); k <= parts; k++ {
		tick := from + (to-from)*k/parts
		begin := from + (to-from)*(k-1)/parts
		wanted := start + (end-start)/(to-from)*(tick-from) + (end-start)%(to-from)*(tick-from)/(to-from)
		if err := m.even(begin, tick-begin, wanted-m.tempos.timeAt(begin)); err != nil {
			return err
		}
	}
	return nil
}

// even writes the one or two tempos that take exactly length over n ticks.
func (m *MIDI) even(tick, n, length int64) error {
	tempo, rest := length/n, length%n
	if tempo < 1 || tempo >= slowestTempo {
		return fmt.Errorf("its tempo at tick %d is none that a MIDI file can hold: from 1 to %d microseconds a quarter note", tick, slowestTempo)
	}
	m.tempo(tick, tempo)
	if rest > 0 {
		m.tempo(tick+n-rest, tempo+1)
	}
	m.tempos.end = tick + n
	return nil
}

func (m *MIDI) tempo(tick, tempo int64) {
	p := &m.tempos
	piece := midiPiece{tick, p.timeAt(tick), tempo}
	if n := len(p.pieces); n > 0 && p.pieces[n-1].tempo == tempo {
		return
	}
	p.pieces = append(p.pieces, piece)
	m.add(tempoTrack, tick, metaTempo, []byte{byte(tempo >> 16), byte(tempo >> 8), byte(tempo)})
}

// signature writes a time signature: numerator, power of two of the
// denominator, MIDI clocks in a felt pulse, 32nd notes in a quarter.
func (m *MIDI) signature(tick int64, metre timeline.Metre) {
	power := byte(bits.TrailingZeros(uint(metre.Den)))
	m.add(tempoTrack, tick, metaSignature, []byte{byte(metre.Num), power, byte(96 / metre.Den * metre.Pulse()), 8})
}

// timeAt is the time of a tick in the unit of pieces.
func (p *midiTempos) timeAt(tick int64) int64 {
	i := sort.Search(len(p.pieces), func(i int) bool { return p.pieces[i].tick > tick }) - 1
	if i < 0 {
		return 0
	}
	return p.pieces[i].at + (tick-p.pieces[i].tick)*p.pieces[i].tempo
}

// tickAt is the tick nearest to a time of the song, from 0 on.
func (p *midiTempos) tickAt(t timeline.Time) int64 {
	at := fileTime(t)
	i := max(0, sort.Search(len(p.pieces), func(i int) bool { return p.pieces[i].at > at })-1)
	piece := p.pieces[i]
	return piece.tick + (at-piece.at+piece.tempo/2)/piece.tempo
}

// tickOf is the tick of a place inside a bar that the file holds.
func (p *midiTempos) tickOf(at timeline.Moment, beats *timeline.BeatMap) (int64, bool) {
	if !at.OnBeat || len(p.bars) == 0 {
		return 0, false
	}
	i, metre := at.Bar.Bar-p.bars[0].bar, beats.MetreAt(at.Bar.Bar)
	if i < 0 || i >= len(p.bars) || at.Bar.Beat.Floor() >= int64(metre.Num) {
		return 0, false
	}
	return p.bars[i].tick + beatTicks(at.Bar.Beat, metre), true
}

// beatTicks is the nearest number of ticks to beats of a metre.
func beatTicks(beats timeline.Rat, metre timeline.Metre) int64 {
	perBeat := int64(4 * ticksPerQuarter / metre.Den)
	return (2*beats.Num()*perBeat + beats.Den()) / (2 * beats.Den())
}

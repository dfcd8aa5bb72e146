package stripe

import (
	"bytes"
	"encoding/binary"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/ltc"
	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

var studio = StripeOptions{SampleRate: 48000, Bits: 16, Level: -12}

// samplesOf takes the samples out of a WAV file with a plain head of 44 bytes.
func samplesOf(t *testing.T, data []byte) []float32 {
	t.Helper()
	le := binary.LittleEndian
	require.Equal(t, "RIFF", string(data[:4]))
	require.EqualValues(t, len(data)-8, le.Uint32(data[4:]))
	require.Equal(t, "WAVEfmt ", string(data[8:16]))
	require.EqualValues(t, 1, le.Uint16(data[22:]), "channels")
	require.Equal(t, "data", string(data[36:40]))
	require.EqualValues(t, len(data)-44, le.Uint32(data[40:]))
	require.EqualValues(t, 16, le.Uint16(data[34:]))
	var list []float32
	for i := 44; i+1 < len(data); i += 2 {
		list = append(list, float32(int16(le.Uint16(data[i:])))/(1<<15))
	}
	return list
}

func framesOf(samples []float32) []ltc.Frame {
	var list []ltc.Frame
	d := ltc.NewDecoder(48000, func(f ltc.Frame) { list = append(list, f) })
	_ = d.Write(samples)
	_ = d.Close()
	return list
}

func planOf(t *testing.T) *timeline.Plan { return timeline.Compile(testshow.Small(t), nil) }

func stripeOf(t *testing.T, p *timeline.Plan, f report.Filter, o StripeOptions) (*Stripe, []ltc.Frame) {
	t.Helper()
	s, err := NewStripe(p, f, o)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, s.WriteWAV(&b))
	return s, framesOf(samplesOf(t, b.Bytes()))
}

// The stripe of a song: from the start of its pre-roll to its end, the audio's
// own label at the sample where the audio starts.
func TestStripeOfASong(t *testing.T) {
	s, frames := stripeOf(t, planOf(t), report.Filter{Song: "ember"}, studio)
	require.Len(t, frames, 65*25)
	require.Equal(t, "00:59:55:00", frames[0].Label.String())
	require.Equal(t, "01:00:59:24", frames[len(frames)-1].Label.String())
	require.Equal(t, "01:00:00:00", frames[5*25].Label.String())
	require.InDelta(t, 5*48000, frames[5*25].Start, 1)
	require.Equal(t, 5*timeline.Second, s.Songs[0].Audio)
	require.Contains(t, s.Songs[0].String(), `"Ember, slowly": 00:59:55:00 to 01:00:59:24, its audio starts 5.0000 s into the file`)

	long := 12 * timeline.Second
	o := studio
	o.PreRoll = &long
	_, frames = stripeOf(t, planOf(t), report.Filter{Song: "tide"}, o)
	require.Equal(t, "02:00:48:00", frames[0].Label.String())
}

// The stripe of a set: songs at their places in the running order, silence
// between them.
func TestStripeOfASet(t *testing.T) {
	p := planOf(t)
	o := studio
	o.PreRoll = new(timeline.Time)
	*o.PreRoll = 5 * timeline.Second
	s, frames := stripeOf(t, p, report.Filter{}, o)
	require.Len(t, frames, (65+35)*25)
	require.InDelta(t, (5+60+8)*48000, frames[65*25+5*25].Start, 1) // where the second song's audio starts
	require.Equal(t, "02:01:00:00", frames[65*25+5*25].Label.String())
	require.False(t, s.Songs[1].Short)
	require.InDelta(t, 3*48000, frames[65*25].Start-frames[65*25-1].End, 2)

	// A pre-roll longer than the gap starts a frame after the song before.
	*o.PreRoll = 10 * timeline.Second
	s, frames = stripeOf(t, p, report.Filter{}, o)
	require.True(t, s.Songs[1].Short)
	require.False(t, s.Songs[0].Cut)
	first := frames[70*25]
	require.Equal(t, "02:00:52:01", first.Label.String())
	require.InDelta(t, 1920, first.Start-frames[70*25-1].End, 2)
}

// A song that follows at once takes the room it needs for the label of its
// first sample.
func TestStripeWithoutGap(t *testing.T) {
	s, err := testshow.Small(t).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.Set{Base: timeline.Base{ID: "main"}, Name: "main", Entries: []timeline.Entry{{Song: "ember"}, {Song: "tide"}}})
		return nil
	})
	require.NoError(t, err)
	st, frames := stripeOf(t, timeline.Compile(s, nil), report.Filter{}, studio)
	require.True(t, st.Songs[0].Cut)
	require.True(t, st.Songs[1].Short)
	require.Equal(t, "01:00:59:23", st.Songs[0].Last)
	require.Equal(t, "02:01:00:00", frames[65*25-1].Label.String())
	require.InDelta(t, 65*48000, frames[65*25-1].Start, 1)
}

// The pre-roll of a song that starts at midnight lies in the day before.
func TestStripeOverMidnight(t *testing.T) {
	d := timeline.NewDraft(testshow.Small(t)) // no edit would do it, but a show may be loaded with it
	require.NoError(t, d.Set(timeline.Ref{Kind: "song", ID: "ember"}, "start", timeline.Value{Text: "00:00:02:00"}))
	_, frames := stripeOf(t, timeline.Compile(d.Show(), nil), report.Filter{Song: "ember"}, studio)
	require.Equal(t, "23:59:57:00", frames[0].Label.String())
}

func TestStripesThatCannotBe(t *testing.T) {
	p := planOf(t)
	_, err := NewStripe(p, report.Filter{Song: "ember", Bars: &report.Bars{From: 1, To: 2}}, studio)
	require.ErrorContains(t, err, "whole songs")
	_, err = NewStripe(p, report.Filter{Song: "nobody"}, studio)
	require.ErrorContains(t, err, "no song")
	_, err = NewStripe(p, report.Filter{}, StripeOptions{SampleRate: 8000, Bits: 16})
	require.ErrorContains(t, err, "samples a second")
}

// Over 4 GB the head is that of RF64, with all sizes in its ds64 chunk (EBU
// Tech 3306).
func TestLongFiles(t *testing.T) {
	le := binary.LittleEndian
	limit := int64(math.MaxUint32-riffHead) / 2
	b := waveHead(limit, 48000, 16)
	require.Equal(t, "RIFF", string(b[:4]))
	require.Len(t, b, 44)
	b = waveHead(limit+1, 48000, 16)
	require.Equal(t, "RF64\xff\xff\xff\xffWAVEds64", string(b[:16]))
	require.Len(t, b, 80)
	require.EqualValues(t, 80-8+2*(limit+1), le.Uint64(b[20:]))
	require.EqualValues(t, 2*(limit+1), le.Uint64(b[28:]))
	require.EqualValues(t, limit+1, le.Uint64(b[36:]))
	require.Equal(t, "data\xff\xff\xff\xff", string(b[72:]))
	require.Len(t, wavePad(3, 24), 1)
	require.Empty(t, wavePad(3, 16))
}

// Ticks sound on hits, wherever their commands are, and nothing else does.
func TestTicks(t *testing.T) {
	p := planOf(t)
	ticks, err := NewTicks(p, report.Filter{Song: "ember"}, studio)
	require.NoError(t, err)
	require.Equal(t, 3, ticks.Count)
	require.Equal(t, 1, ticks.Outside) // on bar 0
	var b bytes.Buffer
	require.NoError(t, ticks.WriteWAV(&b))
	samples := samplesOf(t, b.Bytes())
	require.Len(t, samples, 60*48000)
	var starts []int
	for i, v := range samples {
		if v != 0 && (len(starts) == 0 || i-starts[len(starts)-1] > 48000/10) {
			starts = append(starts, i)
		}
	}
	// Bars of 2 s: bar 3, bar 5 and half a beat, 20 s.
	require.Equal(t, []int{4 * 48000, 8.25 * 48000, 20 * 48000}, starts)

	all, err := NewTicks(p, report.Filter{}, studio)
	require.NoError(t, err)
	require.Equal(t, 4, all.Count) // and one of the second song, whose other has no bar
	some, err := NewTicks(p, report.Filter{Song: "ember", Bars: &report.Bars{From: 5, To: 5}}, studio)
	require.NoError(t, err)
	require.Equal(t, 1, some.Count)
	require.Empty(t, framesOf(samples), "no timecode")
	for _, o := range []StripeOptions{{SampleRate: 1, Bits: 16}, {SampleRate: 48000, Bits: 8}, {SampleRate: 48000, Bits: 16, Level: 3}} {
		_, err = NewTicks(p, report.Filter{}, o)
		require.Error(t, err)
	}
}

// wavOf, ticksOf and midiFileOf are the bytes of a song's files.
func wavOf(t *testing.T, s *timeline.Show) string {
	t.Helper()
	stripe, err := NewStripe(timeline.Compile(s, nil), report.Filter{}, studio)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, stripe.WriteWAV(&b))
	return b.String()
}

func ticksOf(t *testing.T, s *timeline.Show) string {
	t.Helper()
	ticks, err := NewTicks(timeline.Compile(s, nil), report.Filter{}, studio)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, ticks.WriteWAV(&b))
	return b.String()
}

func midiFileOf(t *testing.T, s *timeline.Show) string {
	t.Helper()
	m, err := NewMIDI(timeline.Compile(s, nil).Songs[0].SongPlan)
	require.NoError(t, err)
	var b bytes.Buffer
	_, err = m.WriteTo(&b)
	require.NoError(t, err)
	return b.String()
}

// Timecode and MIDI files of a show without any cue are the same byte for byte:
// nothing of cues or commands is in them. Ticks follow hits, and are the same
// whatever the leads are.
func TestNothingOfCommandsLeaves(t *testing.T) {
	s := testshow.Small(t)
	bare, err := s.Edit(func(d *timeline.Draft) error {
		for _, g := range s.Songs {
			for _, q := range g.Cues {
				if err := d.Remove(timeline.Ref{Kind: "cue", Song: g.ID, ID: q.ID}); err != nil {
					return err
				}
			}
		}
		return nil
	})
	require.NoError(t, err)
	require.True(t, wavOf(t, s) == wavOf(t, bare), "the stripe differs")
	require.True(t, midiFileOf(t, s) == midiFileOf(t, bare), "the MIDI file differs")
	require.False(t, ticksOf(t, s) == ticksOf(t, bare))

	slow, err := s.Edit(func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "article", ID: "jet"}, "lead", timeline.Value{Text: "0.9"})
	})
	require.NoError(t, err)
	require.True(t, ticksOf(t, s) == ticksOf(t, slow), "the ticks follow commands")
}

package stripe

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/big"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"gitlab.com/gomidi/midi/v2/smf"

	"emberbeat/timeline"
	"emberbeat/timeline/testtool"
)

// midiEventHeard is what mido says about one event.
type midiEventHeard struct {
	Kind, Track, Text string
	Tick              int64
	Num, Den          int64
}

func (e midiEventHeard) micros() float64 {
	f, _ := big.NewRat(e.Num, e.Den).Float64()
	return f
}

// heardByMido reads a file with Python's mido.
func heardByMido(t *testing.T, data []byte) []midiEventHeard {
	t.Helper()
	path := filepath.Join(t.TempDir(), "song.mid")
	require.NoError(t, os.WriteFile(path, data, 0o600))
	var out, complaint bytes.Buffer
	cmd := exec.Command(testtool.Python(t, "mido"), "../../intake/testdata/referee.py", path)
	cmd.Stdout, cmd.Stderr = &out, &complaint
	require.NoError(t, cmd.Run(), complaint.String())
	var list []midiEventHeard
	for d := json.NewDecoder(&out); d.More(); {
		var e midiEventHeard
		require.NoError(t, d.Decode(&e))
		list = append(list, e)
	}
	return list
}

// midiOf writes a song with the given beat map.
func midiOf(t *testing.T, beats *timeline.BeatMap, length timeline.Time, more ...timeline.Record) []byte {
	t.Helper()
	s, err := timeline.NewShow("show1", "Tour", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.SongHead{Base: timeline.Base{ID: "ember"}, Title: "Ember", Slug: "ember", Start: timeline.Timecode{H: 1, F: 5}, Length: length, Beats: beats})
		d.Put("ember", more...)
		return nil
	})
	require.NoError(t, err)
	m, err := NewMIDI(timeline.NewCompiler().CompileSong(s, "ember", nil).Songs[0].SongPlan)
	require.NoError(t, err)
	var b bytes.Buffer
	n, err := m.WriteTo(&b)
	require.NoError(t, err)
	require.EqualValues(t, b.Len(), n)
	return b.Bytes()
}

func count(list []midiEventHeard, kind string) (n int) {
	for _, e := range list {
		if e.Kind == kind {
			n++
		}
	}
	return n
}

// An even song: one tempo, one time signature, names at their places.
func TestMIDIOfAnEvenSong(t *testing.T) {
	beats := timeline.SteadyBeatMap(0, timeline.Minute/128, timeline.Metre{Num: 4, Den: 4}, 8)
	data := midiOf(t, beats, timeline.Minute,
		&timeline.Section{Base: timeline.Base{ID: "s1"}, Name: "Verse", At: timeline.AtBar(timeline.BarBeat{Bar: 1})},
		&timeline.Section{Base: timeline.Base{ID: "s2"}, Name: "Refrain", At: timeline.AtBar(timeline.BarBeat{Bar: 9})},
		&timeline.Marker{Base: timeline.Base{ID: "m1"}, Name: "drums in", At: timeline.AtTime(10 * timeline.Second)},
		&timeline.Marker{Base: timeline.Base{ID: "m2"}, Name: "before", At: timeline.AtTime(-timeline.Second)})
	list := heardByMido(t, data)
	require.Equal(t, 1, count(list, "set_tempo"))
	require.Equal(t, 1, count(list, "time_signature"))
	require.Equal(t, 3, count(list, "marker"))
	require.Zero(t, count(list, "other"), "nothing but meta events")
	require.Zero(t, count(list, "sequencer_specific"))
	for _, e := range list {
		switch e.Text {
		case "Verse":
			require.Zero(t, e.Tick)
			require.Equal(t, "sections", e.Track)
		case "Refrain":
			require.EqualValues(t, 32*ticksPerQuarter, e.Tick)
			require.EqualValues(t, 15e6, e.micros()) // 32 beats of 468750 µs
		case "drums in":
			require.InDelta(t, 10e6, e.micros(), 100)
			require.Equal(t, "markers", e.Track)
		}
	}
	// The bytes that RP-001 gives for 128 beats a minute and for 4/4.
	require.Contains(t, string(data), "\xff\x51\x03\x07\x27\x0e")
	require.Contains(t, string(data), "\xff\x58\x04\x04\x02\x18\x08")
	// 01:00:00:05 at 25 frames: the hour's byte is 0rrhhhhh as in MIDI timecode.
	require.Contains(t, string(data), "\xff\x54\x05\x21\x00\x00\x05\x00")
	f, err := smf.ReadFrom(bytes.NewReader(data))
	require.NoError(t, err)
	require.Len(t, f.Tracks, 3)
}

// uneven is a random beat map: tempos that no microsecond divides, odd metres,
// anchors inside bars, a start away from the bar line.
func uneven(t *testing.T, seed uint64, length timeline.Time) *timeline.BeatMap {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 7))
	metres := []timeline.Metre{{Num: 4, Den: 4}, {Num: 3, Den: 4}, {Num: 6, Den: 8}, {Num: 7, Den: 8}, {Num: 5, Den: 4}}
	at, metre := timeline.Time(r.Int64N(int64(3*timeline.Second))), metres[r.IntN(len(metres))]
	anchors := []timeline.Anchor{{Bar: r.IntN(3), At: at, Metre: metre}}
	for last := &anchors[0]; last.At < length; last = &anchors[len(anchors)-1] {
		next := timeline.Anchor{Bar: last.Bar + 1 + r.IntN(400)}
		if last.Beat.IsZero() && r.IntN(3) == 0 { // from a bar line, so that beats are easy to count
			next.Beat = timeline.NewRat(r.Int64N(2*int64(metre.Num)), 2)
		} else if r.IntN(3) == 0 {
			next.Metre = metres[r.IntN(len(metres))]
		}
		beats := next.Beat.Add(timeline.NewRat(int64(next.Bar-last.Bar)*int64(metre.Num), 1)).Sub(last.Beat)
		perBeat := 4 * (90_000_000 + r.Int64N(90_000_000)) / int64(metre.Den)
		next.At = last.At + timeline.Time(beats.Num()*perBeat/beats.Den())
		if !next.Metre.IsZero() {
			metre = next.Metre
		}
		anchors = append(anchors, next)
	}
	m, err := timeline.NewBeatMap(anchors)
	require.NoError(t, err)
	return m
}

// Three hours of uneven songs: every bar line that mido finds in the file is
// within a millisecond of the beat map, with few tempos.
func TestMIDIOfUnevenSongs(t *testing.T) {
	length := 3 * timeline.Hour
	first := testtool.Seed(t)
	for seed := first; seed < first+3; seed++ {
		beats := uneven(t, seed, length)
		list := heardByMido(t, midiOf(t, beats, length))
		// Two tempos for an even stretch, more only where it is very long.
		require.LessOrEqual(t, count(list, "set_tempo"), 3*len(beats.Anchors())+2*22)
		bar, from := 0, int64(0)
		for _, e := range list {
			if e.Kind == "text" {
				_, err := fmt.Sscanf(e.Text, "bar %d at tick %d", &bar, &from)
				require.NoError(t, err)
			}
		}
		checked := 0
		for _, e := range list {
			if e.Kind == "bar" && e.Tick >= from {
				want := float64(beats.BarStart(bar)) / (timeline.TicksPerSecond / 1e6)
				require.InDelta(t, want, e.micros(), 1000, "seed %d, bar %d", seed, bar)
				bar, checked = bar+1, checked+1
			}
		}
		require.Greater(t, checked, 1000)
	}
}

// A beat that no microsecond divides, for three hours without an anchor.
func TestMIDIOfALongStretch(t *testing.T) {
	beats := timeline.SteadyBeatMap(timeline.Second/3, 131_313_131, timeline.Metre{Num: 4, Den: 4}, 5000)
	list := heardByMido(t, midiOf(t, beats, 3*timeline.Hour))
	require.LessOrEqual(t, count(list, "set_tempo"), 40)
	bar := 0
	for _, e := range list {
		if e.Kind == "bar" && e.Tick > 0 { // the short bar before bar 1 starts at 0
			bar++
			require.InDelta(t, float64(beats.BarStart(bar))/(timeline.TicksPerSecond/1e6), e.micros(), 1000, "bar %d", bar)
		}
	}
	require.Greater(t, bar, 5000)
}

// Songs whose files cannot be.
func TestMIDIThatCannotBe(t *testing.T) {
	for want, g := range map[string]*timeline.SongHead{
		"too long": {Length: 49 * timeline.Hour},
		"tempo":    {Length: timeline.Minute, Beats: timeline.SteadyBeatMap(0, 6*timeline.Second, timeline.Metre{Num: 4, Den: 32}, 8)}, // 48 s a quarter
	} {
		g.Base, g.Title = timeline.Base{ID: "g"}, "Long"
		_, err := NewMIDI(&timeline.SongPlan{Song: &timeline.Song{SongHead: *g}, Rate: timeline.Rate25, Duration: g.Length})
		require.ErrorContains(t, err, want)
	}
	// Without a beat map times are kept, at the default tempo.
	list := heardByMido(t, midiOf(t, nil, timeline.Minute, &timeline.Marker{Base: timeline.Base{ID: "m"}, Name: "go", At: timeline.AtTime(7 * timeline.Second / 3)}))
	for _, e := range list {
		if e.Text == "go" {
			require.InDelta(t, 7e6/3, e.micros(), 100)
		}
	}
	require.Equal(t, 1, count(list, "marker"))
}

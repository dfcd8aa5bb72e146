package grid

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// grid reads a beat map written as anchors with semicolons between.
func mapOf(t require.TestingT, text string) *timeline.BeatMap {
	var anchors []timeline.Anchor
	for _, s := range strings.Split(text, ";") {
		a, err := timeline.ParseAnchor(strings.TrimSpace(s))
		require.NoError(t, err)
		anchors = append(anchors, a)
	}
	m, err := timeline.NewBeatMap(anchors)
	require.NoError(t, err)
	return m
}

// written gives a map as anchors with semicolons between.
func written(m *timeline.BeatMap) string {
	var list []string
	for _, a := range m.Anchors() {
		list = append(list, a.String())
	}
	return strings.Join(list, "; ")
}

func seconds(s float64) timeline.Time { return timeline.FromSeconds(s) }

const (
	even   = "1.1 at=1.000000 metre=4/4; 9.1 at=17.000000"                                                         // 120 bpm
	moving = "1.1 at=1.000000 metre=4/4; 3.1 at=5.000000; 5.1 at=8.000000; 9.1 at=16.000000"                       // 120, 160, 120
	turns  = "1.1 at=1.000000 metre=4/4; 5.1 at=9.000000 metre=3/4; 9.1 at=15.000000 metre=4/4; 13.1 at=23.000000" // 120 all through
)

func TestCorrections(t *testing.T) {
	four := timeline.Metre{Num: 4, Den: 4}
	for _, c := range []struct {
		name, was string
		c         Correction
		is        string
	}{
		{"double", even, Correction{Kind: Double}, "1.1 at=1.000000 metre=4/4; 17.1 at=17.000000"},
		{"half", even, Correction{Kind: Half}, "1.1 at=1.000000 metre=4/4; 5.1 at=17.000000"},
		{"half of an odd number of bars", "1.1 at=1 metre=4/4; 2.1 at=3", Correction{Kind: Half}, "1.1 at=1.000000 metre=4/4; 1.3 at=3.000000"},
		{"bar 1 stays bar 1", "0.3 at=0.5 metre=4/4; 9.1 at=17.5", Correction{Kind: Double}, "0.1 at=0.500000 metre=4/4; 17.1 at=17.500000"},
		{"3:2", even, Correction{Kind: ThreeTwo}, "1.1 at=1.000000 metre=4/4; 13.1 at=17.000000"},
		{"2:3", even, Correction{Kind: TwoThree}, "1.1 at=1.000000 metre=4/4; 6.2+1/3 at=17.000000"},
		{"double, moving", moving, Correction{Kind: Double}, "1.1 at=1.000000 metre=4/4; 5.1 at=5.000000; 9.1 at=8.000000; 17.1 at=16.000000"},
		{"double over a metre", turns, Correction{Kind: Double}, "1.1 at=1.000000 metre=4/4; 9.1 at=9.000000 metre=3/4; 17.1 at=15.000000 metre=4/4; 25.1 at=23.000000"},
		{"a beat later", even, Correction{Kind: Shift, Beats: timeline.NewRat(1, 1)}, "1.1 at=1.500000 metre=4/4; 9.1 at=17.500000"},
		{"half a beat earlier", even, Correction{Kind: Shift, Beats: timeline.NewRat(-1, 2)}, "1.1 at=0.750000 metre=4/4; 9.1 at=16.750000"},
		{"a beat later, moving", moving, Correction{Kind: Shift, Beats: timeline.NewRat(1, 1)}, "0.4 at=1.000000 metre=4/4; 2.4 at=5.000000; 4.4 at=8.000000; 8.4 at=16.000000"},
		{"half a beat later, over a metre", turns, Correction{Kind: Shift, Beats: timeline.NewRat(1, 2)},
			"0.4+1/2 at=1.000000 metre=4/4; 4.4+1/2 at=9.000000; 5.1 at=9.250000 metre=3/4; 8.3+1/2 at=15.000000; 9.1 at=15.250000 metre=4/4; 12.4+1/2 at=23.000000"},
		{"bar 1 on beat 3", even, Correction{Kind: BarOne, At: seconds(2.1)}, "0.3 at=1.000000 metre=4/4; 8.3 at=17.000000"},
		{"bar 1 two bars on", even, Correction{Kind: BarOne, At: seconds(5)}, "-1.1 at=1.000000 metre=4/4; 7.1 at=17.000000"},
		{"bar 1 a bar on, over a metre", turns, Correction{Kind: BarOne, At: seconds(3)}, "0.1 at=1.000000 metre=4/4; 4.1 at=9.000000 metre=3/4; 8.1 at=15.000000 metre=4/4; 12.1 at=23.000000"},
		{"a tempo for all", even, Correction{Kind: Tempo, BPM: 125_000}, "1.1 at=1.000000 metre=4/4; 257.1 at=492.520000"},
		{"a tempo for a stretch", moving, Correction{Kind: Tempo, BPM: 120_000, Here: true, At: seconds(6)}, "1.1 at=1.000000 metre=4/4; 3.1 at=5.000000; 5.1 at=9.000000; 9.1 at=17.000000"},
		{"a tempo behind the last", "1.1 at=1 metre=4/4; 3.1 at=5", Correction{Kind: Tempo, BPM: 60_000, Here: true, At: seconds(6)}, "1.1 at=1.000000 metre=4/4; 3.1 at=5.000000; 67.1 at=261.000000"},
		{"the whole grid by a line", moving, Correction{Kind: Line, Bar: 3, At: seconds(5.25)}, "1.1 at=1.250000 metre=4/4; 3.1 at=5.250000; 5.1 at=8.250000; 9.1 at=16.250000"},
		{"all after a line", even, Correction{Kind: Line, Bar: 3, At: seconds(5.25), Reach: After}, "1.1 at=1.000000 metre=4/4; 2.1 at=3.000000; 3.1 at=5.250000; 4.1 at=7.250000; 9.1 at=17.250000"},
		{"one line alone", even, Correction{Kind: Line, Bar: 3, At: seconds(5.25), Reach: Only}, "1.1 at=1.000000 metre=4/4; 2.1 at=3.000000; 3.1 at=5.250000; 4.1 at=7.000000; 9.1 at=17.000000"},
		{"the last line alone", even, Correction{Kind: Line, Bar: 9, At: seconds(17.5), Reach: Only}, "1.1 at=1.000000 metre=4/4; 8.1 at=15.000000; 9.1 at=17.500000; 10.1 at=19.000000; 11.1 at=21.000000"},
		{"split", even, Correction{Kind: Split, At: seconds(5.1)}, "1.1 at=1.000000 metre=4/4; 3.1 at=5.000000; 9.1 at=17.000000"},
		{"split with a tempo", even, Correction{Kind: Split, At: seconds(5.1), BPM: 60_000}, "1.1 at=1.000000 metre=4/4; 3.1 at=5.000000; 9.1 at=29.000000"},
		{"a metre", even, Correction{Kind: Metre, Metre: timeline.Metre{Num: 3, Den: 4}}, "1.1 at=1.000000 metre=3/4; 11.3 at=17.000000"},
		{"a metre of eighths keeps note values", even, Correction{Kind: Metre, Metre: timeline.Metre{Num: 6, Den: 8}}, "1.1 at=1.000000 metre=6/8; 11.5 at=17.000000"},
		{"a metre from a bar on", even, Correction{Kind: Metre, Metre: timeline.Metre{Num: 3, Den: 4}, Here: true, At: seconds(9)}, "1.1 at=1.000000 metre=4/4; 5.1 at=9.000000 metre=3/4; 10.2 at=17.000000"},
		{"a metre up to the next", turns, Correction{Kind: Metre, Metre: four, Here: true, At: seconds(9)}, "1.1 at=1.000000 metre=4/4; 5.1 at=9.000000; 8.1 at=15.000000; 12.1 at=23.000000"},
		{"one metre for all", turns, Correction{Kind: Metre, Metre: four}, "1.1 at=1.000000 metre=4/4; 5.1 at=9.000000; 8.1 at=15.000000; 12.1 at=23.000000"},
	} {
		got, err := c.c.On(mapOf(t, c.was))
		require.NoError(t, err, c.name)
		require.Equal(t, c.is, written(got), c.name)
	}
}

func TestCorrectionsThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		was, want string
		c         Correction
	}{
		{turns, "would not come out whole", Correction{Kind: Metre, Metre: timeline.Metre{Num: 5, Den: 4}, Here: true, At: seconds(1)}},
		{"1.1 at=0 metre=4/4; 4.1 at=6 metre=3/4; 8.1 at=12", "would not come out whole", Correction{Kind: Half}},
		{even, "tempo from anchor", Correction{Kind: Line, Bar: 3, At: seconds(3.001), Reach: After}},
		{even, "would have no length", Correction{Kind: Line, Bar: 3, At: seconds(2), Reach: Only}},
		{even, "no beats changes nothing", Correction{Kind: Shift}},
		{"1.1 at=0 metre=4/4; 2.1 at=0.3", "it must be from 10 to 1000", Correction{Kind: Double}},
	} {
		_, err := c.c.On(mapOf(t, c.was))
		require.ErrorContains(t, err, c.want, c.c.String())
	}
	_, err := (&Correction{Kind: Half}).On(nil)
	require.ErrorContains(t, err, "type a tempo, or tap it")
}

func TestGridOfASongWithoutBeats(t *testing.T) {
	got, err := (&Correction{Kind: Tempo, BPM: 120_000, At: seconds(0.5)}).On(nil)
	require.NoError(t, err)
	require.Equal(t, "1.1 at=0.500000 metre=4/4; 257.1 at=512.500000", written(got))
}

// anyMap draws a map of some stretches, in one or two metres.
func anyMap(t *rapid.T) *timeline.BeatMap {
	metres := []timeline.Metre{{Num: 4, Den: 4}, {Num: 3, Den: 4}, {Num: 6, Den: 8}, {Num: 5, Den: 4}}
	n := rapid.IntRange(2, 6).Draw(t, "anchors")
	bar, at := rapid.IntRange(-2, 3).Draw(t, "bar"), timeline.Time(rapid.Int64Range(0, int64(timeline.Second)).Draw(t, "from"))
	var list []timeline.Anchor
	metre := timeline.Metre{}
	for i := range n {
		a := timeline.Anchor{Bar: bar, At: at}
		if i == 0 || rapid.Bool().Draw(t, "another metre") {
			metre = rapid.SampledFrom(metres).Draw(t, "metre")
			a.Metre = metre
		} else if rapid.Bool().Draw(t, "in its bar") {
			a.Beat = timeline.NewRat(1, 2)
		}
		list = append(list, a)
		step := rapid.IntRange(1, 9).Draw(t, "bars")
		bar += step
		beats := step * metre.Num
		at += timeline.Time(beats) * timeline.Time(rapid.Int64Range(int64(timeline.Second/5), int64(timeline.Second)).Draw(t, "beat"))
	}
	m, err := timeline.NewBeatMap(list)
	require.NoError(t, err)
	return m
}

// Taken apart and put together, a map calls every instant as before.
func TestPartsAreTheMap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMap(t)
		again, err := take(m).build()
		require.NoError(t, err, written(m))
		for range 8 {
			p := timeline.BarBeat{Bar: rapid.IntRange(-3, 60).Draw(t, "at"), Beat: timeline.NewRat(rapid.Int64Range(0, 5).Draw(t, "half beats"), 2)}
			if p.Bar < m.Anchors()[0].Bar {
				continue // before the first anchor its metre holds, which bar numbers cannot tell
			}
			// What comes after the last anchor keeps its tempo, which a knot of its own holds to half a tick a bar.
			beyond := max(0, p.Bar-m.Anchors()[len(m.Anchors())-1].Bar)
			require.InDelta(t, int64(m.At(p)), int64(again.At(p)), 2+float64(beyond)/2, "%s\n%s\n%s", p, written(m), written(again))
		}
	})
}

// Corrections that undo each other leave the map as it was, and no correction moves an instant that it says stays.
func TestCorrectionsUndoEachOther(t *testing.T) {
	pairs := [][2]Correction{
		{{Kind: Double}, {Kind: Half}},
		{{Kind: ThreeTwo}, {Kind: TwoThree}},
		{{Kind: Shift, Beats: timeline.NewRat(1, 1)}, {Kind: Shift, Beats: timeline.NewRat(-1, 1)}},
		{{Kind: Shift, Beats: timeline.NewRat(1, 2)}, {Kind: Shift, Beats: timeline.NewRat(-1, 2)}},
	}
	rapid.Check(t, func(t *rapid.T) {
		m := anyMap(t)
		pair := rapid.SampledFrom(pairs).Draw(t, "pair")
		there, err := pair[0].On(m)
		if err != nil {
			t.Skip(err)
		}
		back, err := pair[1].On(there)
		require.NoError(t, err)
		first := m.Anchors()[0].Bar
		for bar := first + 1; bar < first+40; bar++ {
			require.InDelta(t, m.BarStart(bar).Seconds(), back.BarStart(bar).Seconds(), 1e-5, "bar %d\n%s\n%s\n%s", bar, written(m), written(there), written(back))
		}
	})
}

func TestTapsTellATempo(t *testing.T) {
	beat := 0.48
	var taps []timeline.Time
	for i, off := range []float64{0.012, -0.008, 0.004, 0.02, -0.015, 0, 0.006, -0.01} {
		if i != 3 { // one beat is left out
			taps = append(taps, seconds(10+float64(i)*beat+off))
		}
	}
	p, err := Tapped(taps)
	require.NoError(t, err)
	require.InDelta(t, 125, float64(p.BPM())/1000, 4)
	require.Equal(t, 7, p.Taps)
	require.Less(t, p.Spread, 20*timeline.Millisecond)
	require.Greater(t, p.Spread, 2*timeline.Millisecond)

	var attacks []Attack
	for i := range 600 {
		attacks = append(attacks, Attack{At: seconds(0.1 + float64(i)*beat/2), Strength: []float64{0.9, 0.3}[i%2]})
	}
	fine := p.Refined(attacks)
	require.Equal(t, MilliBPM(125_000), fine.BPM())
	m, err := (&Correction{Kind: Tap, Pulse: fine}).On(mapOf(t, "1.1 at=0.3 metre=4/4; 9.1 at=19"))
	require.NoError(t, err)
	for bar := range 60 {
		require.InDelta(t, 0.1+4*beat*float64(bar), m.BarStart(bar+1).Seconds(), 0.0005)
	}
	require.Equal(t, p, p.Refined(nil), "without anything heard it is as it was tapped")

	for _, c := range [][]float64{{1, 2, 3}, {1, 1, 1, 1}, {1, 100, 200, 300}} {
		var few []timeline.Time
		for _, s := range c {
			few = append(few, seconds(s))
		}
		_, err := Tapped(few)
		require.Error(t, err, c)
	}
}

// Taps into a song whose tempo moves make it even from there on, and leave what is before.
func TestTapsFromABarOn(t *testing.T) {
	p := Pulse{First: seconds(8.02), Length: seconds(0.4), Over: 1}
	m, err := (&Correction{Kind: Tap, Pulse: p}).On(mapOf(t, moving))
	require.NoError(t, err)
	require.Equal(t, "1.1 at=1.000000 metre=4/4; 3.1 at=5.000000; 4.1 at=6.500000; 5.1 at=8.020000; 261.1 at=417.620000", written(m))
}

func TestTempoIsReadAsItIsWritten(t *testing.T) {
	for text, want := range map[string]string{"124": "124", " 123.98 bpm": "123.98", "87.125": "87.125", "1000": "1000", "10": "10"} {
		got, err := ParseBPM(text)
		require.NoError(t, err, text)
		require.Equal(t, want, got.String())
	}
	for _, text := range []string{"", "9.9", "1000.1", "1/3", "1e2", "0x40", "fast", "123.4567"} {
		_, err := ParseBPM(text)
		require.Error(t, err, text)
	}
}

// attacksOn makes attacks on each beat of a map up to a time, strong on beats and weak between.
func attacksOn(m *timeline.BeatMap, to timeline.Time) []Attack {
	var list []Attack
	beats := Beats(m, 0, to)
	for i, at := range beats {
		p := m.Named(at)
		w := 0.2
		if p.Beat.IsZero() {
			w = 1
		}
		list = append(list, Attack{At: at, Strength: 0.9, Weight: w})
		if i+1 < len(beats) {
			list = append(list, Attack{At: (at + beats[i+1]) / 2, Strength: 0.2, Weight: 0.1})
		}
	}
	return list
}

func TestSitting(t *testing.T) {
	right := mapOf(t, even)
	attacks := attacksOn(right, 60*timeline.Second)
	for _, c := range []struct {
		name string
		c    Correction
		want int
	}{
		{"right", Correction{Kind: Split, At: seconds(5)}, 100},
		{"double", Correction{Kind: Double}, 67},
		{"half", Correction{Kind: Half}, 67},
		{"half a beat off", Correction{Kind: Shift, Beats: timeline.NewRat(1, 2)}, 0},
		{"a beat off", Correction{Kind: Shift, Beats: timeline.NewRat(1, 1)}, 99},
		{"21 ms off", Correction{Kind: Line, Bar: 1, At: seconds(1.021)}, 0},
		{"19 ms off", Correction{Kind: Line, Bar: 1, At: seconds(1.019)}, 100},
	} {
		m, err := c.c.On(right)
		require.NoError(t, err)
		got, known := Sits(m, attacks).Percent()
		require.True(t, known)
		require.InDelta(t, c.want, got, 1, c.name)
	}
	_, known := Sits(right, nil).Percent()
	require.False(t, known, "nothing was heard")
	_, known = Sits(nil, attacks).Percent()
	require.False(t, known)
}

// Of a grid that is wrong on purpose one of the readings is the right one, whatever is wrong with it.
func TestReadingsHoldTheRightOne(t *testing.T) {
	right := mapOf(t, even)
	h := Heard{Beats: right, Attacks: attacksOn(right, 60*timeline.Second), Tempi: []float64{120, 60, 240, 180, 80}}
	for _, c := range []Correction{
		{Kind: Double}, {Kind: Half}, {Kind: ThreeTwo}, {Kind: TwoThree},
		{Kind: Shift, Beats: timeline.NewRat(1, 2)}, {Kind: BarOne, At: seconds(2)},
	} {
		wrong, err := c.On(right)
		require.NoError(t, err)
		list := Readings(wrong, h)
		require.LessOrEqual(t, len(list), MostReadings)
		require.Empty(t, list[0].Corrections, "the first is the grid as it stands")
		found := -1
		for i, r := range list {
			if got, _ := r.Fit.Percent(); got >= 98 && sameStarts(r.Beats, right) {
				found = i
			}
		}
		require.Positive(t, found, "%s: %v", &c, list)
	}
}

// sameStarts reports whether bars start at the same times, whatever their numbers.
func sameStarts(a, b *timeline.BeatMap) bool {
	for bar := 2; bar < 20; bar++ {
		p := a.Snap(b.BarStart(bar), timeline.Rat{})
		if d := a.BarStart(p.Bar) - b.BarStart(bar); d > timeline.Millisecond || d < -timeline.Millisecond {
			return false
		}
	}
	return true
}

func TestEveryCorrectionIsSaid(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range []Correction{{Kind: Double}, {Kind: Half}, {Kind: ThreeTwo}, {Kind: TwoThree}, {Kind: Shift, Beats: timeline.NewRat(1, 2)}, {Kind: BarOne},
		{Kind: Tempo, BPM: 124_500}, {Kind: Tap, Pulse: Pulse{Length: timeline.Second / 2, Over: 1}}, {Kind: Line, Bar: 17}, {Kind: Split}, {Kind: Metre, Metre: timeline.Metre{Num: 3, Den: 4}}, {Kind: Whole, Name: "as it is heard"}} {
		text := c.String()
		require.NotEmpty(t, text)
		require.False(t, seen[text], text)
		seen[text] = true
	}
	require.Equal(t, "half a beat earlier", (&Correction{Kind: Shift, Beats: timeline.NewRat(-1, 2)}).String())
	require.Equal(t, "twice as many beats, a beat later", Said([]Correction{{Kind: Double}, {Kind: Shift, Beats: timeline.NewRat(1, 1)}}))
}

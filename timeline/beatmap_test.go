package timeline_test

import (
	"math"
	"math/big"
	"strings"
	"testing"

	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const ms = timeline.Millisecond

// beatMap reads one anchor a line, in columns.
func beatMap(t require.TestingT, lines string) *timeline.BeatMap {
	m, err := timeline.NewBeatMap(anchors(t, lines))
	require.NoError(t, err)
	return m
}

func anchors(t require.TestingT, lines string) []timeline.Anchor {
	var list []timeline.Anchor
	for line := range strings.Lines(lines) {
		if words := strings.Fields(line); len(words) > 0 {
			list = append(list, anchor(t, strings.Join(words, " ")))
		}
	}
	return list
}

// turns has a tempo change at bar 9, inside bar 13 another, and 6/8 from bar
// 17 on: 120, 60, 120 quarters a minute, then eighths at 300 a minute.
const turns = `
	1.1  at=0.500000 metre=4/4
	9.1  at=16.500000
	13.3 at=34.500000
	17.1 at=41.500000 metre=6/8
	21.1 at=46.300000
`

func TestBeatMapAt(t *testing.T) {
	m := beatMap(t, turns)
	for text, want := range map[string]timeline.Time{
		"1.1":      500 * ms,
		"1.2":      1000 * ms,
		"1.2+1/3":  1000*ms + timeline.Second/6,
		"0.4":      0,
		"0.1":      -1500 * ms,
		"-1.1":     -3500 * ms,
		"8.4+1/2":  16250 * ms,
		"9.1":      16500 * ms,
		"9.2":      17500 * ms,
		"13.1":     32500 * ms,
		"13.3":     34500 * ms,
		"13.4":     35000 * ms,
		"17.1":     41500 * ms,
		"17.2":     41700 * ms,
		"17.4+1/2": 42200 * ms,
		"18.1":     42700 * ms,
		"21.1":     46300 * ms,
		"22.1":     47500 * ms,
		// A beat past the end of its bar runs on in the same straight line,
		// past the anchor of bar 9 as well.
		"1.5":  2500 * ms,
		"8.9":  18500 * ms,
		"17.7": 42700 * ms,
	} {
		require.Equal(t, want, m.At(place(t, text)), text)
	}
	require.Equal(t, m.At(place(t, "13.1")), m.BarStart(13))
}

func TestBeatMapLocate(t *testing.T) {
	m := beatMap(t, turns)
	for _, c := range []struct {
		time timeline.Time
		want string
	}{
		{500 * ms, "1.1"},
		{1250 * ms, "1.2+1/2"},
		{0, "0.4"},
		{-3500 * ms, "-1.1"},
		{16500*ms - 1, "9.1"},
		{34500 * ms, "13.3"},
		{41500*ms - 1, "17.1"},
		{42600 * ms, "17.6+1/2"},
		{47500 * ms, "22.1"},
		{48700*ms - 1, "23.1"},
		// 1/960 beat is 25/48 ms here; half of it rounds away from zero.
		{500*ms + 25*ms/96, "1.1+1/960"},
		{500*ms + 25*ms/96 - 1, "1.1"},
	} {
		require.Equal(t, c.want, m.Locate(c.time).String(), c.time.Text(9))
	}
}

func TestBeatMapMetreAndTempo(t *testing.T) {
	m := beatMap(t, turns)
	for bar, want := range map[int]string{-5: "4/4", 1: "4/4", 13: "4/4", 16: "4/4", 17: "6/8", 900: "6/8"} {
		require.Equal(t, want, m.MetreAt(bar).String())
	}
	for at, bpm := range map[timeline.Time]float64{
		-9000 * ms: 120, 500 * ms: 120, 16499 * ms: 120, 16500 * ms: 60, 34499 * ms: 60, 34500 * ms: 120, 41500 * ms: 300, 90000 * ms: 300,
	} {
		require.InDelta(t, bpm, m.BPM(at), 1e-9, at.String())
	}
	require.Len(t, m.Anchors(), 5)
	m.Anchors()[0].Bar = 99
	require.Equal(t, 1, m.Anchors()[0].Bar, "a copy")
}

// A metre given by the last anchor keeps the length of note values: quarters
// at 120 a minute go on as eighths at 240.
func TestMetreChangeAtTheLastAnchor(t *testing.T) {
	m := beatMap(t, "1 at=0 metre=4/4 \n 5 at=8 metre=6/8")
	require.InDelta(t, 240, m.BPM(9*timeline.Second), 1e-9)
	require.Equal(t, 8250*ms, m.At(place(t, "5.2")))
	require.Equal(t, 9500*ms, m.BarStart(6))
	require.Equal(t, "6.1", m.Locate(9500*ms).String())
	require.Equal(t, "4.4+1/2", m.Locate(7750*ms).String())
}

func TestFirstAnchorInsideItsBar(t *testing.T) {
	m := beatMap(t, "1.3 at=0.25 metre=3/4 \n 3.2 at=2.75")
	require.Equal(t, "3/4", m.MetreAt(1).String())
	require.Equal(t, -750*ms, m.BarStart(1))
	require.Equal(t, "1.3", m.Locate(250*ms).String())
	require.Equal(t, "2.1", m.Locate(750*ms).String())
}

func TestDefaultMetre(t *testing.T) {
	m := beatMap(t, "1 at=0 \n 2 at=2")
	require.Equal(t, timeline.Metre{Num: 4, Den: 4}, m.Anchors()[0].Metre)
	require.True(t, m.Equal(beatMap(t, "1 at=0 metre=4/4 \n 2 at=2")))
}

func TestNewBeatMapRefuses(t *testing.T) {
	for lines, say := range map[string]string{
		"1 at=0":                                 "one anchor",
		"1 at=1 \n 1 at=2":                       "anchor 1.1 at=2.000000 does not come after anchor 1.1 at=1.000000 metre=4/4 in bars and beats",
		"2 at=1 \n 1 at=2":                       "in bars and beats",
		"1 at=1 \n 2 at=1":                       "anchor 2.1 at=1.000000 does not come after anchor 1.1 at=1.000000 metre=4/4 in time",
		"1 at=1 \n 2 at=0.5":                     "in time",
		"1 at=0 \n 2 at=2 \n 3.2 at=5 metre=3/4": "the metre may change only at the start of a bar, such as 4.1",
		"1 at=0 \n 2.5 at=2":                     "anchor 2.5 at=2.000000: a bar of 4/4 has beats 1 to 4",
		"1 at=0 metre=6/8 \n 2.7 at=2":           "a bar of 6/8 has beats 1 to 6",
		"1 at=0 \n 2 at=24.000001":               "tempo from anchor 1.1 at=0.000000 metre=4/4 to anchor 2.1 at=24.000001 is 10.0 beats/min: it must be from 10 to 1000",
		"1 at=0 \n 2 at=0.239999":                "it must be from 10 to 1000",
	} {
		m, err := timeline.NewBeatMap(anchors(t, lines))
		require.ErrorContains(t, err, say)
		require.Nil(t, m)
	}
	for _, legal := range []string{"1 at=0 \n 2 at=24", "1 at=0 \n 2 at=0.24"} {
		beatMap(t, legal)
	}
	for _, a := range []timeline.Anchor{
		{Bar: 2, At: timeline.Second, Metre: timeline.Metre{Num: 4, Den: 3}},
		{Bar: 2, At: 1001 * timeline.Hour},
		{Bar: 2, At: math.MaxInt64},
		{Bar: math.MaxInt, At: timeline.Second},
		{Bar: 2, Beat: rat(-1, 2), At: timeline.Second},
		{Bar: 2, Beat: rat(1, 10000), At: timeline.Second},
	} {
		_, err := timeline.NewBeatMap([]timeline.Anchor{{Bar: 1}, a})
		require.ErrorContains(t, err, "anchor "+a.String()+": ")
	}
}

func TestEmptyBeatMap(t *testing.T) {
	m, err := timeline.NewBeatMap(nil)
	require.NoError(t, err)
	require.Nil(t, m)
	require.True(t, m.Empty())
	require.Nil(t, m.Anchors())
	require.Zero(t, m.At(place(t, "17.3")))
	require.Zero(t, m.BarStart(3))
	require.Equal(t, "1.1", m.Locate(timeline.Second).String())
	require.Equal(t, "1.1", m.Snap(timeline.Second, rat(1, 4)).String())
	require.Zero(t, m.MetreAt(1))
	require.Zero(t, m.BPM(0))
	require.Nil(t, m.Shift(timeline.Second))
	require.True(t, m.Equal(new(timeline.BeatMap)))
	require.False(t, m.Equal(beatMap(t, turns)))
	require.False(t, beatMap(t, turns).Empty())
}

func TestShift(t *testing.T) {
	m := beatMap(t, turns)
	later := m.Shift(1500 * ms)
	require.Equal(t, 2000*ms, later.BarStart(1))
	require.Equal(t, 500*ms, m.BarStart(1), "the map itself stays")
	require.True(t, m.Equal(later.Shift(-1500*ms)))
	require.False(t, m.Equal(later))
	require.Equal(t, m.Locate(9*timeline.Second), later.Locate(10500*ms))
	// The anchors stop at the range of text.
	last := m.Shift(math.MaxInt64).Anchors()
	require.Equal(t, 1000*timeline.Hour, last[4].At)
	first := m.Shift(math.MinInt64).Anchors()
	require.Equal(t, -1000*timeline.Hour, first[0].At)
}

func TestSteadyBeatMap(t *testing.T) {
	m := timeline.SteadyBeatMap(250*ms, timeline.Minute/128, timeline.Metre{Num: 3, Den: 4}, 40)
	require.InDelta(t, 128, m.BPM(0), 1e-9)
	// Beat at 128 beats/min: 468.75 ms, exact in our unit.
	for n := range int64(200) {
		beat := timeline.BarBeat{Bar: 1, Beat: rat(n, 1)}
		require.Equal(t, 250*ms+timeline.Time(n)*timeline.Minute/128, m.At(beat))
	}
	require.Len(t, m.Anchors(), 2)
	require.Equal(t, "4/4", timeline.SteadyBeatMap(0, 500*ms, timeline.Metre{}, 0).MetreAt(1).String())
	for _, none := range []*timeline.BeatMap{
		timeline.SteadyBeatMap(0, 0, timeline.Metre{}, 8),
		timeline.SteadyBeatMap(0, -500*ms, timeline.Metre{}, 8),
		timeline.SteadyBeatMap(0, 59*ms, timeline.Metre{}, 8),
		timeline.SteadyBeatMap(0, 500*ms, timeline.Metre{Num: -1, Den: 4}, 8),
		timeline.SteadyBeatMap(0, math.MaxInt64, timeline.Metre{}, math.MaxInt),
		timeline.SteadyBeatMap(math.MaxInt64, 500*ms, timeline.Metre{}, 8),
	} {
		require.True(t, none.Empty())
	}
}

// The range of beats from which maps are drawn, short of the limits by enough to
// round each time to a whole unit.
const (
	fastestBeat = int64(timeline.Minute)/1000 + 10_000
	slowestBeat = int64(timeline.Minute) / 10
)

// anyBeatMap draws a map of two to eight anchors with all kinds of tempo,
// places inside bars and metre changes.
func anyBeatMap(t *rapid.T) *timeline.BeatMap {
	metre := anyMetre(t, "first metre")
	bar := rapid.IntRange(-20, 20).Draw(t, "first bar")
	at := timeline.Time(rapid.Int64Range(-int64(timeline.Hour), int64(timeline.Hour)).Draw(t, "first at"))
	list := []timeline.Anchor{{Bar: bar, Beat: insideBar(t, metre), At: at, Metre: metre}}
	for range rapid.IntRange(1, 7).Draw(t, "more anchors") {
		before := list[len(list)-1]
		next := timeline.Anchor{Bar: before.Bar + rapid.IntRange(1, 40).Draw(t, "bars on"), Beat: insideBar(t, metre)}
		beats := rat(int64(next.Bar-before.Bar)*int64(metre.Num), 1).Add(next.Beat).Sub(before.Beat)
		beatTicks := rapid.Int64Range(fastestBeat, slowestBeat).Draw(t, "beat ticks")
		next.At = before.At + ticksFor(beats, beatTicks)
		if next.Beat.IsZero() && rapid.Bool().Draw(t, "metre changes") {
			metre = anyMetre(t, "metre")
			next.Metre = metre
		}
		list = append(list, next)
	}
	m, err := timeline.NewBeatMap(list)
	require.NoError(t, err)
	return m
}

// ticksFor returns how long the beats last, rounded down so that a beat is
// never slower than told.
func ticksFor(beats timeline.Rat, beatTicks int64) timeline.Time {
	length := new(big.Rat).Mul(exact(beats), big.NewRat(beatTicks, 1))
	return timeline.Time(new(big.Int).Quo(length.Num(), length.Denom()).Int64())
}

func insideBar(t *rapid.T, metre timeline.Metre) timeline.Rat {
	if rapid.Bool().Draw(t, "at bar start") {
		return timeline.Rat{}
	}
	den := rapid.SampledFrom([]int64{1, 2, 3, 7, 960, 9599, 9600}).Draw(t, "beat den")
	return rat(rapid.Int64Range(0, int64(metre.Num)*den-1).Draw(t, "beat num"), den)
}

func TestAnchorsAreMetExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyBeatMap(t)
		for _, a := range m.Anchors() {
			require.Equal(t, a.At, m.At(a.Place()))
		}
	})
}

func TestBeatMapIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyBeatMap(t)
		places := make([]timeline.BarBeat, 2)
		for i := range places {
			bar := rapid.IntRange(-40, 340).Draw(t, "bar")
			places[i] = timeline.BarBeat{Bar: bar, Beat: insideBar(t, m.MetreAt(bar))}
		}
		p, q := places[0], places[1]
		if p.Cmp(q) > 0 {
			p, q = q, p
		}
		require.LessOrEqual(t, m.At(p), m.At(q))

		t1, t2 := anyTime(t, "t1"), anyTime(t, "t2")
		require.LessOrEqual(t, m.Locate(min(t1, t2)).Cmp(m.Locate(max(t1, t2))), 0)
	})
}

// Places on the grain that Locate tells apart come back as they were.
func TestPlaceToTimeToPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyBeatMap(t)
		bar := rapid.IntRange(-40, 340).Draw(t, "bar")
		grains := rapid.Int64Range(0, 960*int64(m.MetreAt(bar).Num)-1).Draw(t, "grains")
		p := timeline.BarBeat{Bar: bar, Beat: rat(grains, 960)}
		require.Equal(t, p, m.Locate(m.At(p)))
	})
}

// A located place lies inside its bar and within half a grain of the time.
func TestTimeToPlaceToTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyBeatMap(t)
		// At most 1/32 bars of 1.9 ms, where the last metre change makes them so: a million lasts longer than this.
		time := timeline.Time(rapid.Int64Range(-30*int64(timeline.Minute), 30*int64(timeline.Minute)).Draw(t, "time"))
		p := m.Locate(time)
		require.NoError(t, p.Check())
		require.Negative(t, p.Beat.Cmp(rat(int64(m.MetreAt(p.Bar).Num), 1)))
		// The tempo may change inside the half grain; the slower one bounds it.
		slowest := min(m.BPM(time), m.BPM(m.At(p)), m.BPM(time-1), m.BPM(m.At(p)-1))
		halfGrain := timeline.FromSeconds(60/slowest/960/2) + 1
		require.LessOrEqual(t, max(m.At(p)-time, time-m.At(p)), halfGrain)
	})
}

// Lookups take any values without a panic.
func TestBeatMapTakesAnyValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyBeatMap(t)
		time := timeline.Time(rapid.OneOf(rapid.Int64(), rapid.SampledFrom([]int64{math.MinInt64, math.MaxInt64, 0})).Draw(t, "time"))
		bar := rapid.OneOf(rapid.Int(), rapid.SampledFrom([]int{math.MinInt, math.MaxInt})).Draw(t, "bar")
		beat := rat(rapid.Int64Range(-math.MaxInt64, math.MaxInt64).Draw(t, "num"), rapid.Int64Range(1, math.MaxInt64).Draw(t, "den"))
		m.At(timeline.BarBeat{Bar: bar, Beat: beat})
		m.MetreAt(bar)
		m.BPM(time)
		require.NotPanics(t, func() { m.Locate(time) })
		m.Snap(time, beat)
		m.Shift(time).Snap(time, rat(1, 4))
	})
}

func TestBeatMapLookupsDoNotAllocate(t *testing.T) {
	m := beatMap(t, turns)
	p := place(t, "13.4+1/3")
	require.Zero(t, testing.AllocsPerRun(100, func() {
		m.Locate(m.At(p) + 1)
		m.Snap(m.At(p), rat(1, 4))
	}))
}

// longMap has an anchor at each of 400 bars, as a song played by hand has.
func longMap(b *testing.B) *timeline.BeatMap {
	list := make([]timeline.Anchor, 400)
	for i := range list {
		list[i] = timeline.Anchor{Bar: i + 1, At: timeline.Time(i)*2*timeline.Second + timeline.Time(i%7)*9*ms}
	}
	m, err := timeline.NewBeatMap(list)
	require.NoError(b, err)
	return m
}

func BenchmarkBeatMapAt(b *testing.B) {
	m := longMap(b)
	b.ReportAllocs()
	for n := 0; b.Loop(); n++ {
		m.At(timeline.BarBeat{Bar: n%400 + 1, Beat: rat(5, 2)})
	}
}

func BenchmarkBeatMapLocate(b *testing.B) {
	m := longMap(b)
	b.ReportAllocs()
	for n := 0; b.Loop(); n++ {
		m.Locate(timeline.Time(n%800_000) * ms)
	}
}

package timeline_test

import (
	"encoding/json"
	"math"
	"math/big"
	"testing"

	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func anyRate(t *rapid.T) timeline.Rate {
	return rapid.SampledFrom(timeline.Rates()).Draw(t, "rate")
}

// Frames per second as SMPTE ST 12-1 defines them, from memory: 23.976 and
// 29.97 are 24000/1001 and 30000/1001.
var framesPerSecond = map[timeline.Rate]*big.Rat{
	timeline.Rate23976:   big.NewRat(24000, 1001),
	timeline.Rate24:      big.NewRat(24, 1),
	timeline.Rate25:      big.NewRat(25, 1),
	timeline.Rate2997DF:  big.NewRat(30000, 1001),
	timeline.Rate2997NDF: big.NewRat(30000, 1001),
	timeline.Rate30:      big.NewRat(30, 1),
}

func TestFrameTicksAreExact(t *testing.T) {
	require.Len(t, framesPerSecond, len(timeline.Rates()))
	for rate, fps := range framesPerSecond {
		second := new(big.Rat).Mul(fps, big.NewRat(int64(rate.FrameTicks()), 1))
		require.Zero(t, second.Cmp(big.NewRat(timeline.TicksPerSecond, 1)), rate.String())
	}
}

func TestRateFacts(t *testing.T) {
	for _, c := range []struct {
		rate    timeline.Rate
		text    string
		nominal int
		drop    bool
		day     int64
	}{
		{timeline.Rate23976, "23.976", 24, false, 2073600},
		{timeline.Rate24, "24", 24, false, 2073600},
		{timeline.Rate25, "25", 25, false, 2160000},
		{timeline.Rate2997DF, "29.97df", 30, true, 2589408},
		{timeline.Rate2997NDF, "29.97ndf", 30, false, 2592000},
		{timeline.Rate30, "30", 30, false, 2592000},
	} {
		require.Equal(t, c.text, c.rate.String())
		require.Equal(t, c.nominal, c.rate.Nominal(), c.text)
		require.Equal(t, c.drop, c.rate.Drop(), c.text)
		require.Equal(t, c.day, c.rate.DayFrames(), c.text)
		parsed, err := timeline.ParseRate(c.text)
		require.NoError(t, err)
		require.Equal(t, c.rate, parsed)
	}
}

func TestParseRateRefuses(t *testing.T) {
	for _, text := range []string{"", "29.97", "23.98", "24.0", "25fps", "60", "30df", "29.97DF"} {
		_, err := timeline.ParseRate(text)
		require.ErrorContains(t, err, "23.976, 24, 25, 29.97df, 29.97ndf, 30", text)
	}
}

func TestRateInFiles(t *testing.T) {
	type record struct{ Rate timeline.Rate }
	for _, rate := range append(timeline.Rates(), timeline.RateUnset) {
		text, err := json.Marshal(record{rate})
		require.NoError(t, err)
		var back record
		require.NoError(t, json.Unmarshal(text, &back))
		require.Equal(t, rate, back.Rate)
	}
	var bad record
	require.ErrorContains(t, json.Unmarshal([]byte(`{"Rate":"31"}`), &bad), "choose one of")
}

// Without a rate, and with a number that is none, nothing panics.
func TestRateUnset(t *testing.T) {
	for _, rate := range []timeline.Rate{timeline.RateUnset, 200} {
		require.Empty(t, rate.String())
		require.Zero(t, rate.Nominal())
		require.Zero(t, rate.DayFrames())
		require.Zero(t, rate.At(5))
		require.Zero(t, rate.Nearest(timeline.Second))
		require.Zero(t, rate.Floor(timeline.Second))
		require.Zero(t, rate.Ceil(0))
		require.Equal(t, "no frame rate", rate.Label(0))
		_, err := rate.Frame(timeline.Timecode{})
		require.ErrorContains(t, err, "no frame rate is set: choose one of 23.976")
		_, err = rate.Timecode(0)
		require.ErrorContains(t, err, "no frame rate is set")
	}
}

func TestFrameToTimeToFrame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate := anyRate(t)
		frame := rapid.Int64Range(-1e9, 1e9).Draw(t, "frame")
		at := rate.At(frame)
		require.Equal(t, frame, rate.Nearest(at))
		require.Equal(t, frame, rate.Floor(at))
		require.Equal(t, frame, rate.Ceil(at))
		require.Equal(t, frame, rate.Floor(at+rate.FrameTicks()-1))
		require.Equal(t, frame+1, rate.Ceil(at+1))
	})
}

func TestRoundingToFrames(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate, time := anyRate(t), anyTime(t, "time")
		floor, nearest, ceil := rate.Floor(time), rate.Nearest(time), rate.Ceil(time)
		require.LessOrEqual(t, rate.At(floor), time)
		require.GreaterOrEqual(t, rate.At(ceil), time)
		require.LessOrEqual(t, ceil-floor, int64(1))
		require.Contains(t, []int64{floor, ceil}, nearest)
		require.Equal(t, time.RoundTo(rate.FrameTicks()), rate.At(nearest))
	})
	half := timeline.Rate25.FrameTicks() / 2
	require.EqualValues(t, 1, timeline.Rate25.Nearest(half), "half goes away from zero")
	require.EqualValues(t, -1, timeline.Rate25.Nearest(-half))
	require.EqualValues(t, 0, timeline.Rate25.Nearest(half-1))
}

func TestFramesAtTheEnds(t *testing.T) {
	for _, rate := range timeline.Rates() {
		require.EqualValues(t, math.MaxInt64, rate.At(math.MaxInt64))
		require.EqualValues(t, math.MinInt64, rate.At(math.MinInt64))
		require.Less(t, rate.Floor(math.MinInt64), int64(0))
		require.Greater(t, rate.Ceil(math.MaxInt64), int64(0))
	}
}

// The hit of a cue and the lead of its article give the command's frame.
// Derived: 25 frames/s, hit 01:00:42:12 = 3,642,480 ms, lead 850 ms, command
// 3,641,630 ms, that is 15.75 frames into its second.
func TestCommandFrameAndResidual(t *testing.T) {
	const rate = timeline.Rate25
	hit, err := rate.Frame(timeline.Timecode{H: 1, M: 0, S: 42, F: 12})
	require.NoError(t, err)
	require.Equal(t, timeline.FromMillis(3642480), rate.At(hit))

	command := rate.At(hit) - timeline.FromMillis(850)
	frame := rate.Nearest(command)
	require.Equal(t, "01:00:41:16", rate.Label(frame))
	require.Equal(t, timeline.FromMillis(10), rate.At(frame)-command)
	truncated := rate.Floor(command)
	require.Equal(t, "01:00:41:15", rate.Label(truncated))
	require.Equal(t, timeline.FromMillis(-30), rate.At(truncated)-command)
}

// Derived: song start 05:00:00:00, hit 0.400 s, lead 0.850 s: the command lies
// 0.450 s before the song.
func TestCommandBeforeTheSong(t *testing.T) {
	const rate = timeline.Rate25
	start, err := rate.Frame(timeline.Timecode{H: 5})
	require.NoError(t, err)
	command := timeline.FromMillis(400) - timeline.FromMillis(850)
	require.Equal(t, "-0.4500", command.String())
	require.Equal(t, "04:59:59:14", rate.Label(rate.Nearest(rate.At(start)+command)))
}

func BenchmarkRateNearest(b *testing.B) {
	time := timeline.FromMillis(3641630)
	for b.Loop() {
		if timeline.Rate2997DF.Nearest(time) == 0 {
			b.Fatal("not the frame")
		}
		time++
	}
}

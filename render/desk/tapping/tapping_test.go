package tapping

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool" // the seed of random walks
)

const milli = timeline.Millisecond

// Whoever taps so much late, with a device that is so much late, and now and then misses, is measured so; both parts are told apart by eye.
func TestMeasuredIsWhatWasThere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		delay := timeline.Time(rapid.Int64Range(0, 300).Draw(t, "delay"))
		lead := timeline.Time(rapid.Int64Range(-100, 200).Draw(t, "lead"))
		row := func(late timeline.Time) []timeline.Time {
			var offs []timeline.Time
			for i := range 16 {
				at := timeline.Time(i+2)*Beat + (late+timeline.Time(rapid.Int64Range(-15, 15).Draw(t, "uneven")))*milli
				if i == 5 || i == 9 { // missed altogether
					at += 150 * milli
				}
				offs = append(offs, Offset(at))
			}
			return offs
		}
		ear, err := Measure(row(delay + lead))
		require.NoError(t, err)
		require.InDelta(t, float64(delay+lead), float64(ear.Median/milli), 15)
		require.LessOrEqual(t, ear.Spread, 20*milli)
		require.Equal(t, 14, ear.Taps, "without those that find the beat")
		eye, err := Measure(row(lead))
		require.NoError(t, err)
		gotDelay, gotLead, err := Split(ear, &eye, 0, 500, 300)
		require.NoError(t, err)
		require.InDelta(t, float64(delay), float64(gotDelay), 30)
		require.InDelta(t, float64(lead), float64(gotLead), 30)
		require.InDelta(t, float64(ear.Median/milli), float64(gotDelay+gotLead), 1.5, "together they are what was heard")
	})
}

func TestOffset(t *testing.T) {
	for at, want := range map[timeline.Time]timeline.Time{0: 0, 120 * milli: 120 * milli, -50 * milli: -50 * milli, 8*Beat - 200*milli: -200 * milli, 8*Beat + 599*milli: 599 * milli, 8*Beat + 601*milli: -199 * milli} {
		require.Equal(t, want, Offset(at), "%v", at)
	}
}

// Too few taps and too uneven ones tell nothing, and what cannot be set is refused.
func TestWhatTellsNothing(t *testing.T) {
	few := make([]timeline.Time, Least+finding-1)
	_, err := Measure(few)
	require.ErrorContains(t, err, "9 of 10 taps")
	var wild []timeline.Time
	for i := range 20 {
		wild = append(wild, timeline.Time(i*40)*milli-200*milli)
	}
	_, err = Measure(wild)
	require.ErrorContains(t, err, "too uneven")
	_, _, err = Split(Measured{Median: 450 * milli}, nil, 0, 500, 300)
	require.ErrorContains(t, err, "450 ms")
	delay, lead, err := Split(Measured{Median: 180 * milli}, nil, 120, 500, 300)
	require.NoError(t, err)
	require.Equal(t, []int{120, 60}, []int{delay, lead}, "without a look the delay stays as it is")
	require.Equal(t, "12 taps: 143 ms ± 9 ms", Measured{Taps: 12, Median: 143 * milli, Spread: 9 * milli}.String())
}

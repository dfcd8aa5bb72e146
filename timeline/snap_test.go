package timeline_test

import (
	"testing"

	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestSnap(t *testing.T) {
	m := beatMap(t, turns)
	for _, c := range []struct {
		time timeline.Time
		div  timeline.Rat
		want string
	}{
		{1240 * ms, rat(1, 1), "1.2"},
		{1250 * ms, rat(1, 1), "1.3"}, // equally near: the later
		{1249 * ms, rat(1, 1), "1.2"},
		{1130 * ms, rat(1, 4), "1.2+1/4"},
		{1160 * ms, rat(1, 3), "1.2+1/3"},
		{2490 * ms, rat(1, 4), "2.1"},
		{16500*ms - 1, rat(1, 1), "9.1"},
		{-10 * ms, rat(1, 1), "0.4"},
		{-1510 * ms, rat(1, 1), "0.1"},
		// Steps that do not fill the bar stop at the next bar's start.
		{2100 * ms, rat(3, 1), "1.4"},
		{2300 * ms, rat(3, 1), "2.1"},
		{1400 * ms, rat(4, 1), "1.1"},
		{1600 * ms, rat(9, 1), "2.1"},
		{1600 * ms, timeline.Rat{}, "2.1"},
		{1400 * ms, rat(-1, 1), "1.1"},
		// 6/8 has six beats.
		{42350 * ms, rat(3, 1), "17.4"},
		{42390 * ms, rat(3, 1), "17.4"},
		{42410 * ms, rat(3, 1), "18.1"},
		// The tempo changes at 13.3, so the middle of 13.2 and 13.4 in time
		// is not the middle in beats.
		{34240 * ms, rat(3, 1), "13.4"},
		{33700 * ms, rat(3, 1), "13.1"},
		{33760 * ms, rat(3, 1), "13.4"},
	} {
		require.Equal(t, c.want, m.Snap(c.time, c.div).String(), "%s to %s", c.time, c.div)
	}
}

// Where the tempo drops inside a bar, the step nearest in beats is not the
// nearest in time: at 1.2 s, 2.4 beats on, the step of 3 beats is 1.7 s away
// and that of 1.5 beats only 0.45 s.
func TestSnapMeasuresInTime(t *testing.T) {
	m := beatMap(t, "1 at=0 metre=4/4 \n 1.3+1/2 at=1.25 \n 2 at=6.25")
	require.Equal(t, "1.2+1/2", m.Snap(1200*ms, rat(3, 2)).String())
	require.Equal(t, "1.4", m.Snap(1900*ms, rat(3, 2)).String())
}

// Steps finer than Locate tells apart.
func TestSnapToFineSteps(t *testing.T) {
	m := beatMap(t, turns)
	const step = 500 * ms / 9600
	require.Equal(t, "1.4+9599/9600", m.Snap(2500*ms-step*6/5, rat(1, 9600)).String())
	require.Equal(t, "2.1+1/9600", m.Snap(2500*ms+step*6/5, rat(1, 9600)).String())
}

// No target is nearer than the one that Snap gives, and what it gives stays.
func TestSnapIsNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyBeatMap(t)
		div := rapid.SampledFrom([]timeline.Rat{rat(1, 1), rat(1, 2), rat(1, 3), rat(1, 4), rat(2, 1), rat(3, 1), rat(5, 4), rat(1, 64)}).Draw(t, "div")
		time := timeline.Time(rapid.Int64Range(-2*int64(timeline.Hour), 3*int64(timeline.Hour)).Draw(t, "time"))
		p := m.Snap(time, div)
		distance := max(m.At(p)-time, time-m.At(p))
		for bar := p.Bar - 1; bar <= p.Bar+1; bar++ {
			end := rat(int64(m.MetreAt(bar).Num), 1)
			for beat := rat(0, 1); beat.Cmp(end) < 0; beat = beat.Add(div) {
				at := m.At(timeline.BarBeat{Bar: bar, Beat: beat})
				require.LessOrEqual(t, distance, max(at-time, time-at), "%d %s is nearer than %s", bar, beat, p)
			}
		}
		require.Equal(t, p, m.Snap(m.At(p), div))
	})
}

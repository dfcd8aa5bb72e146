package course

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool"
)

const ms = timeline.Millisecond

func command(family timeline.Family, open timeline.Time, fill func(*timeline.Article)) *timeline.Command {
	a := &timeline.Article{Family: family, Spread: 30 * ms}
	if fill != nil {
		fill(a)
	}
	return &timeline.Command{Article: a, At: 880 * ms, Hit: 1000 * ms, Open: open}
}

// A jet of half a second: nothing in its lead, full after its rise, half way down
// in the middle of its fall.
func TestHeight(t *testing.T) {
	x := Of(command(timeline.CO2Jet, 500*ms, nil), 0)
	for _, c := range []struct {
		at   timeline.Time
		want float64
	}{{0, 0}, {880 * ms, 0}, {999 * ms, 0}, {1000 * ms, 0}, {1060 * ms, 0.5}, {1120 * ms, 1}, {1499 * ms, 1}, {1500 * ms, 1}, {1700 * ms, 0.5}, {1899 * ms, 0.0025}, {1900 * ms, 0}, {9000 * ms, 0}} {
		require.InDelta(t, c.want, x.Height(c.at), 1e-9, "at %s", c.at)
	}
	require.Equal(t, 1900*ms, x.Gone())
}

// What an article gives counts, its hang where something floats, and else the
// family's; only then is the course assumed.
func TestFallByFamily(t *testing.T) {
	for _, c := range []struct {
		family  timeline.Family
		fill    func(*timeline.Article)
		floats  timeline.Time
		want    timeline.Time
		assumed bool
	}{
		{timeline.CO2Jet, nil, 0, 400 * ms, true},
		{timeline.PropaneFlame, nil, 0, 300 * ms, true},
		{timeline.SparkMachine, nil, 0, 800 * ms, true},
		{timeline.Waterfall, nil, 0, 800 * ms, true},
		{timeline.FogMachine, nil, 0, 20000 * ms, true},
		{timeline.ConfettiSingle, nil, 9000 * ms, 9000 * ms, true},
		{timeline.ConfettiSingle, func(a *timeline.Article) { a.Hang, a.Rise = 12000*ms, 50*ms }, 9000 * ms, 12000 * ms, false},
		{timeline.Airburst, func(a *timeline.Article) { a.Hang = 3000 * ms }, 0, 3000 * ms, true},
		{timeline.PropaneFlame, func(a *timeline.Article) { a.Hang = 3000 * ms }, 0, 300 * ms, true},
		{timeline.PropaneFlame, func(a *timeline.Article) { a.Rise, a.Fall = 80*ms, 250*ms }, 0, 250 * ms, false},
		{timeline.PropaneFlame, func(a *timeline.Article) { a.Fall = 250 * ms }, 0, 250 * ms, true},
	} {
		x := Of(command(c.family, 400*ms, c.fill), c.floats)
		require.Equal(t, c.want, x.Fall, "%s", c.family)
		require.Equal(t, c.assumed, x.Assumed, "%s", c.family)
	}
}

// The lead fills from the command to the hit, and its last part is the spread.
func TestLead(t *testing.T) {
	x := Of(command(timeline.CO2Jet, 500*ms, nil), 0)
	over, spread, ok := x.Lead(940 * ms)
	require.True(t, ok)
	require.InDelta(t, 0.5, over, 1e-9)
	require.InDelta(t, 0.75, spread, 1e-9)
	for _, at := range []timeline.Time{879 * ms, 1000 * ms} {
		_, _, ok = x.Lead(at)
		require.False(t, ok, "at %s", at)
	}
}

// Whatever the figures, the height goes up once and down once and stays between
// nothing and all of it.
func TestHeightGoesUpAndDownOnce(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		family := rapid.SampledFrom(timeline.Families()).Draw(rt, "family")
		span := func(name string) timeline.Time { return timeline.Time(rapid.Int64Range(0, 3000).Draw(rt, name)) * ms }
		x := Of(command(family, span("open"), func(a *timeline.Article) { a.Rise, a.Fall, a.Hang = span("rise"), span("fall"), span("hang") }), span("floats"))
		last, fell := 0.0, false
		for at := 900 * ms; at < x.Gone()+100*ms; at += 17 * ms {
			h := x.Height(at)
			require.True(rt, h >= 0 && h <= 1, "%v at %s", h, at)
			if h < last {
				fell = true
			}
			require.False(rt, fell && h > last, "it rises again at %s", at)
			last = h
		}
		require.Zero(rt, x.Height(x.Gone()))
		require.Equal(rt, 1.0, x.Height(x.Full()), "it reaches its height")
	})
}

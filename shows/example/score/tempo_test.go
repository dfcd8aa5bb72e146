package score

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool" // the seed of random walks
)

// Values by hand: a beat of b per minute lasts 60/b s of 282,240,000 ticks.
func TestTempoMapByHand(t *testing.T) {
	four, _ := parseMetre("4/4")
	six, _ := parseMetre("6/8")
	for name, c := range map[string]struct {
		metre Metre
		bends []bend
		first int
		start Tick
		step  int
		want  Tick
	}{
		"second bar at 120":            {four, []bend{{tempo: 120}}, 0, 0, 16, 2 * Second},
		"lead-in moves all":            {four, []bend{{tempo: 120}}, 0, Second / 2, 16, 5 * Second / 2},
		"second bar of 6/8 at 60":      {six, []bend{{tempo: 60}}, 0, 0, 12, 2 * Second},
		"an eighth of 6/8 at 60":       {six, []bend{{tempo: 60}}, 0, 0, 2, Second / 3},
		"after a change 120 to 60":     {four, []bend{{tempo: 120}, {step: 16, tempo: 60}}, 0, 0, 20, 3 * Second},
		"a pick-up of two beats":       {four, []bend{{tempo: 120}}, -8, Second, 0, 2 * Second},
		"ahead of the pick-up":         {four, []bend{{tempo: 120}}, -8, Second, -16, 0},
		"a beat of 124, nearest tick":  {four, []bend{{tempo: 124}}, 0, 0, 4, 136567742}, // 136567741.94
		"bar 36 of 124, nearest tick":  {four, []bend{{tempo: 124}}, 0, 0, 35 * 16, 19119483871},
		"a sixteenth of 70, round up":  {six, []bend{{tempo: 70}}, 0, 0, 1, 40320000},
		"three sixteenths of 168, 3/4": {four, []bend{{tempo: 168}}, 0, 0, 3, 75600000},
	} {
		t.Run(name, func(t *testing.T) {
			require.Equal(t, c.want, newTempoMap(c.metre, c.bends, c.first, c.start).at(c.step))
		})
	}
}

func TestTempoMapRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Metre{Beats: 4, Unit: 4, Pulse: 1}
		bends := []bend{{tempo: rapid.IntRange(20, 400).Draw(t, "tempo")}}
		step := 0
		for range rapid.IntRange(0, 5).Draw(t, "changes") {
			step += rapid.IntRange(1, 200).Draw(t, "gap")
			bends = append(bends, bend{step: step, tempo: rapid.IntRange(20, 400).Draw(t, "tempo")})
		}
		tempo := newTempoMap(m, bends, 0, 0)
		at := rapid.IntRange(-100, 2000).Draw(t, "step")
		require.Less(t, tempo.at(at), tempo.at(at+1))
	})
}

// The anchors alone must give back every beat: the show's beat map is made of
// them.
func TestAnchorsGiveEveryBeat(t *testing.T) {
	for _, s := range Songs() {
		t.Run(s.Slug, func(t *testing.T) {
			var anchors []timeline.Anchor
			for _, a := range s.Anchors {
				anchors = append(anchors, timeline.Anchor{
					Bar: a.Bar, Beat: timeline.NewRat(int64(a.Beat-1), 1), At: timeline.Time(a.At),
				})
			}
			anchors[0].Metre = timeline.Metre{Num: s.Metre.Beats, Den: s.Metre.Unit}
			m, err := timeline.NewBeatMap(anchors)
			require.NoError(t, err)
			for bar := 1; bar <= s.Bars(); bar++ {
				for beat := 1; beat <= s.Metre.Beats; beat++ {
					p := timeline.BarBeat{Bar: bar, Beat: timeline.NewRat(int64(beat-1), 1)}
					require.InDelta(t, int64(s.Start(bar, beat)), int64(m.At(p)), 1, "%d.%d", bar, beat)
				}
			}
		})
	}
}

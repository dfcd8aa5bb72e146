package rule

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// A flame of 5 m at (0, 2, 1) is 6 m long with tolerance; pointing along the stage
// it goes (6 - 0.2) / (1 + sin 10) = 4.94 m to a ball of 1.06 m, so that the ball
// of 0.5 m of a unit 6.5 m away is touched, one at 7.6 m is 1.1 m away (worked by
// hand).
func TestFlamesReachUnits(t *testing.T) {
	flame := func(x string, more ...timeline.Edit) []timeline.Edit {
		return append(edits(put(&timeline.StagePosition{Base: base{ID: "fire"}, Y: 2, Z: 1}, &timeline.StagePosition{Base: base{ID: "other"}, Y: 2, Z: 1}), field("position", "other", "x", x),
			field("article", "flame", "height", "5"), field("placed", "f1", "position", "fire"), field("placed", "f1", "pan", "90"), field("placed", "j1", "position", "other"), cue("a", "f1", 10*sec)), more...)
	}
	holding := func(family string) timeline.Edit { return field("article", "jet", "family", family) }
	runNight(t, unitReachName, []nightCase{
		{"a cold jet's gas", flame("6.4"), []string{"placed:f1: f1: flame, which leans 90° to the audience's right, reaches j1 (jet), which holds gas or fuel"}},
		{"just touched", flame("6.5"), []string{"placed:f1: reaches j1 (jet)"}},
		{"nearer than is kept free", flame("6.6"), []string{"placed:f1: reaches to 0.1 m of j1 (jet), which holds gas or fuel; 1 m is kept free"}},
		{"less is kept free", flame("7", showSetting(unitReachName, func(s *timeline.Setting) { s.Values = []string{"near=0.4"} })), nil},
		{"a larger body", flame("7", showSetting(unitReachName, func(s *timeline.Setting) { s.Values = []string{"body=1.1"} })), []string{"placed:f1: reaches j1 (jet)"}},
		{"further away", flame("7.6"), nil},
		{"two at one place", flame("6.5", field("placed", "j2", "position", "other")), []string{"placed:f1: reaches j1, j2 (jet), which holds gas or fuel"}},
		{"behind it", flame("-3"), nil},
		{"upright", flame("4", field("placed", "f1", "pan", "0")), nil},
		{"a comet", flame("6.4", holding("comet")), []string{"placed:f1: which holds explosive"}},
		{"paper", flame("6.4", holding("confetti-blower")), []string{"placed:f1: which holds paper"}},
		{"a fog machine", flame("6.4", holding("fog-machine")), []string{"placed:f1: reaches j1 (jet)"}},
		{"a fog machine near by", flame("6.6", holding("fog-machine")), nil},
		{"where the flame itself stands", flame("0"), nil},
		{"a cold jet reaches whom it likes", flame("6.4", field("article", "flame", "family", "co2-jet")), nil},
		{"down to the floor, where it spreads", flame("3", field("placed", "f1", "pan", "0"), field("placed", "f1", "tilt", "180"), field("position", "other", "z", "0")), []string{"placed:f1: which points straight down, reaches j1"}},
		{"a height that is not given has no reach", flame("6.4", field("article", "flame", "height", "0")), nil},
		{"a place that is not given has none either", flame("6.4", field("placed", "j1", "position", "")), nil},
	})
	severity := func(edits []timeline.Edit) Severity {
		s := stage(t, append([]timeline.Edit{put(&timeline.Venue{Base: base{ID: "v"}, Slug: "v", Tolerance: 0.2}, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"})}, edits...)...)
		found := ofRule(unitReachName, nightAt(s))
		require.Len(t, found, 1)
		return found[0].Severity
	}
	require.Equal(t, Error, severity(flame("6.4")))
	require.Equal(t, Warning, severity(flame("6.4", holding("fog-machine"))))
	require.Equal(t, Note, severity(flame("6.6")))
}

// The same flame, 6 m with its last ball, and a cloth across its way or above it:
// worked by hand. At x = 4 a border that hangs 1.5 m above the axis is 0.58 m from
// the ball of 0.947 m that is 4.3 m along.
func TestClothsStayFree(t *testing.T) {
	flame := func(cloth string, more ...timeline.Edit) []timeline.Edit {
		return append(edits(put(&timeline.StagePosition{Base: base{ID: "fire"}, Y: 2, Z: 1}), field("article", "flame", "height", "5"), field("placed", "f1", "position", "fire"), field("placed", "f1", "pan", "90"),
			field("venue", "v", "cloths", cloth), cue("a", "f1", 10*sec)), more...)
	}
	runNight(t, clothName, []nightCase{
		{"in its way", flame("leg from=5.9,-3 to=5.9,6 crown=7"), []string{`placed:f1: f1: flame, which leans 90° to the audience's right, reaches cloth "leg"`}},
		{"nearer than is kept free", flame("leg from=6.4,-3 to=6.4,6 crown=7"), []string{`placed:f1: reaches to 0.4 m of cloth "leg"; 1 m is kept free`}},
		{"further away", flame("leg from=7.1,-3 to=7.1,6 crown=7"), nil},
		{"less is kept free", flame("leg from=6.4,-3 to=6.4,6 crown=7", showSetting(clothName, func(s *timeline.Setting) { s.Values = []string{"near=0.3"} })), nil},
		{"a border above it", flame("border from=4,-3 to=4,6 foot=2.5 crown=3.5"), []string{`placed:f1: reaches to 0.5 m of cloth "border"`}},
		{"a border further up", flame("border from=4,-3 to=4,6 foot=3.1 crown=3.5"), nil},
		{"it ends beside it", flame("leg from=4,-3 to=4,-0.2 crown=7"), nil},
		{"the second of two", flame("far from=40,-3 to=40,6 crown=7; leg from=5.9,-3 to=5.9,6 crown=7"), []string{`placed:f1: reaches cloth "leg"`}},
		{"a cold jet", flame("leg from=5.9,-3 to=5.9,6 crown=7", field("article", "flame", "family", "co2-jet")), nil},
		{"a height that is not given", flame("leg from=5.9,-3 to=5.9,6 crown=7", field("article", "flame", "height", "0")), nil},
	})
}

// The same flame and a way out, a circle of 1 m where its own is not given; a
// fountain's fallout of 2 m comes down within 2 m of its place or its axis.
func TestWaysOutStayFree(t *testing.T) {
	flame := func(exit string, more ...timeline.Edit) []timeline.Edit {
		return append(edits(put(&timeline.StagePosition{Base: base{ID: "fire"}, Y: 2, Z: 1}), field("article", "flame", "height", "5"), field("placed", "f1", "position", "fire"), field("placed", "f1", "pan", "90"),
			field("venue", "v", "exits", exit), cue("a", "f1", 10*sec)), more...)
	}
	upright := edits(field("article", "flame", "family", "fountain-burst"), field("article", "flame", "fallout", "2"), field("placed", "f1", "pan", "0"))
	runNight(t, exitReachName, []nightCase{
		{"in its way", flame("side at=6.5,2"), []string{`article:flame: f1: flame, which leans 90° to the audience's right, reaches exit "side"`}},
		{"its own circle", flame("side at=6.5,2 radius=0.4"), nil},
		{"a circle of the setting", flame("side at=6.5,2", showSetting(exitReachName, func(s *timeline.Setting) { s.Values = []string{"radius=0.4"} })), nil},
		{"beside it", flame("side at=0,8"), nil},
		{"what falls", flame("side at=0,4.9", upright...), []string{`article:flame: flame may come down on exit "side"`}},
		{"what falls further away", flame("side at=0,5", upright...), nil},
		{"a cold jet", flame("side at=6.5,2", field("article", "flame", "family", "co2-jet")), []string{"article:flame: reaches exit"}},
		{"paper", flame("side at=6,2", field("article", "flame", "family", "confetti-single")), []string{"article:flame: reaches exit"}},
		{"fog", flame("side at=6,2", field("article", "flame", "family", "fog-machine")), nil},
		{"a comet that comes down there", flame("side at=12,2", field("article", "flame", "family", "comet"), field("article", "flame", "fallout", "2"), field("placed", "f1", "pan", "30")), []string{`article:flame: may come down on exit`}},
	})
}

// 15 m on the plan are the 50 ft of NFPA 10, from memory.
func TestExtinguishersStandNear(t *testing.T) {
	flame := func(where string, more ...timeline.Edit) []timeline.Edit {
		return append(edits(put(&timeline.StagePosition{Base: base{ID: "fire"}, Y: 2}), field("article", "flame", "height", "5"), field("article", "flame", "clear", "4"), field("placed", "f1", "position", "fire"),
			field("venue", "v", "extinguishers", where), cue("a", "f1", 10*sec)), more...)
	}
	runNight(t, extinguisherName, []nightCase{
		{"near", flame("left at=-15,2"), nil},
		{"too far", flame("left at=-15.1,2"), []string{"article:flame: f1: flame has no extinguisher within 15 m"}},
		{"another one", flame("left at=-15.1,2;right at=5,2"), nil},
		{"another way", flame("left at=-15.1,2", showSetting(extinguisherName, func(s *timeline.Setting) { s.Values = []string{"most=20"} })), nil},
		{"where it burns", flame("left at=3.9,2"), []string{`venue:v: extinguisher "left" stands in the clear zone or fallout radius of f1: nobody fetches it while that burns`}},
		{"just outside", flame("left at=4,2"), nil},
		{"a cold jet needs none", flame("left at=-15.1,2", field("article", "flame", "family", "co2-jet")), nil},
		{"none given is another rule", flame(""), nil},
	})
	runNight(t, NotChecked, []nightCase{
		{"nothing given", flame(""), []string{"article:flame: use per second", "venue:v: ways out (exit-reach), extinguishers (extinguisher)"}},
	})
}

// 28.8 kg in 2000 m³ are 7871 ppm (derived): with three times as much at once the
// mean of the quarter of an hour is 23613 ppm without fresh air, and at six air
// changes an hour (1 - e^-1.5) / 1.5 = 0.5179 of it. Below 2 m over 400 m² of floor
// 28.8 kg are 19678 ppm (worked case gas-11).
func TestGasThatStays(t *testing.T) {
	jet := func(kg string, more ...timeline.Edit) []timeline.Edit {
		return append(edits(field("article", "jet", "use-each", kg), cue("a", "j1", 10*sec)), more...)
	}
	volume, area := field("venue", "v", "volume", "2000"), field("venue", "v", "area", "400")
	runNight(t, gasMeanName, []nightCase{
		{"no fresh air", jet("86.4", volume), []string{"venue:v: about 24033 ppm of CO2 in the mean of 900 s, more than 15000 ppm"}},
		{"fresh air", jet("86.4", volume, field("venue", "v", "air-changes", "6")), nil},
		{"fresh air and a lower level", jet("86.4", volume, field("venue", "v", "air-changes", "6"), showSetting(gasMeanName, func(s *timeline.Setting) { s.Values = []string{"level=12648", "outside=420"} })), []string{"venue:v: about 12650 ppm"}},
		{"a shorter time", jet("86.4", volume, field("venue", "v", "air-changes", "6"), showSetting(gasMeanName, func(s *timeline.Setting) { s.Values = []string{"window=60"} })), []string{"venue:v: in the mean of 60 s"}},
		{"little", jet("28.8", volume), nil},
		{"no volume", jet("86.4", area), nil},
	})
	require.InDelta(t, 12650, 420+23613*(1-math.Exp(-1.5))/1.5, 1, "by hand")
	level := func(x string) timeline.Edit {
		return showSetting(gasLayerName, func(s *timeline.Setting) { s.Values = []string{"level=" + x, "outside=0"} })
	}
	runNight(t, gasLayerName, []nightCase{
		{"above", jet("28.8", area, level("19677")), []string{"venue:v: if the 28.8 kg of CO2 in the air stayed below 2 m over 400 m² of floor, there would be about 19678 ppm here, more than 19677 ppm"}},
		{"below", jet("28.8", area, level("19678")), nil},
		{"a pit", jet("3.6", field("venue", "v", "area", "20"), showSetting(gasLayerName, func(s *timeline.Setting) { s.Values = []string{"height=1.5", "outside=0"} })), []string{"venue:v: about 65592 ppm"}},
		{"no area", jet("1000", volume), nil},
		{"no gas", jet("0", area), nil},
	})
	runNight(t, NotChecked, []nightCase{{"not given", jet("1"), []string{"venue:v: volume (gas-in-room, gas-mean), floor area (gas-layer)"}}})
}

// The largest mean against windows that begin anywhere, each summed by itself.
func TestLargestMeanEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		changes := float64(rapid.IntRange(0, 40).Draw(rt, "air changes"))
		window := timeline.Time(rapid.IntRange(1, 900).Draw(rt, "window")) * sec
		var air []inAir
		at, kg := timeline.Time(0), 0.0
		for range rapid.IntRange(1, 12).Draw(rt, "puffs") {
			long := timeline.Time(rapid.IntRange(0, 400).Draw(rt, "later")) * sec
			kg = kg*math.Exp(-changes/3600*long.Seconds()) + float64(rapid.IntRange(1, 9).Draw(rt, "kg"))
			at += long
			air = append(air, inAir{at: at, kg: kg})
		}
		mean := func(from timeline.Time) (sum float64) {
			for i := range air {
				begin, end := max(from, air[i].at), from+window
				if i+1 < len(air) {
					end = min(end, air[i+1].at)
				}
				if begin < end {
					sum += stayed(air[i].kg*math.Exp(-changes/3600*(begin-air[i].at).Seconds()), changes, end-begin)
				}
			}
			return sum / window.Seconds()
		}
		got, i := largestMean(air, changes, window)
		require.InDelta(rt, mean(air[i].at), got, 1e-6*got)
		for from := -window; from <= at; from += 5 * sec {
			require.LessOrEqual(rt, mean(from), got*(1+1e-6), "from %v", from)
		}
	})
}

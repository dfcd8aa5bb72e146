package rule

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// The flame of the stage: arm lead 0.5 s, condition lead 1 s, open 1 s.
func TestArmUp(t *testing.T) {
	fire := cue("a", "f1", 10*sec)
	runCases(t, "arm-up", []ruleCase{
		{"up in time", edits(fire, cue("a", "arm", ms(9500), ms(1500))), nil},
		{"no arm cue", edits(fire), []string{"cue:a/a-f1-10000: f1 (DMX 1.12): arm is not on at the command"}},
		{"too late", edits(fire, cue("a", "arm", ms(9500)+timeline.EntryStep, 3*sec)), []string{"cue:a/a-f1-10000: comes on 499.9 ms before the command and needs 500 ms"}},
		{"after the command", edits(fire, cue("a", "arm", ms(10001), 3*sec)), []string{"cue:a/a-f1-10000: not on"}},
		{"lowered before", edits(fire, cue("a", "arm", 5*sec, ms(4999))), []string{"cue:a/a-f1-10000: not on"}},
		{"lowered during the effect", edits(fire, cue("a", "arm", 9*sec, ms(1999))), []string{"cue:a/a-f1-10000: goes off 1 ms before the effect ends"}},
		{"never lowered", edits(fire, cue("a", "arm", 9*sec)), nil},
		{"two windows that touch", edits(fire, cue("a", "arm", 9*sec, ms(1200)), cue("a", "arm", ms(10200), sec)), nil},
		{"two windows with a gap", edits(fire, cue("a", "arm", 9*sec, ms(1200)), cue("a", "arm", ms(10240), sec)), []string{"cue:a/a-f1-10000: goes off"}},
		// Exactly 0.01 s, a quarter of a frame, before the command at 10.01: but the arm comes up on frame 10.00
		// and the command goes out on frame 10.00 as well.
		{"exact fits, frames do not", edits(field("devicetype", "bar", "arm-lead", "0.01"), cue("a", "f1", ms(10010)), cue("a", "arm", 10*sec, 3*sec)), []string{"cue:a/a-f1-10010: the exact times fit, their frames do not"}},
		{"exact fits, frames do", edits(field("devicetype", "bar", "arm-lead", "0.01"), cue("a", "f1", ms(10030)), cue("a", "arm", ms(10019), 3*sec)), nil},
		{"the other head has no arm cue of its own", edits(cue("a", "f2", 10*sec), cue("a", "arm", 9*sec, 3*sec)), nil},
		{"a song must arm for itself", edits(cue("b", "f1", sec), cue("a", "arm", 9*sec)), []string{"cue:b/b-f1-1000: not on"}},
		{"a device without an arm slot", edits(field("devicetype", "bar", "slots", "1.1 head=1;1.2 head=2;1.4 role=condition"), cue("a", "f1", 10*sec)), nil},
		{"a margin of one's own", edits(fire, cue("a", "arm", ms(9500), 3*sec), put(&timeline.Setting{Base: base{ID: "arm-up"}, Values: []string{"least=0.6"}})), []string{"cue:a/a-f1-10000: needs 600 ms"}},
	})
}

func TestConditionOff(t *testing.T) {
	fire := cue("a", "f1", 10*sec)
	runCases(t, "condition-off", []ruleCase{
		{"on in time", edits(fire, cue("a", "fan", 9*sec, 2*sec)), nil},
		{"not on", edits(fire), []string{"cue:a/a-f1-10000: f1 (DMX 1.13): condition is not on"}},
		{"too late", edits(fire, cue("a", "fan", ms(9001), 3*sec)), []string{"cue:a/a-f1-10000: comes on 999 ms before"}},
		{"off too early", edits(fire, cue("a", "fan", 9*sec, ms(1960))), []string{"cue:a/a-f1-10000: goes off 40 ms before"}},
	})
}

func TestNeedFixes(t *testing.T) {
	for name, list := range map[string][]timeline.Edit{
		"late":  {cue("a", "f1", 10*sec), cue("a", "arm", ms(9800), 3*sec)},
		"early": {cue("a", "f1", 10*sec), cue("a", "arm", 9*sec, ms(1500))},
		"both":  {cue("a", "f1", 10*sec), cue("a", "arm", ms(9800), ms(500))},
		"frame": {field("devicetype", "bar", "arm-lead", "0.01"), cue("a", "f1", ms(10010)), cue("a", "arm", 10*sec, 3*sec)},
	} {
		require.Empty(t, fixed(t, "arm-up", stage(t, list...), ""), name)
	}
}

// The stage's device type gives no arm hold, so that the setting counts: 30 s,
// our judgement.
func TestArmLeftUp(t *testing.T) {
	fire := cue("a", "f1", 10*sec)
	hold := field("devicetype", "bar", "arm-hold", "2")
	runCases(t, "arm-left-up", []ruleCase{
		{"lowered in time", edits(fire, cue("a", "arm", 9*sec, 32*sec)), nil},
		{"lowered after the hold", edits(fire, cue("a", "arm", 9*sec, 32*sec+timeline.EntryStep)), []string{"cue:a/a-arm-9000: bar 1 (DMX 1.12): arm stays up: after the last effect; 30 s is the most"}},
		{"the type's own hold", edits(hold, fire, cue("a", "arm", 9*sec, 4*sec)), nil},
		{"the type's own hold is over", edits(hold, fire, cue("a", "arm", 9*sec, ms(4020))), []string{"cue:a/a-arm-9000: 2 s is the most"}},
		{"never lowered", edits(fire, cue("a", "arm", 9*sec)), []string{"cue:a/a-arm-9000: never lowered"}},
		{"lowered by a later window", edits(fire, cue("a", "arm", 9*sec), cue("a", "arm", 12*sec, sec)), nil},
		{"to the end of the song", edits(cue("a", "f1", 40*sec), cue("a", "arm", 39*sec, 21*sec)), nil},
		{"past the end of the song", edits(cue("a", "f1", 40*sec), cue("a", "arm", 39*sec, 21*sec+timeline.EntryStep)), []string{"cue:a/a-arm-39000: 0.1 ms past the end"}},
		{"up for nothing", edits(cue("a", "arm", 9*sec, 31*sec)), []string{"cue:a/a-arm-9000: nothing under it is commanded"}},
		{"up for nothing, but not for long", edits(cue("a", "arm", 9*sec, 30*sec)), nil},
		{"a fan may stay on", edits(cue("a", "fan", 9*sec)), nil},
		// The effect ends at 11.019 and, on its frame, at 11.00; the window ends at 13.019, on its frame at 13.04.
		{"exact fits, frames do not", edits(hold, cue("a", "f1", ms(10019)), cue("a", "arm", 9*sec, ms(4019))), []string{"cue:a/a-arm-9000: 2.04 s after"}},
	})
	s := stage(t, fire, cue("a", "arm", 9*sec, 40*sec), cue("a", "arm", 55*sec), cue("a", "f1", 56*sec))
	require.Empty(t, fixed(t, "arm-left-up", s, ""))
}

// Coverage against looking at every instant that matters.
func TestGapAroundEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var windows []timeline.Raised
		up := timeline.Time(0)
		for range rapid.IntRange(0, 5).Draw(rt, "windows") {
			up += timeline.Time(rapid.Int64Range(0, 6).Draw(rt, "up"))
			down := up + timeline.Time(rapid.Int64Range(0, 6).Draw(rt, "open"))
			windows = append(windows, timeline.Raised{Up: up, Down: down, Window: &timeline.Window{Up: up, Down: down}})
		}
		from := timeline.Time(rapid.Int64Range(-2, 30).Draw(rt, "at"))
		lead, open := timeline.Time(rapid.Int64Range(0, 4).Draw(rt, "lead")), timeline.Time(rapid.Int64Range(0, 4).Draw(rt, "open"))
		g := gapAround(onTimes(windows), from, lead, from+open)
		on := true
		// Half steps look between the whole ones, where windows that do not touch leave a gap.
		for half := 2 * (from - lead); half <= 2*(from+open); half++ {
			on = on && slowlyOn(windows, half)
		}
		require.Equal(rt, !on, g.fails(), fmt.Sprint(windows, from, lead, open, g))
		require.Equal(rt, !slowlyOn(windows, 2*from), g.off)
	})
}

// slowlyOn reports whether a slot is on at half a time: inside any window, where
// one that has no end of its own lasts until the next time something else lowers
// the slot.
func slowlyOn(windows []timeline.Raised, half timeline.Time) bool {
	ended := func(half timeline.Time) bool {
		return slices.ContainsFunc(windows, func(w timeline.Raised) bool { return w.Window.Closes() && 2*w.Up <= half && half <= 2*w.Down })
	}
	for _, w := range windows {
		end := w.Down
		if !w.Window.Closes() {
			for end = w.Up + 1; end < 1000 && !(ended(2*end) && !ended(2*end+1)); end++ {
			}
		}
		if 2*w.Up <= half && half <= 2*end {
			return true
		}
	}
	return false
}

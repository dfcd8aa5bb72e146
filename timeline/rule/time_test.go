package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// Derived: a song that starts at 05:00:00:00, a hit
// 0.400 s in, lead 0.850 s: the command would be 0.450 s before the start, an
// error without pre-roll. Lock 1 s: common practice, no source.
func TestPreRoll(t *testing.T) {
	lead := field("article", "jet", "lead", "0.850")
	noPreRoll := field("show", "show", "pre-roll", "0")
	noLock := field("show", "show", "lock", "0")
	runCases(t, "pre-roll", []ruleCase{
		{"trade example without pre-roll", edits(lead, noPreRoll, cue("a", "j1", ms(400))), []string{"cue:a/a-j1-400: 450 ms before the audio starts"}},
		{"nothing to lock, command at the start", edits(lead, noPreRoll, noLock, cue("a", "j1", ms(850))), nil},
		{"nothing to lock, a tenth of a millisecond earlier", edits(lead, noPreRoll, noLock, cue("a", "j1", ms(850)-timeline.EntryStep)), []string{"cue:a/a-j1-849-9"}},
		{"pre-roll just long enough, and the frame is 8 ms earlier", edits(lead, field("song", "a", "pre-roll", "1.45"), cue("a", "j1", ms(400)), field("show", "show", "rate", "24")), []string{"cue:a/a-j1-400: its frame is"}},
		{"pre-roll for the frame as well", edits(lead, field("song", "a", "pre-roll", "1.46"), cue("a", "j1", ms(400)), field("show", "show", "rate", "24")), nil},
		{"the show's pre-roll", edits(lead, field("show", "show", "pre-roll", "1.44"), cue("a", "j1", ms(400))), []string{"cue:a/a-j1-400"}},
		{"a window too early", edits(cue("a", "arm", -ms(9100), sec)), []string{"cue:a/a-arm-m9100"}},
		{"a window in time", edits(cue("a", "arm", -ms(9000), sec)), nil},
		{"two units are one finding", edits(noPreRoll, cue("a", "jets", 0)), []string{"cue:a/a-jets-0: j1, j2: must be"}},
	})
}

func TestPreRollFix(t *testing.T) {
	s := stage(t, field("article", "jet", "lead", "0.850"), field("show", "show", "pre-roll", "0"), cue("a", "j1", ms(400)))
	require.Empty(t, fixed(t, "pre-roll", s, ""))
}

func TestOutsideSong(t *testing.T) {
	runCases(t, "outside-song", []ruleCase{
		{"at the end", edits(cue("a", "j1", 60*sec)), nil},
		{"after the end", edits(cue("a", "j1", 60*sec+timeline.EntryStep)), []string{"cue:a/a-j1-60000-1: after the end"}},
		{"at the start of the pre-roll", edits(cue("a", "j1", -10*sec)), nil},
		{"before it", edits(cue("a", "j1", -10*sec-timeline.EntryStep)), []string{"cue:a/a-j1-m10000-1: before the song's timecode"}},
		{"a window after the end", edits(cue("a", "arm", 61*sec, sec)), []string{"cue:a/a-arm-61000: bar 1: after the end"}},
		{"a song of unknown length", edits(field("song", "a", "frames", "0"), cue("a", "j1", 61*sec)), nil},
		{"a disabled cue is not checked", edits(cue("a", "j1", 61*sec), func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "cue", Song: "a", ID: "a-j1-61000"}, "disabled", timeline.Value{Text: "true"})
		}), nil},
	})
	require.Empty(t, fixed(t, "outside-song", stage(t, cue("a", "j1", 61*sec)), ""))
}

func TestClosesLate(t *testing.T) {
	runCases(t, "closes-late", []ruleCase{
		{"closes with the song", edits(cue("a", "j1", ms(58480), ms(1520))), nil},
		{"closes with it exactly, and its frame is half a frame late", edits(cue("a", "j1", ms(58500))), []string{"cue:a/a-j1-58500: closes 20 ms after"}},
		{"closes a tenth of a millisecond after it, rounded down to its last frame", edits(cue("a", "j1", ms(58500)+timeline.EntryStep)), []string{"cue:a/a-j1-58500-1"}},
		{"an igniter closes by itself", edits(cue("a", "c1", ms(59900))), nil},
		{"a longer open time of the cue", edits(cue("a", "j1", 50*sec, 11*sec)), []string{"cue:a/a-j1-50000: j1: closes 1 s after"}},
	})
	require.Empty(t, fixed(t, "closes-late", stage(t, cue("a", "j1", 50*sec, 11*sec)), ""))
}

// Derived: 25 frames per second, hit at 42.480 s, lead 850 ms: the
// command at 41.630 s is 15.75 frames after the second and lands on frame 16,
// 10 ms late. (Truncation would give frame 15, 30 ms early.)
func TestFrameResidual(t *testing.T) {
	example := edits(field("article", "jet", "lead", "0.850"), cue("a", "j1", ms(42480)))
	setting := func(most string) timeline.Edit {
		return put(&timeline.Setting{Base: base{ID: "frame-residual"}, Values: []string{"most=" + most}})
	}
	p := timeline.Compile(stage(t, example...), nil)
	require.Equal(t, "01:00:41:16", p.Rate.Label(p.Songs[0].Commands[0].Frame))
	runCases(t, "frame-residual", []ruleCase{
		{"half a frame is never exceeded at 25 per second", append(example, cue("a", "j1", ms(20))), nil},
		{"10 ms with a limit of 10 ms", append(example, setting("0.010")), nil},
		{"10 ms with a limit of 9.9 ms", append(example, setting("0.0099")), []string{"song:a: 1 of 1 command: the worst here by 10 ms"}},
		{"one note for a song, at its worst", edits(setting("0.0099"), cue("a", "j1", ms(10010)), cue("a", "j2", ms(20012)), cue("a", "c1", ms(30030))), []string{"song:a: 3 of 3 commands: 12"}},
		{"24 per second has longer frames", edits(field("show", "show", "rate", "24"), cue("a", "j1", ms(10_020)+8*timeline.EntryStep)), []string{"song:a: 20.8 ms"}},
	})
}

package rule

import (
	"testing"

	"emberbeat/timeline"
)

// Confetti of 10 m at (0, 2, 1) that bursts 2 m wide and hangs for 12 s drifts 3.6
// m: 5.6 m in all. A flame 4 m beside it meets it 5 s later and lies below it 13 s
// later; one 9 m beside it does not (worked by hand, see timeline/figure/testdata).
func TestPaperOverHotEffects(t *testing.T) {
	confetti := func(x string, after timeline.Time, more ...timeline.Edit) []timeline.Edit {
		return append(edits(put(&timeline.StagePosition{Base: base{ID: "gun"}, Y: 2, Z: 1}, &timeline.StagePosition{Base: base{ID: "fire"}, Y: 2, Z: 0.5}), field("position", "fire", "x", x),
			field("article", "jet", "family", "confetti-single"), field("article", "jet", "height", "10"), field("article", "jet", "fallout", "2"), field("article", "jet", "hang", "12"), field("article", "jet", "open", "0.2"),
			field("article", "flame", "height", "4"), field("placed", "j1", "position", "gun"), field("placed", "f1", "position", "fire"), cue("a", "j1", 10*sec), cue("a", "f1", 10*sec+after, ms(300))), more...)
	}
	runNight(t, paperName, []nightCase{
		{"in the air", confetti("4", 5*sec), []string{"cue:a/a-f1-15000: f1: flame burns where jet hangs in the air: for 12 s after its hit, up to 5.6 m from its barrel"}},
		{"at once", confetti("4", 0), []string{"cue:a/a-f1-10000"}},
		{"before", confetti("4", -5*sec), nil},
		{"when it has come down", confetti("4", 13*sec), nil},
		{"too far away", confetti("9", 5*sec), nil},
		{"above it all", confetti("4", 5*sec, field("position", "fire", "z", "14")), nil},
		{"a cold jet", confetti("4", 5*sec, field("article", "flame", "family", "co2-jet")), nil},
		{"a hang time that is not given is assumed: 26 s", confetti("4", 20*sec, field("article", "jet", "hang", "0")), []string{"cue:a/a-f1-30000: for 26 s after its hit"}},
		{"outdoors is another rule", confetti("4", 5*sec, field("venue", "v", "wind", "5")), nil},
	})
	runNight(t, paperLaterName, []nightCase{
		{"in the air is another rule", confetti("4", 5*sec), nil},
		{"when it has come down", confetti("4", 13*sec), []string{"cue:a/a-f1-23000: f1: flame burns where jet has come down before"}},
		{"in a later song", confetti("4", -5*sec, cue("b", "f1", 10*sec)), []string{"cue:b/b-f1-10000"}},
		{"too far away", confetti("9", 13*sec), nil},
		{"a comet does not lie", confetti("4", 13*sec, field("article", "flame", "family", "comet")), nil},
	})
	runNight(t, paperOutdoorsName, []nightCase{
		{"indoors", confetti("4", 5*sec, field("venue", "v", "wind", "5"), field("venue", "v", "volume", "9000")), nil},
		{"outdoors", confetti("4", 5*sec, field("venue", "v", "wind", "5")), []string{"article:jet: j1: jet may drift 60 m outdoors"}},
		{"up to the article's own limit", confetti("4", 5*sec, field("venue", "v", "wind", "5"), field("article", "jet", "wind", "3")), []string{"article:jet: 36 m"}},
	})
}

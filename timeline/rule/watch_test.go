package rule

import (
	"testing"

	"emberbeat/timeline"
)

// Two comets of 12.5 g at one position, one of them a spare: 25 g stand there.
func TestNECLimits(t *testing.T) {
	at := func(more ...timeline.Edit) []timeline.Edit {
		return append(edits(put(&timeline.StagePosition{Base: base{ID: "p"}, Name: "front"}), field("article", "comet", "nec", "12.5"), field("placed", "c1", "position", "p"), field("placed", "c2", "position", "p"),
			field("placed", "c1", "spare", "false"), cue("a", "c1", 10*sec)), more...)
	}
	runNight(t, "nec-limit", []nightCase{
		{"no limit given", at(), nil},
		{"just within", at(field("position", "p", "nec-limit", "25"), field("venue", "v", "nec-limit", "25"), field("night", "n", "permits", "fire nec=25")), nil},
		{"of the position, spares count", at(field("position", "p", "nec-limit", "24.9")), []string{"position:p: 25 g of net explosive content stand at front, and the limit of the position is 24.9 g"}},
		{"of the venue", at(field("venue", "v", "nec-limit", "24")), []string{"venue:v: 25 g of net explosive content stand on site, and the limit of the venue is 24 g"}},
		{"of a permit of the night", at(field("night", "n", "permits", "fire nec=20")), []string{"night:n: the limit of the permit fire is 20 g"}},
		{"of a permit of the venue", at(field("venue", "v", "permits", "hall nec=20")), []string{"venue:v: the limit of the permit hall is 20 g"}},
		{"elsewhere", at(field("position", "p", "nec-limit", "12.5"), field("placed", "c2", "position", "")), nil},
	})
}

func TestSpotters(t *testing.T) {
	asked := func(more ...timeline.Edit) []timeline.Edit {
		return append(edits(field("venue", "v", "spotter-each", "true"), stands("j1", -10, 1), stands("j2", 10, 1), cue("a", "j1", 10*sec), cue("a", "j2", 11*sec)), more...)
	}
	watch := func(x string) []timeline.Edit {
		return asked(field("position", "at-j1", "spotter", "left"), field("position", "at-j2", "spotter", "left"), field("venue", "v", "spotters", "left at="+x))
	}
	runNight(t, "spotter-missing", []nightCase{
		{"not asked for", asked(field("venue", "v", "spotter-each", "false")), nil},
		{"none named", asked(), []string{"position:at-j1: position 1 names no spotter, and Low Hall asks for one", "position:at-j2"}},
		{"named", watch("0,-30"), nil},
		{"fog needs none", asked(field("article", "jet", "family", "fog-machine")), nil},
	})
	runNight(t, "spotter-view", []nightCase{
		{"near, and one way", watch("0,-20"), nil},
		{"far", watch("0,-40"), []string{`position:at-j1: spotter's post "left" stands 42.3 m from position 1`, "position:at-j2"}},
		{"two ways at once", watch("0,0"), []string{`cue:a/a-j2-11000: spotter's post "left" must look 169 degrees about: 2 positions it watches are hit within 2 s`}},
		{"one after the other", append(watch("0,0"), func(d *timeline.Draft) error {
			return d.Remove(timeline.Ref{Kind: "cue", Song: "a", ID: "a-j2-11000"})
		}, cue("a", "j2", 20*sec)), nil},
	})
}

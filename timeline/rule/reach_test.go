package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

// flameAt is a flame of 8 m at (0, 1, 0.5), 7 m from an audience line at y = -6,
// with a clear zone of 6 m: upright 7 m from its axis and 5.41 m from its reach,
// at -30 degrees 2.2 m and 1.40 m, at -80 degrees across the line (worked by
// hand and by another program: see timeline/figure/testdata).
func flameAt(more ...timeline.Edit) []timeline.Edit {
	return append(edits(put(&timeline.StagePosition{Base: base{ID: "p"}, Name: "front", Y: 1, Z: 0.5}), field("placed", "f1", "position", "p"), field("article", "flame", "height", "8"), field("article", "flame", "clear", "6"),
		field("venue", "v", "audience", "barrier from=-10,-6 to=10,-6"), cue("a", "f1", 10*sec)), more...)
}

func TestTiltedEffectsReachPeople(t *testing.T) {
	tilt := func(x string) timeline.Edit { return field("placed", "f1", "tilt", x) }
	singer := func(at string) timeline.Edit { return field("venue", "v", "performers", "singer at="+at+" radius=0.5") }
	runNight(t, "reach", []nightCase{
		{"upright", flameAt(), nil},
		{"leaning", flameAt(tilt("-30")), nil},
		{"across the barrier", flameAt(tilt("-80")), []string{`article:flame: f1: flame, which leans 80° to the audience, reaches audience line "barrier"`}},
		{"away from it", flameAt(tilt("80")), nil},
		{"nearer than is kept free", flameAt(tilt("-35")), []string{`article:flame: reaches to 0.8 m of audience line "barrier" and needs 1 m`}},
		{"less is kept free", flameAt(tilt("-35"), showSetting("reach", func(s *timeline.Setting) { s.Values = []string{"keep=0.5"} })), nil},
		{"a jet of 6 m, 4 m from it", flameAt(tilt("-80"), field("article", "flame", "family", "co2-jet"), field("article", "flame", "height", "6"), field("venue", "v", "audience", "barrier from=-10,-3 to=10,-3")), []string{"article:flame: reaches audience line"}},
		{"a fountain of 5 m", flameAt(tilt("-80"), field("article", "flame", "family", "fountain-burst"), field("article", "flame", "height", "5"), field("venue", "v", "audience", "barrier from=-10,-3 to=10,-3")), []string{"article:flame: reaches audience line"}},
		{"fog reaches nothing that is computed", flameAt(tilt("-80"), field("article", "flame", "family", "fog-machine")), nil},
		{"a waterfall falls down whatever its tilt says", flameAt(tilt("-80"), field("article", "flame", "family", "waterfall"), field("article", "flame", "fallout", "1.5")), nil},
		{"a mark beside an upright flame", flameAt(singer("6,1")), nil},
		{"and in its way", flameAt(singer("6,1"), field("placed", "f1", "pan", "80")), []string{`article:flame: leans 80° to the audience's right, reaches performer's mark "singer"`}},
		{"over their heads", flameAt(singer("4,1"), field("position", "p", "z", "6"), field("article", "flame", "height", "5"), field("placed", "f1", "pan", "90")), nil},
		{"straight down from a truss", flameAt(singer("0,1"), field("position", "p", "z", "7"), field("article", "flame", "height", "6"), tilt("180")), []string{"article:flame: which points straight down, reaches performer's mark"}},
		{"spreading on the floor", flameAt(singer("0,5"), field("position", "p", "z", "1"), field("article", "flame", "height", "5"), tilt("150")), []string{"article:flame: reaches performer's mark"}},
		{"a zone that stays clear", flameAt(field("venue", "v", "clear-zones", "stairs at=0,-4 radius=1"), tilt("-80")), []string{`article:flame: audience line "barrier"`, `article:flame: clear zone "stairs"`}},
		{"in another song", flameAt(field("venue", "v", "performers", "singer at=6,1 radius=0.5 song=b"), field("placed", "f1", "pan", "80")), nil},
	})
	runNight(t, "paper-reach", []nightCase{
		{"confetti over the barrier", flameAt(tilt("-80"), field("article", "flame", "family", "confetti-single")), []string{"article:flame: reaches audience line"}},
	})
	runNight(t, "separation", []nightCase{
		{"upright it keeps its clear zone", flameAt(), nil},
		{"from its axis it does not", flameAt(tilt("-80")), []string{`article:flame: f1: flame leans 80° to the audience: its axis comes within 0 m of audience line "barrier" and needs 6 m: clear zone governs; its unit stands 7 m away`}},
		{"a little", flameAt(tilt("-30")), []string{"article:flame: its axis comes within 2.2 m: needs 6 m: clear zone governs"}},
		{"a tilted comet keeps its label distance from its path", tilted("-5", field("article", "comet", "separation", "8")), []string{"article:comet: the path of comet comes within 2 m: needs 8 m: label distance governs"}},
		{"and from its unit", tilted("15", field("article", "comet", "separation", "11")), []string{"article:comet: c1: comet stands 10 m: needs 11 m", "article:comet: the path of comet comes within 10 m: needs 11 m: label distance governs"}},
		{"what glows stays away", tilted("-4", field("venue", "v", "audience", "barrier from=-20,1.5 to=20,1.5"), field("venue", "v", "distances", "audience glowing=3.048 clause=9")), []string{"article:comet: needs 3.1 m: permit 9, glowing particles governs"}},
		{"upright as well", edits(field("article", "comet", "fallout", "3"), cue("a", "c1", 10*sec), stands("c1", 0, 10), field("venue", "v", "audience", "barrier from=-20,5 to=20,5"), field("venue", "v", "distances", "audience glowing=3.048")), []string{"article:comet: what glows of comet may come within 2 m: needs 3.1 m: permit, glowing particles governs"}},
	})
	runNight(t, "performers", []nightCase{
		{"beside an upright flame", flameAt(field("article", "flame", "clear", "4.5"), singer("6,1")), nil},
		{"its axis leans over the mark", flameAt(field("article", "flame", "clear", "4.5"), singer("6,1"), field("placed", "f1", "pan", "30")), []string{"article:flame: its axis comes within 4 m: needs 4.5 m: clear zone governs"}},
	})
	runNight(t, "tilted-distance", []nightCase{
		{"upright", flameAt(field("venue", "v", "distances", "audience at-least=5")), nil},
		{"from the device it is kept", flameAt(tilt("-30"), field("venue", "v", "distances", "audience at-least=5")), []string{"article:flame: its axis comes within 2.2 m: needs 5 m: permit governs: its words measure from the device"}},
	})
	runNight(t, "arm-in-clear-zone", []nightCase{
		{"upright", flameAt(field("venue", "v", "clear-zones", "stairs at=0,-7 radius=1"), cue("a", "arm", 5*sec, 10*sec)), nil},
		{"tilted into it", flameAt(tilt("-80"), field("venue", "v", "clear-zones", "stairs at=0,-7 radius=1"), cue("a", "arm", 5*sec, 10*sec)), []string{"cue:a/a-arm-5000: flame of f1 reaches clear zone \"stairs\": 0 m away, needs 6 m; clear zone, leans 80° to the audience, measured from its axis"}},
	})
}

// What is said of a tilted flame names the least tilt that would keep all of it.
func TestHelpNamesTheLeastTurn(t *testing.T) {
	s := stage(t, append(edits(put(&timeline.Venue{Base: base{ID: "v"}, Slug: "v", Tolerance: 0.2}, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"})), flameAt(field("placed", "f1", "tilt", "-80"))...)...)
	f := ofRule("separation", nightAt(s))
	require.Len(t, f, 1)
	// 9.6 m of length at 5 degrees come 0.84 m nearer than 7 m, at 6 degrees 1.003 m: derived.
	require.Contains(t, f[0].Help, "tilt it to -5° or further")
}

// The rows of a tilted flame: what is asked from its unit is kept, what is asked
// from its axis and its reach is not.
func TestRowsOfATiltedFlame(t *testing.T) {
	s := stage(t, append(edits(put(&timeline.Venue{Base: base{ID: "v"}, Slug: "v", Tolerance: 0.2}, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"})), flameAt(field("placed", "f1", "tilt", "-80"))...)...)
	c := Clearances(timeline.Compile(s, s.Night("n")))[0]
	type row struct {
		by                string
		from              From
		required, planned float64
		state             figure.State
	}
	var got []row
	for _, r := range c.Rows {
		p := r.Printed()
		if !figure.Known(p.Required) {
			p.Required = -1
		}
		got = append(got, row{r.By, r.From, p.Required, p.Planned, r.State()})
	}
	require.Equal(t, []row{
		{"clear zone", FromUnit, 6, 7, figure.Kept},
		{"label distance", FromUnit, -1, 7, figure.Unchecked},
		{"clear zone", FromAxis, 6, 0, figure.Short},
		{"label distance", FromAxis, -1, 0, figure.Unchecked},
		{"reach", FromEnvelope, 1, 0, figure.Short},
	}, got)
	require.Equal(t, figure.Short, c.State)
	require.Equal(t, "clear zone", c.Rows[c.Governs].By)
	list := Spacings(timeline.Compile(s, s.Night("n")))
	require.Len(t, list, 1)
	require.True(t, list[0].Short)
	require.Equal(t, FromAxis, list[0].Of)
}

// A fallout radius alone is no distance to an audience, and a formula with a part
// that is not given gives both of its parts.
func TestUnknownIsNeverNought(t *testing.T) {
	venue := &timeline.Venue{Base: base{ID: "v"}, Slug: "v", Audience: []timeline.PlanLine{{Name: "l", From: timeline.Point{X: -9}, To: timeline.Point{X: 9}}}}
	s := stage(t, put(venue, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}), field("article", "comet", "fallout", "3"), cue("a", "c1", 10*sec), stands("c1", 0, 5))
	c := Clearances(timeline.Compile(s, s.Night("n")))[0]
	require.Zero(t, c.Required)
	require.Empty(t, c.Asked)
	require.Equal(t, figure.Unchecked, c.State)
	s, err := s.Edit(field("article", "comet", "fallout", "0"), field("venue", "v", "rule-set", "nyc-fc-2014"))
	require.NoError(t, err)
	c = Clearances(timeline.Compile(s, s.Night("n")))[0]
	require.Equal(t, 4.6, c.Required, "the part with a number governs")
	require.Equal(t, figure.Unchecked, c.State, "and the other was not compared")
	var lacks []string
	for _, r := range c.Rows {
		if r.Lacks != "" {
			lacks = append(lacks, r.By+": "+r.Lacks)
		}
	}
	require.Equal(t, []string{"rule set New York City Fire Code, FC 3309.12 FC 3309.12, 2 x fallout: fallout not given", "fallout radius: fallout not given", "rule set New York City Fire Code, FC 3309.12 FC 3309.12.3, glowing particles: fallout not given"}, lacks)
}

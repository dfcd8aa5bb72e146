package rule

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// lined is a line rocket in the place of the comets, from (0, 4) to where the
// line ends, over a stage whose audience line lies at y = 0.
func lined(end string, more ...timeline.Edit) []timeline.Edit {
	return append(edits(put(&timeline.StagePosition{Base: base{ID: "p"}, Y: 4, Z: 3}, &timeline.StagePosition{Base: base{ID: "e"}}), field("position", "e", "x", "10"), field("position", "e", "y", end),
		field("article", "comet", "family", "line-rocket"), field("article", "comet", "corridor", "3"), field("placed", "c1", "position", "p"), field("placed", "c1", "end", "e"),
		field("venue", "v", "audience", "barrier from=-20,0 to=20,0"), cue("a", "c1", 10*sec)), more...)
}

// tilted is a comet of 12 m at y = 10 that is tilted towards the audience line
// at y = 0: at 15° it goes 12 m (derived, see ThrowOf), at 5° 4.17 m.
func tilted(tilt string, more ...timeline.Edit) []timeline.Edit {
	return append(edits(put(&timeline.StagePosition{Base: base{ID: "p"}, Y: 10}), field("article", "comet", "height", "12"), field("article", "comet", "fallout", "3"), field("placed", "c1", "position", "p"),
		field("placed", "c1", "tilt", tilt), field("venue", "v", "audience", "barrier from=-20,0 to=20,0"), cue("a", "c1", 10*sec)), more...)
}

func TestPathsAndTheAudience(t *testing.T) {
	runNight(t, "separation", []nightCase{
		{"a line beside it", lined("4"), nil},
		{"a line that ends at half its corridor", lined("1.5"), nil},
		{"and nearer", lined("1.4"), []string{`article:comet: c1: the path of comet comes within 1.4 m of audience line "barrier" and needs 1.5 m: its line corridor governs`}},
		{"across the line", lined("-3"), []string{"article:comet: within 0 m"}},
		{"its fallout is wider", lined("1.5", field("article", "comet", "fallout", "2")), []string{"article:comet: comes within 1.5 m: needs 2 m: fallout radius governs"}},
		{"no corridor given", lined("1.4", field("article", "comet", "corridor", "0")), nil},
		{"straight up", tilted("0"), nil},
		{"a little towards them, with tolerance and aim", tilted("-5"), []string{"article:comet: comes within 2 m: needs 3 m"}},
		{"too far", tilted("-15"), []string{"article:comet: the path of comet comes within 0 m: needs 3 m: fallout radius governs"}},
		{"away from them", tilted("15"), nil},
		{"a throw of one's own", tilted("-15", showSetting("separation", func(s *timeline.Setting) { s.Values = []string{"throw=0.4"} })), nil},
		{"a fountain keeps its fallout from its axis", tilted("-45", field("article", "comet", "family", "fountain-burst")), []string{"article:comet: c1: comet leans 45° to the audience: its axis comes within 0 m: needs 3 m: fallout radius governs; its unit stands 10 m away"}},
	})
	runNight(t, "performers", []nightCase{
		{"a mark beside the line", lined("4", field("venue", "v", "performers", "singer at=5,7 radius=1.5")), nil},
		{"under it", lined("4", field("venue", "v", "performers", "singer at=5,6.9 radius=1.5")), []string{`article:comet: the path of comet comes within 1.4 m of performer's mark "singer" and needs 1.5 m`}},
		{"in another song", lined("4", field("venue", "v", "performers", "singer at=5,4 radius=1 song=b")), nil},
		{"a clear zone under it", lined("4", field("venue", "v", "clear-zones", "stairs at=5,4 radius=1")), []string{`article:comet: clear zone "stairs"`}},
		{"where a tilted shot comes down", tilted("15", field("venue", "v", "performers", "singer at=0,22 radius=1")), []string{"article:comet: within 0 m: fallout radius governs"}},
		{"beyond that", tilted("15", field("venue", "v", "performers", "singer at=0,31 radius=1")), nil},
	})
	runNight(t, "roof", []nightCase{
		{"a line under it", lined("4", field("venue", "v", "trim", "5.5"), field("article", "comet", "height", "30")), nil},
		{"too near to it", lined("4", field("venue", "v", "trim", "5.4")), []string{"placed:c1: comet reaches 4.5 m with tolerance, and needs 1 m below a trim height of 5.4 m"}},
		{"its end is higher", lined("4", field("venue", "v", "trim", "6"), field("position", "e", "z", "4")), []string{"placed:c1: reaches 5.5 m"}},
	})
	s := stage(t, append(edits(put(&timeline.Venue{Base: base{ID: "v"}, Name: "Low Hall", Slug: "v"}), put(&timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"})), lined("4", field("placed", "c1", "end", ""))...)...)
	found := false
	for _, f := range ofRule("not-checked", Check(timeline.Compile(s, s.Night("n")), Facts{})) {
		found = found || f.Text == "line rockets without an end of their line, so that nothing was compared along it (separation, performers, roof): c1"
	}
	require.True(t, found)
}

// Paths against walking along them in small steps, and the list of distances
// against the rule.
func TestPathsEqualTheirSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := func(least, most int, name string) float64 { return float64(rapid.IntRange(least, most).Draw(rt, name)) }
		v := &timeline.Venue{Base: base{ID: "v"}, Slug: "v", Audience: []timeline.PlanLine{{Name: "l", From: timeline.Point{X: -20}, To: timeline.Point{X: 20}}},
			Performers: []timeline.PlanMark{{Name: "m", At: timeline.Point{X: n(-9, 9, "mx"), Y: n(0, 20, "my")}, Radius: 1}}}
		from, end := timeline.Point{X: n(-5, 5, "x"), Y: n(1, 15, "y")}, timeline.Point{X: n(-15, 15, "ex"), Y: n(-5, 20, "ey")}
		half := n(1, 4, "half")
		s := stage(t, put(v, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}, &timeline.StagePosition{Base: base{ID: "p"}, X: from.X, Y: from.Y}, &timeline.StagePosition{Base: base{ID: "e"}, X: end.X, Y: end.Y}),
			field("placed", "c1", "position", "p"), field("placed", "c1", "end", "e"), field("article", "comet", "corridor", fmt.Sprint(2*half)), cue("a", "c1", 10*sec))
		p := timeline.Compile(s, s.Night("n"))
		line, mark := math.Inf(1), math.Inf(1)
		for i := range 2001 {
			f := float64(i) / 2000
			q := timeline.Point{X: from.X + f*(end.X-from.X), Y: from.Y + f*(end.Y-from.Y)}
			line = min(line, math.Abs(q.Y))
			mark = min(mark, max(0, math.Hypot(q.X-v.Performers[0].At.X, q.Y-v.Performers[0].At.Y)-1))
		}
		if math.Abs(line-half) < 0.12 || math.Abs(mark-half) < 0.12 {
			return // too near to the limit for small steps to tell
		}
		all := Check(p, Facts{})
		require.Equal(rt, line < half, len(ofRule("separation", all)) == 1)
		require.Equal(rt, mark < half, len(ofRule("performers", all)) == 1)
		for _, c := range Clearances(p) {
			away := line
			if c.To == timeline.ToPerformers {
				away = mark
			}
			row := c.Rows[slices.IndexFunc(c.Rows, func(r Row) bool { return r.By == "its line corridor" })]
			require.Equal(rt, half, row.Printed().Required)
			require.InDelta(rt, away, row.Figures.Planned, 0.02)
			require.Equal(rt, row.Printed().Planned < half, c.Short())
		}
	})
}

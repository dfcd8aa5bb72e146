package rule

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

func TestClearanceOfANight(t *testing.T) {
	s := stage(t, put(&timeline.Venue{Base: base{ID: "v"}, Name: "Hall", Slug: "v", Audience: []timeline.PlanLine{{Name: "side", From: timeline.Point{X: -20, Y: -4}, To: timeline.Point{X: -20, Y: 9}},
		{Name: "barrier", From: timeline.Point{X: -9, Y: -4}, To: timeline.Point{X: 9, Y: -4}}}, Distances: []timeline.Distance{{To: timeline.ToAudience, AtLeast: 7.5}}},
		&timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}),
		field("article", "jet", "separation", "8"), field("article", "jet", "clear", "3"), cue("a", "j1", 10*sec), stands("j1", 0, 3), cue("a", "f1", 20*sec))
	list := Clearances(timeline.Compile(s, s.Night("n")))
	require.Len(t, list, 4, "two units, to audience and to performers; what is not played has no line")
	f1, j1 := list[0], list[2]
	require.Equal(t, "f1", string(f1.Unit.Placed.ID))
	require.False(t, f1.Measured, "it stands nowhere")
	require.False(t, f1.Short())
	require.Equal(t, 7.5, f1.Required)
	require.Equal(t, timeline.ToAudience, j1.To)
	require.Equal(t, `audience line "barrier"`, j1.Nearest)
	require.Equal(t, 7.0, j1.Planned)
	require.Equal(t, 8.0, j1.Required)
	require.Equal(t, "label distance", j1.Asked[0].By)
	require.Equal(t, []float64{8, 7.5, 3}, []float64{j1.Asked[0].Metres, j1.Asked[1].Metres, j1.Asked[2].Metres})
	require.True(t, j1.Short())
	require.Equal(t, 3.0, list[3].Required, "towards performers the clear zone governs")
	require.False(t, list[3].Measured, "no marks are given")
}

// A unit is short of a distance iff separation or performers finds it.
func TestClearancesAgreeWithTheRules(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		at := func(name string) timeline.Point {
			return timeline.Point{X: float64(rapid.IntRange(-9, 9).Draw(rt, name+" x")), Y: float64(rapid.IntRange(-9, 9).Draw(rt, name+" y"))}
		}
		v := &timeline.Venue{Base: base{ID: "v"}, Slug: "v"}
		for i := range rapid.IntRange(0, 3).Draw(rt, "lines") {
			v.Audience = append(v.Audience, timeline.PlanLine{Name: fmt.Sprint(i), From: at("from"), To: at("to")})
		}
		for i := range rapid.IntRange(0, 3).Draw(rt, "marks") {
			m := timeline.PlanMark{Name: fmt.Sprint(i), At: at("mark"), Radius: float64(rapid.IntRange(0, 3).Draw(rt, "radius"))}
			if rapid.Bool().Draw(rt, "timed") {
				m.Song, m.From = "a", timeline.Time(rapid.IntRange(0, 20).Draw(rt, "since"))*sec
			}
			v.Performers = append(v.Performers, m)
		}
		s := stage(t, put(v, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}), field("article", "jet", "separation", fmt.Sprint(rapid.IntRange(0, 9).Draw(rt, "label"))),
			field("article", "jet", "clear", fmt.Sprint(rapid.IntRange(0, 9).Draw(rt, "clear"))), cue("a", "jets", 10*sec), showSetting("separation", func(s *timeline.Setting) { s.Values = []string{"extra=0.5"} }))
		for _, id := range []timeline.ID{"j1", "j2"} {
			p := at(string(id))
			var err error
			s, err = s.Edit(stands(id, p.X, p.Y))
			require.NoError(rt, err)
		}
		want, got := map[string]bool{}, map[string]bool{}
		p := timeline.Compile(s, s.Night("n"))
		for _, f := range Check(p, Facts{}) {
			for _, val := range f.Values {
				if id, ok := strings.CutPrefix(val.Name, "away "); ok {
					want[f.Rule+" "+id] = true
				}
			}
		}
		for _, c := range Clearances(p) {
			if c.Short() {
				name := map[timeline.DistanceTo]string{timeline.ToAudience: "separation", timeline.ToPerformers: "performers"}[c.To]
				got[name+" "+string(c.Unit.Placed.ID)] = true
			}
		}
		require.Equal(rt, want, got)
	})
}

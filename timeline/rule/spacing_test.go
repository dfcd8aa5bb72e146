package rule

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// The label's 8 m and the fallout's circle, measured by hand: derived.
func TestSpacings(t *testing.T) {
	v := &timeline.Venue{Base: base{ID: "v"}, Slug: "v", Audience: []timeline.PlanLine{{Name: "barrier", From: timeline.Point{X: -10, Y: -4}, To: timeline.Point{X: 10, Y: -4}}},
		Performers: []timeline.PlanMark{{Name: "singer", At: timeline.Point{X: 0, Y: 9}, Radius: 1}}, Clear: []timeline.PlanMark{{Name: "exit", At: timeline.Point{X: 1, Y: 3}, Radius: 3}}}
	s := stage(t, put(v, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}), field("article", "jet", "separation", "8"), field("article", "jet", "clear", "3"),
		cue("a", "j1", 10*sec), stands("j1", 0, 3))
	list := Spacings(timeline.Compile(s, s.Night("n")))
	require.Len(t, list, 3)
	require.Equal(t, []any{ToLine, "barrier", 8.0, 7.0, "label distance", timeline.Point{X: 0, Y: -4}, true}, spacingOf(&list[0]))
	require.Equal(t, []any{ToMark, "singer", 3.0, 5.0, "clear zone", timeline.Point{X: 0, Y: 8}, false}, spacingOf(&list[1]))
	require.Equal(t, []any{ToZone, "exit", 3.0, 0.0, "clear zone", timeline.Point{X: 0, Y: 3}, true}, spacingOf(&list[2]))
	require.Empty(t, Spacings(timeline.Compile(s, nil)), "without a venue nothing is known")
	require.Equal(t, "label distance", Required(timeline.Compile(s, s.Night("n")), s.Stock.Article("jet"), timeline.ToAudience)[0].By)
}

func spacingOf(c *Spacing) []any {
	return []any{c.Kind, c.Name, c.Needs, c.Away, c.By, c.To, c.Short}
}

// Whatever stands where: the spacings in conflict are those that the rules
// find.
func TestSpacingsAgreeWithTheRules(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		at := func(name string) timeline.Point {
			return timeline.Point{X: float64(rapid.IntRange(-5, 5).Draw(rt, name+" x")), Y: float64(rapid.IntRange(-5, 5).Draw(rt, name+" y"))}
		}
		j1, j2, m := at("j1"), at("j2"), at("mark")
		v := &timeline.Venue{Base: base{ID: "v"}, Slug: "v", Audience: []timeline.PlanLine{{Name: "b", From: at("from"), To: at("to")}},
			Performers: []timeline.PlanMark{{Name: "m", At: m, Radius: 1, Song: "a", From: timeline.Time(rapid.IntRange(0, 20).Draw(rt, "begins")) * sec}},
			Clear:      []timeline.PlanMark{{Name: "z", At: m, Radius: 2}}}
		if rapid.Bool().Draw(rt, "permit") {
			v.Distances = []timeline.Distance{{To: timeline.ToPersons, AtLeast: float64(rapid.IntRange(1, 8).Draw(rt, "asks"))}}
		}
		s := stage(t, put(v, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}),
			field("article", "jet", "separation", fmt.Sprint(rapid.IntRange(0, 8).Draw(rt, "label"))), field("article", "jet", "fallout", fmt.Sprint(rapid.IntRange(0, 4).Draw(rt, "fallout"))),
			cue("a", "jets", 10*sec), stands("j1", j1.X, j1.Y), stands("j2", j2.X, j2.Y))
		if rapid.Bool().Draw(rt, "margin") {
			edited, err := s.Edit(showSetting("separation", func(s *timeline.Setting) { s.Values = []string{"extra=0.5"} }))
			require.NoError(rt, err)
			s = edited
		}
		want, got := map[string]bool{}, map[string]bool{}
		list := Spacings(timeline.Compile(s, s.Night("n")))
		for i := range list {
			if c := &list[i]; c.Conflict() {
				got[fmt.Sprint(c.Kind == ToLine, c.Kind == ToZone, c.Unit.Placed.ID)] = true
			}
		}
		for _, f := range nightAt(s) {
			if f.Rule != "separation" && f.Rule != "performers" {
				continue
			}
			for _, o := range f.Others {
				if o.Kind == "placed" {
					want[fmt.Sprint(f.Rule == "separation", f.Values[0].Name == "clear zone", o.ID)] = true
				}
			}
		}
		require.Equal(rt, sortedKeys(want), sortedKeys(got))
	})
}

package rule

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// stands puts a unit at a place on the stage plan.
func stands(unit timeline.ID, x, y float64) timeline.Edit {
	return func(d *timeline.Draft) error {
		d.Put("", &timeline.StagePosition{Base: base{ID: "at-" + unit}, X: x, Y: y})
		return field("placed", unit, "position", "at-"+string(unit))(d)
	}
}

// nightAt checks a show on the night n.
func nightAt(s *timeline.Show) []Finding { return Check(timeline.Compile(s, s.Night("n")), Facts{}) }

// New York City Fire Code FC 3309.12 (2014): the larger of 15 ft (4.572 m) and
// twice the fallout radius, 25 ft (7.62 m) at least at concussion; the distances
// are derived from that. Victoria 2011, r.152: flash pot 3 m from persons.
func TestRequiredDistance(t *testing.T) {
	for _, c := range []struct {
		set      string
		article  timeline.Article
		to       timeline.DistanceTo
		want     float64
		governed string
	}{
		{"nyc-fc-2014", timeline.Article{Family: timeline.Comet, Fallout: 1}, timeline.ToAudience, 4.572, "FC 3309.12"},
		{"nyc-fc-2014", timeline.Article{Family: timeline.Comet, Fallout: 2.286}, timeline.ToAudience, 4.572, "FC 3309.12"},
		{"nyc-fc-2014", timeline.Article{Family: timeline.Comet, Fallout: 2.5}, timeline.ToAudience, 5, "FC 3309.12"},
		{"nyc-fc-2014", timeline.Article{Family: timeline.Comet, Fallout: 3}, timeline.ToAudience, 6, "FC 3309.12"},
		{"nyc-fc-2014", timeline.Article{Family: timeline.Report, Fallout: 1}, timeline.ToAudience, 7.62, "concussion"},
		{"nyc-fc-2014", timeline.Article{Family: timeline.Report, Fallout: 5}, timeline.ToAudience, 10, "FC 3309.12"},
		{"nyc-fc-2014", timeline.Article{Family: timeline.Comet, Fallout: 3, Separation: 8}, timeline.ToAudience, 8, "label distance"},
		{"nyc-fc-2014", timeline.Article{Family: timeline.CO2Jet, Clear: 3}, timeline.ToAudience, 3, "clear zone"},
		{"New York City Fire Code, FC 3309.12", timeline.Article{Family: timeline.Comet, Fallout: 3}, timeline.ToAudience, 6, "FC 3309.12"},
		{"victoria-2011", timeline.Article{Family: timeline.FlashPot, Fallout: 0.5}, timeline.ToPerformers, 3, "r.152"},
		{"victoria-2011", timeline.Article{Family: timeline.FlashPot, Fallout: 0.5}, timeline.ToAudience, 3, "r.152"},
		{"victoria-2011", timeline.Article{Family: timeline.Comet, Fallout: 0.5}, timeline.ToPerformers, 0.5, "fallout radius"},
		{"eu-label", timeline.Article{Family: timeline.Comet, Separation: 8}, timeline.ToAudience, 8, "label distance"},
		{"", timeline.Article{Family: timeline.Comet, Fallout: 3}, timeline.ToAudience, 3, "fallout radius"},
	} {
		s := stage(t, put(&timeline.Venue{Base: base{ID: "v"}, Slug: "v", RuleSet: c.set}, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}))
		p := timeline.Compile(s, s.Night("n"))
		r := newSetRun(newEnv(p), p, Facts{}, nil)
		list := r.askedOf(&c.article, c.to)
		require.Equal(t, c.want, list[0].metres, "%s %+v", c.set, c.article)
		require.Contains(t, list[0].by, c.governed)
	}
}

func TestPublishedRuleSets(t *testing.T) {
	for _, set := range PublishedRuleSets() {
		require.NotEmpty(t, set.Name, set.ID)
		require.NotEmpty(t, set.Place, set.ID)
		require.NotEmpty(t, set.Edition, set.ID)
		require.NotEmpty(t, set.Date, set.ID)
		require.NotEmpty(t, set.Source, set.ID)
		require.NotEmpty(t, set.Mark, set.ID)
	}
	_, err := readRuleSets([]byte(`[{"id":"x","colour":"red"}]`))
	require.ErrorContains(t, err, `"colour" is no field`)
	_, err = readRuleSets([]byte(`[{"id":"x","distances":["dogs at-least=1"]}]`))
	require.ErrorContains(t, err, "audience, performers, persons")
	own := &timeline.RuleSet{Base: base{ID: "eu-label"}, Name: "ours"}
	all := RuleSets(stage(t, put(own)))
	require.Len(t, all, len(PublishedRuleSets()))
	require.Contains(t, all, own, "the show's own takes its place")
}

func TestSeparation(t *testing.T) {
	line := field("venue", "v", "audience", "barrier from=-10,-4 to=10,-4")
	base8 := edits(line, field("article", "jet", "separation", "8"), cue("a", "j1", 10*sec), stands("j1", 0, 4))
	with := func(more ...timeline.Edit) []timeline.Edit {
		return append(append([]timeline.Edit{}, base8...), more...)
	}
	runNight(t, "separation", []nightCase{
		{"just far enough", with(), nil},
		{"a centimetre too near", with(stands("j1", 0, 3.99)), []string{`article:jet: j1: jet stands 7.9 m from audience line "barrier" and needs 8 m: label distance governs`}},
		{"beside the line, by its end", with(stands("j1", 14.8, 2.4)), nil},
		{"nearer to its end", with(stands("j1", 14.8, 2.39)), []string{"article:jet"}},
		{"the permit governs", with(field("venue", "v", "distances", "audience at-least=8.5 clause=sheet-3")), []string{"article:jet: needs 8.5 m: permit sheet-3 governs"}},
		{"the permit asks for less", with(field("venue", "v", "distances", "audience at-least=7.5")), nil},
		{"the permit speaks of others", with(field("venue", "v", "distances", "audience at-least=8.5 families=comet;performers at-least=9")), nil},
		{"the officer governs", with(field("venue", "v", "distances", "audience at-least=8.5"), field("night", "n", "distances", "audience at-least=9 articles=jet")), []string{"article:jet: needs 9 m: officer governs"}},
		{"the rule set governs", edits(line, field("venue", "v", "rule-set", "nyc-fc-2014"), field("article", "comet", "fallout", "3"), cue("a", "c1", 10*sec), stands("c1", 0, 1.99)), []string{"article:comet: needs 6 m: rule set New York City Fire Code, FC 3309.12 FC 3309.12 governs", "article:comet: what glows of comet may come within 2.9 m"}},
		{"none applies unless it is named", edits(line, field("article", "comet", "fallout", "3"), cue("a", "c1", 10*sec), stands("c1", 0, 1.99)), nil},
		{"a margin of one's own", with(showSetting("separation", func(s *timeline.Setting) { s.Values = []string{"extra=0.5"} })), []string{"article:jet: needs 8.5 m: label distance governs"}},
		{"two units are one finding", with(cue("a", "j2", 20*sec), stands("j1", 0, 3), stands("j2", 3, 2)), []string{"article:jet: j1, j2: jet stands 6 m"}},
		{"two lines are two", with(stands("j1", 0, 3), field("venue", "v", "audience", "barrier from=-10,-4 to=10,-4;side from=-5,0 to=-5,9")), []string{"article:jet: \"side\"", "article:jet: \"barrier\""}},
		{"no position", with(field("placed", "j1", "position", "")), nil},
		{"no audience line", with(stands("j1", 0, -3), field("venue", "v", "audience", "")), nil},
		{"nothing asked", with(stands("j1", 0, -3), field("article", "jet", "separation", "0")), nil},
		{"not played", edits(line, field("article", "jet", "separation", "8"), stands("j1", 0, -3)), nil},
		{"cut for the night", with(stands("j1", 0, 3), field("night", "n", "cuts", "placed=j1")), nil},
		{"swapped for the night", with(stands("j1", 0, 3), field("night", "n", "swaps", "article=jet to=bang")), nil},
	})
	s := stage(t, with(put(&timeline.Venue{Base: base{ID: "v"}, Name: "Hall", Slug: "v", Audience: []timeline.PlanLine{{Name: "b", From: timeline.Point{X: -9, Y: -4}, To: timeline.Point{X: 9, Y: -4}}}},
		&timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}), stands("j1", 0, 3))[1:]...)
	f := ofRule("separation", nightAt(s))
	require.Equal(t, Ground{Ref: rigRef("article", "jet"), Field: "separation", Text: "8 m", Mark: timeline.Measured}, f[0].Grounds[0], "what governs stands first")
	require.Contains(t, f[0].Help, "move it 1 m further away")
	require.Contains(t, f[0].Help, deferral)
	require.Empty(t, fixed(t, "separation", s, "n"))
}

// A unit is found iff one of many points along a line is too near: against
// walking along the line.
func TestSeparationEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		at := func(name string) timeline.Point {
			return timeline.Point{X: float64(rapid.IntRange(-9, 9).Draw(rt, name+" x")), Y: float64(rapid.IntRange(-9, 9).Draw(rt, name+" y"))}
		}
		from, to, j1, j2 := at("from"), at("to"), at("j1"), at("j2")
		label, permit := rapid.IntRange(0, 9).Draw(rt, "label"), rapid.IntRange(0, 9).Draw(rt, "permit")
		v := &timeline.Venue{Base: base{ID: "v"}, Slug: "v", Audience: []timeline.PlanLine{{Name: "b", From: from, To: to}}}
		if permit > 0 {
			v.Distances = []timeline.Distance{{To: timeline.ToPersons, AtLeast: float64(permit)}}
		}
		s := stage(t, put(v, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}), field("article", "jet", "separation", fmt.Sprint(label)),
			cue("a", "jets", 10*sec), stands("j1", j1.X, j1.Y), stands("j2", j2.X, j2.Y))
		want, got := map[string]bool{}, map[string]bool{}
		for id, p := range map[string]timeline.Point{"j1": j1, "j2": j2} {
			away := math.Inf(1)
			const steps = 20000
			for i := range steps + 1 {
				k := float64(i) / steps
				away = min(away, math.Hypot(from.X+k*(to.X-from.X)-p.X, from.Y+k*(to.Y-from.Y)-p.Y))
			}
			needs := float64(max(label, permit))
			if math.Abs(away-needs) < 1e-3 {
				return // on the edge the walk says nothing
			}
			if away < needs {
				want[id] = true
			}
		}
		for _, f := range ofRule("separation", nightAt(s)) {
			for _, o := range f.Others {
				if o.Kind == "placed" {
					got[string(o.ID)] = true
				}
			}
		}
		require.Equal(rt, sortedKeys(want), sortedKeys(got))
	})
}

// The flame stands 5 m from the singer, whose circle has a radius of 1 m; its
// lead spread is 0.1 s and something hangs for 3 s after the hit.
func TestPerformers(t *testing.T) {
	flame := edits(field("venue", "v", "performers", "singer at=0,5 radius=1"), field("article", "flame", "clear", "4"), field("article", "flame", "spread", "0.1"), field("article", "flame", "hang", "3"),
		cue("a", "f1", 10*sec), stands("f1", 0, 0))
	with := func(more ...timeline.Edit) []timeline.Edit {
		return append(append([]timeline.Edit{}, flame...), more...)
	}
	mark := func(times string) timeline.Edit {
		return field("venue", "v", "performers", "singer at=0,4 radius=1 "+times)
	}
	runNight(t, "performers", []nightCase{
		{"just out of it", with(), nil},
		{"a centimetre inside", with(stands("f1", 0, 0.01)), []string{`article:flame: f1: flame stands 3.9 m from performer's mark "singer" and needs 4 m: clear zone governs; 1 command meanwhile`}},
		{"on the mark", with(stands("f1", 0, 5)), []string{"article:flame: stands 0 m"}},
		{"the fallout is wider", with(field("article", "flame", "fallout", "4.5")), []string{"article:flame: needs 4.5 m: fallout radius governs"}},
		{"the rule set asks for persons", with(field("venue", "v", "rule-set", "own"), put(&timeline.RuleSet{Base: base{ID: "own"}, Name: "Own", Distances: []timeline.Distance{{To: timeline.ToPersons, AtLeast: 6}}})), []string{"article:flame: needs 6 m: rule set Own governs"}},
		{"the officer asks for the audience", with(field("night", "n", "distances", "audience at-least=9")), nil},
		{"another song", with(mark("song=b")), nil},
		{"this song", with(mark("song=a"), cue("a", "f1", 30*sec)), []string{"article:flame: 2 commands meanwhile"}},
		{"leaves before the spread", with(mark("song=a to=9.8999")), nil},
		{"leaves as the spread begins", with(mark("song=a to=9.9")), []string{"article:flame"}},
		{"comes while it hangs", with(mark("song=a from=13.1")), []string{"article:flame"}},
		{"comes when it is over", with(mark("song=a from=13.1001")), nil},
		{"a clear zone of the venue", with(field("venue", "v", "clear-zones", "exit at=3,3 radius=0.3")), []string{`article:flame: clear zone "exit"`}},
		{"a clear zone asks for no separation", with(field("venue", "v", "clear-zones", "exit at=4,4 radius=1"), field("night", "n", "distances", "performers at-least=4")), nil},
		{"no clear zone given", with(stands("f1", 0, 5), field("article", "flame", "clear", "0")), nil},
		{"no position", with(field("placed", "f1", "position", "")), nil},
		{"no night", with(stands("f1", 0, 5), field("night", "n", "venue", "")), nil},
	})
	s := stage(t, with(put(&timeline.Venue{Base: base{ID: "v"}, Name: "Hall", Slug: "v", Performers: []timeline.PlanMark{{Name: "singer", At: timeline.Point{X: 0, Y: 5}}}},
		&timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}), stands("f1", 0, 3))[1:]...)
	require.Equal(t, Span{"zone", ms(9900), ms(13100)}, ofRule("performers", nightAt(s))[0].Spans[0])
	require.Empty(t, fixed(t, "performers", s, "n"))
}

// Circles and times against every pair of command and mark.
func TestPerformersEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s, err := anySet(rt, t).Edit(stands("j1", 0, 0), stands("j2", 6, 0), field("article", "jet", "clear", "3"), field("article", "jet", "spread", "0.2"),
			field("article", "jet", "hang", fmt.Sprint(rapid.IntRange(0, 2).Draw(rt, "hang"))))
		require.NoError(rt, err)
		v := &timeline.Venue{Base: base{ID: "v"}, Slug: "v"}
		for i := range rapid.IntRange(0, 4).Draw(rt, "marks") {
			m := timeline.PlanMark{Name: fmt.Sprint(i), At: timeline.Point{X: float64(rapid.IntRange(-1, 9).Draw(rt, "x")), Y: float64(rapid.IntRange(0, 4).Draw(rt, "y"))}, Radius: 0.5}
			if rapid.Bool().Draw(rt, "timed") {
				m.Song, m.From = s.Songs[len(s.Songs)-1].ID, timeline.Time(rapid.IntRange(0, 4).Draw(rt, "from"))*sec
				m.To = m.From + timeline.Time(rapid.IntRange(0, 2).Draw(rt, "long"))*sec
			}
			v.Performers = append(v.Performers, m)
		}
		s, err = s.Edit(put(v, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}))
		require.NoError(rt, err)
		want, got := map[string]bool{}, map[string]bool{}
		for _, ps := range timeline.Compile(s, s.Night("n")).Songs {
			for _, c := range ps.Commands {
				for _, m := range v.Performers {
					if x := c.Unit.Position; x == nil || c.Article.Clear == 0 || math.Hypot(m.At.X-x.X, m.At.Y-x.Y) >= 3.5-1e-9 {
						continue
					}
					from, to := c.Hit-c.Article.Spread, max(c.Hit+c.Open, c.Hit+c.Article.Hang)+c.Article.Spread
					if m.Song == "" || m.Song == ps.Song.ID && from <= m.To && to >= m.From || m.Song == ps.Song.ID && m.To == 0 && to >= m.From {
						want[m.Name+" "+c.Unit.Placed.Name] = true
					}
				}
			}
		}
		for _, f := range ofRule("performers", nightAt(s)) {
			m, err := timeline.ParsePlanMark(f.Values[0].Text)
			require.NoError(rt, err)
			for _, o := range f.Others {
				if o.Kind == "placed" {
					got[m.Name+" "+string(o.ID)] = true
				}
			}
		}
		require.Equal(rt, sortedKeys(want), sortedKeys(got))
	})
}

// Cincinnati Municipal Code 1213-15: nothing above 20 mph, 8.94 m/s. The
// article's 8 m/s are our judgement.
func TestWind(t *testing.T) {
	play := edits(cue("a", "j1", 10*sec), field("article", "jet", "wind", "8"))
	with := func(more ...timeline.Edit) []timeline.Edit {
		return append(append([]timeline.Edit{}, play...), more...)
	}
	runNight(t, "wind", []nightCase{
		{"the place stops first", with(field("venue", "v", "wind", "8")), nil},
		{"the article must", with(field("venue", "v", "wind", "8.1")), []string{"article:jet: jet may be fired up to 8 m/s, and the place goes on up to 8.1 m/s"}},
		{"the rule set's limit", with(field("venue", "v", "rule-set", "cincinnati-1213-15")), []string{"article:jet: up to 8.94 m/s"}},
		{"the lower of both", with(field("venue", "v", "wind", "8"), field("venue", "v", "rule-set", "cincinnati-1213-15")), nil},
		{"no limit of the article", edits(cue("a", "j1", 10*sec), field("venue", "v", "wind", "8")), nil},
		{"no limit of the place", with(), nil},
		{"not played", edits(field("article", "jet", "wind", "8"), field("venue", "v", "wind", "20")), nil},
	})
	slow := func(article, venue, set float64) bool {
		for speed := 0.0; speed < 30; speed += 0.5 { // somebody fires at this wind, and the maker says no
			if (venue > 0 || set > 0) && (venue == 0 || speed <= venue) && (set == 0 || speed <= set) && article > 0 && speed > article {
				return true
			}
		}
		return false
	}
	rapid.Check(t, func(rt *rapid.T) {
		draw := func(name string) float64 { return float64(rapid.IntRange(0, 40).Draw(rt, name)) / 2 }
		article, venue, set := draw("article"), draw("venue"), draw("set")
		s := stage(t, put(&timeline.Venue{Base: base{ID: "v"}, Slug: "v", Wind: venue, RuleSet: "own"}, &timeline.RuleSet{Base: base{ID: "own"}, Wind: set}, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}),
			field("article", "jet", "wind", fmt.Sprint(article)), cue("a", "j1", 10*sec))
		require.Equal(rt, slow(article, venue, set), len(ofRule("wind", nightAt(s))) > 0)
	})
}

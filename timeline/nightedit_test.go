package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// withNight is the small show with one night on its set.
func withNight(t testing.TB) *Show {
	t.Helper()
	s, err := small(t).Edit(func(d *Draft) error {
		d.Put("", &Night{Base: Base{ID: "n1"}, Name: "first night", Slug: "first-night", Set: "main"})
		return nil
	})
	require.NoError(t, err)
	return s
}

func choice(what, id string) Selector { return Selector{what, id} }

func TestNightEdits(t *testing.T) {
	s := withNight(t)
	for _, c := range []struct {
		name  string
		edits []Edit
		field string
		want  string
	}{
		{"cut", []Edit{CutTonight("n1", Cut{choice("family", "comet"), "low roof"})}, "cuts", `family=comet reason="low roof"`},
		{"cut again", []Edit{CutTonight("n1", Cut{choice("family", "comet"), "x"}), CutTonight("n1", Cut{choice("song", "tide"), ""}), CutTonight("n1", Cut{choice("family", "comet"), "y"})},
			"cuts", `family=comet reason=y; song=tide`},
		{"swap", []Edit{SwapTonight("n1", Swap{choice("family", "propane-flame"), "jet", "banned"})}, "swaps", `family=propane-flame to=jet reason=banned`},
		{"swap again", []Edit{SwapTonight("n1", Swap{choice("placed", "f1"), "jet", ""}), SwapTonight("n1", Swap{choice("placed", "f1"), "comet", ""})}, "swaps", `placed=f1 to=comet`},
		{"out", []Edit{TakeOutTonight("n1", RigChange{Kind: "bank", ID: "b1", Why: "dead"})}, "rig-changes", `bank=b1 out why=dead`},
		{"shift", []Edit{ShiftTonight("n1", Shift{Song: "ember", By: FromMillis(120)})}, "shifts", `song=ember by=0.1200`},
		{"shift is no sum", []Edit{ShiftTonight("n1", Shift{Song: "ember", By: FromMillis(120)}), ShiftTonight("n1", Shift{Song: "ember", By: -FromMillis(40)})}, "shifts", `song=ember by=-0.0400`},
		{"start", []Edit{ShiftTonight("n1", Shift{Song: "tide", Start: &Timecode{H: 7, M: 30}})}, "shifts", `song=tide start=07:30:00:00`},
		{"shift back", []Edit{ShiftTonight("n1", Shift{Song: "ember", By: Second}), ShiftTonight("n1", Shift{Song: "ember"})}, "shifts", ``},
		{"fill", []Edit{FillTonight("n1", Fill{"cyl", 9}), FillTonight("n1", Fill{"cyl", 8.5})}, "fills", `supply=cyl kg=8.5`},
		{"fill taken back", []Edit{FillTonight("n1", Fill{"cyl", 9}), DropItem(Ref{Kind: "night", ID: "n1"}, "fills", 1)}, "fills", ``},
		{"distance", []Edit{DistanceTonight("n1", Distance{To: ToAudience, AtLeast: 12, Clause: "officer"})}, "distances", `audience at-least=12 clause=officer`},
		{"distance again", []Edit{DistanceTonight("n1", Distance{To: ToAudience, AtLeast: 12}), DistanceTonight("n1", Distance{To: ToAudience, AtLeast: 9, Articles: []ID{"jet"}}), DistanceTonight("n1", Distance{To: ToAudience, AtLeast: 14})},
			"distances", `audience at-least=14; audience at-least=9 articles=jet`},
		{"condition", []Edit{ConditionTonight("n1", " walk-through "), ConditionTonight("n1", "walk-through")}, "conditions", `walk-through`},
	} {
		next, err := s.Edit(c.edits...)
		require.NoError(t, err, c.name)
		require.Equal(t, c.want, KindOf("night").Field(c.field).Get(next.Night("n1")).String(), c.name)
		for _, change := range Diff(s, next) {
			require.Equal(t, Ref{Kind: "night", ID: "n1"}, change.Ref, "nothing but the night: "+c.name)
		}
	}
}

// What cannot be names what would be valid, and changes nothing.
func TestNightEditsRefused(t *testing.T) {
	s := withNight(t)
	before := Compile(s, s.Night("n1")).Text()
	for _, c := range []struct {
		name string
		edit Edit
		want string
	}{
		{"no night", CutTonight("n9", Cut{Selector: choice("family", "comet")}), `night:n9: there is no such record`},
		{"no article", SwapTonight("n1", Swap{choice("family", "comet"), "laser", ""}), `night swaps: "laser": names no article of this show`},
		{"itself", SwapTonight("n1", Swap{choice("article", "jet"), "jet", ""}), `swaps for what is there already`},
		{"its family", SwapTonight("n1", Swap{choice("family", "co2-jet"), "jet", ""}), `swaps for what is there already`},
		{"no bank", TakeOutTonight("n1", RigChange{Kind: "bank", ID: "b9"}), `night rig-changes: "bank:b9": names no placed effect, bank or device`},
		{"no rig", TakeOutTonight("n1", RigChange{Kind: "song", ID: "ember"}), `names no placed effect, bank or device`},
		{"no song", ShiftTonight("n1", Shift{Song: "x", By: Second}), `night shifts: "x": names no song of this show`},
		{"no label", ShiftTonight("n1", Shift{Song: "ember", Start: &Timecode{H: 1, F: 25}}), `is no start at this rate`},
		{"before midnight", ShiftTonight("n1", Shift{Song: "ember", Start: &Timecode{S: 4}}), `can start from 00:00:05:00 to 23:59:00:00`},
		{"after midnight", ShiftTonight("n1", Shift{Song: "ember", Start: &Timecode{H: 23, M: 59, F: 1}}), `can start from 00:00:05:00 to 23:59:00:00`},
		{"shifted over midnight", ShiftTonight("n1", Shift{Song: "ember", By: Second, Start: &Timecode{H: 23, M: 59}}), `can start from 00:00:04:00 to 23:58:59:00`},
		{"no supply", FillTonight("n1", Fill{"x", 1}), `night fills: "x": names no supply`},
		{"no distance", DistanceTonight("n1", Distance{To: ToAudience}), `asks for no distance`},
		{"no article to keep away", DistanceTonight("n1", Distance{To: ToAudience, AtLeast: 1, Articles: []ID{"x"}}), `"x": names no article of this show`},
		{"no item", DropItem(Ref{Kind: "night", ID: "n1"}, "cuts", 2), `night cuts: "2": is no item of the list; it has 1 to 1`},
		{"no list", DropItem(Ref{Kind: "night", ID: "n1"}, "name", 1), `is no list of this kind; lists: cuts, swaps`},
		{"nothing to drop", DropItem(Ref{Kind: "night", ID: "n9"}, "cuts", 1), `night:n9: there is no such record`},
		{"no name", AddNight(Night{Base: Base{ID: "n2"}}), `a new night needs a name, a date or a venue`},
		{"twice", AddNight(Night{Base: Base{ID: "n1"}, Name: "x"}), `night:n1 is there already`},
		{"no day", AddNight(Night{Base: Base{ID: "n2"}, Name: "x", Date: "2031-02-30"}), `day of the calendar`},
		{"no such set", AddNight(Night{Base: Base{ID: "n2"}, Name: "x", Set: "gone"}), `night set: "gone": names no set of this show`},
		{"no words", ConditionTonight("n1", "  "), `says nothing`},
		{"nobody", AcceptTonight("n1", Acceptance{Rule: "roof", Record: "placed:j1", Reason: "seen"}, "d"), `needs a rule, the name of who accepts, and a reason`},
	} {
		next, err := s.Edit(CutTonight("n1", Cut{Selector: choice("song", "tide")}), c.edit)
		require.ErrorContains(t, err, c.want, c.name)
		require.Nil(t, next, c.name)
	}
	require.Equal(t, before, Compile(s, s.Night("n1")).Text())
}

func TestAddNight(t *testing.T) {
	s, err := withNight(t).Edit(func(d *Draft) error {
		d.Put("", &Venue{Base: Base{ID: "hall"}, Name: "Saltglass Hall", Slug: "hall"})
		return nil
	}, CutTonight("n1", Cut{choice("family", "comet"), "low roof"}), FillTonight("n1", Fill{"cyl", 9}))
	require.NoError(t, err)
	like := s.Night("n1").Like()
	like.ID, like.Venue, like.Date = "n2", "hall", "2031-06-03"
	s, err = s.Edit(AddNight(like), AddNight(Night{Base: Base{ID: "n3"}, Name: "First Night"}))
	require.NoError(t, err)
	n := s.Night("n2")
	require.Equal(t, "Saltglass Hall 2031-06-03", n.Name)
	require.Equal(t, "saltglass-hall-2031-06-03", n.Slug)
	require.Equal(t, s.Night("n1").Cuts, n.Cuts)
	require.Empty(t, n.Fills, "what was weighed was weighed that night")
	require.Equal(t, "first-night-2", s.Night("n3").Slug)
}

// The last and first starts that a refusal names do fit, at every rate.
func TestShiftsToTheEdgeOfTheDay(t *testing.T) {
	for _, rate := range Rates() {
		s, err := withNight(t).Edit(set("show", "", "show1", "rate", rate.String()))
		require.NoError(t, err)
		rapid.Check(t, func(rt *rapid.T) {
			frame := rapid.OneOf(rapid.Int64Range(0, 400), rapid.Int64Range(rate.DayFrames()-4000, rate.DayFrames()-1)).Draw(rt, "frame")
			by := Time(rapid.Int64Range(-20000, 20000).Draw(rt, "by")) * EntryStep
			start, _ := rate.Timecode(frame)
			next, err := s.Edit(ShiftTonight("n1", Shift{Song: "ember", By: by, Start: &start}))
			if err != nil {
				require.ErrorContains(rt, err, "midnight")
				return
			}
			p := Compile(next, next.Night("n1")).Songs[0]
			require.GreaterOrEqual(rt, p.First(), int64(0))
			require.LessOrEqual(rt, p.Last(), rate.DayFrames())
		})
	}
}

func TestAcceptTonight(t *testing.T) {
	a := Acceptance{Rule: "roof", Record: "placed:j1", By: "R. Holm", Reason: "measured"}
	s, err := withNight(t).Edit(AcceptTonight("n1", a, "d1", "d2"), AcceptTonight("n1", Acceptance{Rule: "roof", Record: "placed:j2", By: "K", Reason: "x"}, "d9"))
	require.NoError(t, err)
	require.Len(t, s.Night("n1").Accepted, 3)
	later := a
	later.By = "M. Ostrow"
	s, err = s.Edit(AcceptTonight("n1", later, "d2", "d3"))
	require.NoError(t, err)
	with := func(a Acceptance, d string) Acceptance { a.Values = d; return a }
	require.Equal(t, []Acceptance{with(a, "d2"), with(Acceptance{Rule: "roof", Record: "placed:j2", By: "K", Reason: "x"}, "d9"), with(later, "d3")}, s.Night("n1").Accepted,
		"the one with other values is over, the one that stands keeps its name")
	one := a
	one.Values = "d4"
	s, err = s.Edit(AcceptTonight("n1", one, "d2", "d3", "d4"))
	require.NoError(t, err)
	require.Len(t, s.Night("n1").Accepted, 4, "one of several findings is accepted by itself")
}

func TestFindSelector(t *testing.T) {
	p := Compile(withNight(t), nil)
	for text, want := range map[string]Selector{
		"family=comet": choice("family", "comet"), "article=CO2 JET": choice("article", "jet"), "placed=jet 1": choice("placed", "j1"),
		"song=Ember": choice("song", "ember"), "lane=ember/jets": choice("lane", "ljet"),
	} {
		got, err := p.FindSelector(text)
		require.NoError(t, err, text)
		require.Equal(t, want, got, text)
	}
	for text, want := range map[string]string{
		"comet": "write one of family=", "bank=b1": "write one of family=", "family=": "write one of family=", "family=laser": "is not one of: fountain-long",
		"article=laser": "is not in the show", "cue=ember/99.1": "is not in the show",
	} {
		_, err := p.FindSelector(text)
		require.ErrorContains(t, err, want, text)
	}
}

// The tour stays as it is, to the byte, whatever its nights do.
func TestTourStaysAsItIs(t *testing.T) {
	base := withNight(t)
	tour := Compile(base, nil).Text()
	selectors := []Selector{choice("family", "comet"), choice("article", "jet"), choice("placed", "f1"), choice("lane", "ljet"), choice("cue", "q1"), choice("song", "tide")}
	rapid.Check(t, func(rt *rapid.T) {
		s := base
		for range rapid.IntRange(1, 6).Draw(rt, "edits") {
			sel := rapid.SampledFrom(selectors).Draw(rt, "chosen")
			edit := rapid.SampledFrom([]Edit{
				CutTonight("n1", Cut{sel, "why"}), SwapTonight("n1", Swap{sel, "comet", ""}), TakeOutTonight("n1", RigChange{Kind: "placed", ID: "j2"}),
				TakeOutTonight("n1", RigChange{Kind: "bank", ID: "b1"}), ShiftTonight("n1", Shift{Song: "ember", By: Second}), FillTonight("n1", Fill{"cyl", 3}),
			}).Draw(rt, "edit")
			if next, err := s.Edit(edit); err == nil {
				s = next
			}
		}
		require.Equal(rt, tour, Compile(s, nil).Text())
		for _, g := range s.Songs {
			require.Same(rt, base.Song(g.ID), g, "a night's edit touches no song")
		}
	})
}

// A cut of an arm lane, or of one arm cue, takes its windows out of the night.
func TestCutOfWindows(t *testing.T) {
	s := withNight(t)
	for _, sel := range []Selector{choice("lane", "larm"), choice("cue", "q4")} {
		next, err := s.Edit(CutTonight("n1", Cut{sel, "no flames"}))
		require.NoError(t, err)
		p := Compile(next, next.Night("n1")).Songs[0]
		require.Empty(t, p.Windows)
		require.Len(t, p.Cut, 1)
		require.Len(t, Compile(next, nil).Songs[0].Windows, 1)
	}
	next, err := s.Edit(CutTonight("n1", Cut{choice("family", "propane-flame"), ""}))
	require.NoError(t, err)
	require.Len(t, Compile(next, next.Night("n1")).Songs[0].Windows, 1, "a family is no arm")
}

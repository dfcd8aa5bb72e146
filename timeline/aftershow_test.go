package timeline

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// touring is small with three nights, entered out of order: the second has no
// date, so it is the last.
func touring(t testing.TB) *Show {
	s, err := small(t).Edit(func(d *Draft) error {
		a := *d.Show().Stock.Article("comet")
		a.Stock = 20
		d.Put("", &a, &Wire{Base: Base{ID: "w6"}, Placed: "c2", Driver: "b2", Output: 2},
			&HandCue{Base: Base{ID: "h1"}, Key: 1, Targets: []ID{"c2"}, Presses: 1},
			&Night{Base: Base{ID: "n1"}, Slug: "one", Date: "2031-05-09"}, &Night{Base: Base{ID: "n2"}, Slug: "two"}, &Night{Base: Base{ID: "n3"}, Slug: "three", Date: "2031-05-11"})
		return nil
	})
	require.NoError(t, err)
	return s
}

// entered makes the edit of what was entered after a night.
func entered(t require.TestingT, s *Show, night ID, in AfterShow) *Show {
	edit, err := Compile(s, s.Night(night)).AfterShow(in)
	require.NoError(t, err)
	next, err := s.Edit(edit)
	require.NoError(t, err)
	return next
}

func outputs(state OutcomeState, at ...OutputRef) map[OutcomeState][]OutputRef {
	return map[OutcomeState][]OutputRef{state: at}
}

func items(s *Show, night ID) []string {
	return KindOf("night").Field("outcomes").Get(s.Night(night)).Items
}

func TestAfterShowEntersWhatBecame(t *testing.T) {
	s := touring(t)
	one, two := OutputRef{"b2", 1}, OutputRef{"b2", 2}
	s = entered(t, s, "n1", AfterShow{AllFired: true, Weights: []Fill{{"cyl", 3.5}}})
	require.Equal(t, []string{"b2:1 fired placed=c1 article=comet"}, items(s, "n1"), "what is pressed by hand, and what is not used up, is not taken for fired")
	n, given := s.OnHand(s.Stock.Article("comet"), nil)
	require.True(t, given)
	require.Equal(t, 19, n)

	s = entered(t, s, "n1", AfterShow{Outputs: map[OutcomeState][]OutputRef{Misfired: {one}, Unfired: {two}}})
	require.Equal(t, []string{"b2:1 misfired placed=c1 article=comet", "b2:2 unfired placed=c2 article=comet"}, items(s, "n1"))
	again := entered(t, s, "n1", AfterShow{AllFired: true})
	require.Empty(t, Diff(s, again), "all the rest was fired: a misfire stays one")

	loaded, misfires := s.LeftBefore(s.Night("n3"))
	require.Len(t, loaded, 1)
	require.Equal(t, ID("c2"), loaded[0].Placed)
	require.Len(t, misfires, 1)
	require.Equal(t, ID("n1"), misfires[0].Night.ID)
	loaded, misfires = s.LeftBefore(s.Night("n1"))
	require.Empty(t, loaded)
	require.Empty(t, misfires, "not on the night itself")

	s = entered(t, s, "n3", AfterShow{Outputs: outputs(Fired, two)})
	loaded, misfires = s.LeftBefore(nil)
	require.Empty(t, loaded, "the last night fired it")
	require.Len(t, misfires, 1, "and a misfire stays open until somebody clears it")
	s = entered(t, s, "n1", AfterShow{Cleared: []OutputRef{one}, By: "A. Name", Note: "soaked 30 min"})
	_, misfires = s.LeftBefore(nil)
	require.Empty(t, misfires)
	require.Empty(t, Diff(s, entered(t, s, "n1", AfterShow{Outputs: outputs(Misfired, one)})), "said again, it stays cleared")

	lines := s.StockOver(s.Night("n3"))
	require.Len(t, lines, 1)
	require.Equal(t, StockLine{s.Stock.Article("comet"), Spent{Fired: 1}, 19, 18, true}, lines[0])
}

// What was weighed after a show is the fill of the next night, unless that one
// weighs for itself.
func TestWeightsBecomeFills(t *testing.T) {
	s := entered(t, touring(t), "n1", AfterShow{Weights: []Fill{{"cyl", 3.5}}})
	cyl := s.Rig.Supply("cyl")
	for night, want := range map[ID]float64{"": 10, "n1": 10, "n3": 3.5, "n2": 3.5} {
		kg, from := Compile(s, s.Night(night)).FillOf(cyl)
		require.Equal(t, want, kg, night)
		require.Equal(t, want == 3.5, from.After == s.Night("n1"), night)
	}
	s = entered(t, s, "n3", AfterShow{Weights: []Fill{{"cyl", 0}}})
	kg, _ := Compile(s, s.Night("n2")).FillOf(cyl)
	require.Zero(t, kg, "empty is a weight")
	s, err := s.Edit(func(d *Draft) error {
		return d.Set(Ref{Kind: "night", ID: "n2"}, "fills", Value{Items: []string{"supply=cyl kg=9"}})
	})
	require.NoError(t, err)
	kg, from := Compile(s, s.Night("n2")).FillOf(cyl)
	require.Equal(t, 9.0, kg)
	require.True(t, from.Weighed)
	require.InDelta(t, 7.2, Compile(s, s.Night("n2")).Supplies()[0].Usable, 1e-9)
	require.InDelta(t, 2.8, Compile(entered(t, touring(t), "n1", AfterShow{Weights: []Fill{{"cyl", 3.5}}}), s.Night("n3")).Supplies()[0].Usable, 1e-9, "levels start with it")
}

func TestAfterShowRefuses(t *testing.T) {
	s := touring(t)
	one := OutputRef{"b2", 1}
	for name, c := range map[string]struct {
		night ID
		in    AfterShow
		want  string
	}{
		"no night":      {"", AfterShow{AllFired: true}, "no night is chosen"},
		"no output":     {"n1", AfterShow{Outputs: outputs(Fired, OutputRef{"b2", 9})}, "nothing hangs on bank 2:9 tonight; of bank 2 something hangs on 1, 2"},
		"twice":         {"n1", AfterShow{Outputs: map[OutcomeState][]OutputRef{Fired: {one}, Unfired: {one}}}, "was fired and unfired"},
		"nothing":       {"n1", AfterShow{Cleared: []OutputRef{one}, By: "A"}, "no misfire was entered for bank 2:1 on this night; it has none"},
		"by nobody":     {"n1", AfterShow{Cleared: []OutputRef{one}}, "give a name"},
		"no supply":     {"n1", AfterShow{Weights: []Fill{{"tank", 1}}}, `supply "tank" is not in the rig: there is supply:cyl`},
		"unwired place": {"n1", AfterShow{Outputs: outputs(Fired, OutputRef{"gone", 1})}, "nothing is wired to gone"},
	} {
		_, err := Compile(s, s.Night(c.night)).AfterShow(c.in)
		require.ErrorContains(t, err, c.want, name)
	}
	p := Compile(s, nil)
	at, err := p.FindOutput("Bank 2:16")
	require.NoError(t, err)
	require.Equal(t, OutputRef{"b2", 16}, at)
	at, err = p.FindOutput("bar 1:2")
	require.NoError(t, err)
	require.Equal(t, OutputRef{"d1", 2}, at)
	for text, want := range map[string]string{"b2": "write bank:output", "b2:0": "write a number from 1", "b9:1": `bank "b9" is not in the show`} {
		_, err := p.FindOutput(text)
		require.ErrorContains(t, err, want)
	}
}

// Whatever is entered in whatever order, stock adds up: what is there before a
// night less what it fired and misfired is there after it; nothing is counted
// twice; entering the same again changes nothing; undo is exact.
func TestStockAddsUp(t *testing.T) {
	start := touring(t)
	rapid.Check(t, func(r *rapid.T) {
		s := start
		for range rapid.IntRange(1, 8).Draw(r, "steps") {
			night := rapid.SampledFrom([]ID{"n1", "n2", "n3"}).Draw(r, "night")
			in := drawEntry(r)
			edit, err := Compile(s, s.Night(night)).AfterShow(in)
			if err != nil {
				continue // cleared what is no misfire, or said two things of one
			}
			next, err := s.Edit(edit)
			require.NoError(r, err)
			require.Empty(r, Diff(next, entered(r, next, night, in)), "entered again")
			cs := Diff(s, next)
			back, err := Apply(next, cs.Invert())
			require.NoError(r, err)
			require.Empty(r, Diff(s, back))
			addsUp(r, next)
			s = next
		}
	})
}

func drawEntry(r *rapid.T) AfterShow {
	in := AfterShow{AllFired: rapid.Bool().Draw(r, "all"), Forget: rapid.IntRange(0, 9).Draw(r, "forget") == 0, Outputs: map[OutcomeState][]OutputRef{}}
	for o := 1; o <= 2; o++ {
		state := rapid.SampledFrom(append([]OutcomeState{""}, outcomeStates...)).Draw(r, "state")
		if state != "" {
			in.Outputs[state] = append(in.Outputs[state], OutputRef{"b2", o})
		}
	}
	if rapid.IntRange(0, 3).Draw(r, "clear") == 0 {
		in.Cleared, in.By = []OutputRef{{"b2", 1}}, "A. Name"
	}
	if rapid.Bool().Draw(r, "weigh") {
		in.Weights = []Fill{{"cyl", float64(rapid.IntRange(0, 40).Draw(r, "kg")) / 4}}
	}
	return in
}

// addsUp compares the stock with a plain count over the items of all nights.
func addsUp(r require.TestingT, s *Show) {
	comet := s.Stock.Article("comet")
	left := comet.Stock
	for _, id := range []ID{"n1", "n3", "n2"} { // by date
		n := s.Night(id)
		before, _ := s.OnHand(comet, n)
		require.Equal(r, left, before)
		seen := map[string]bool{}
		for _, o := range n.Outcomes {
			key := fmt.Sprint(o.Placed, o.Article)
			require.False(r, seen[key], "one load, one item")
			seen[key] = true
			if o.State == Fired || o.State == Misfired {
				left--
			}
		}
		for _, l := range s.StockOver(n) {
			require.Equal(r, l.Before-l.Fired-l.Misfired, l.After)
			require.Equal(r, left, l.After)
		}
	}
	now, _ := s.OnHand(comet, nil)
	require.Equal(r, left, now)
	_, open := s.LeftBefore(nil)
	for _, m := range open {
		require.Equal(r, Misfired, m.State)
	}
}

// A count on a day takes off only what nights from then on used.
func TestStockCountedLater(t *testing.T) {
	s := entered(t, touring(t), "n1", AfterShow{AllFired: true})
	s = entered(t, s, "n3", AfterShow{AllFired: true})
	for day, want := range map[string]int{"": 18, "2031-05-09": 18, "2031-05-10": 19, "2031-05-12": 20} {
		s, err := s.Edit(set("article", "", "comet", "counted", day))
		require.NoError(t, err)
		n, _ := s.OnHand(s.Stock.Article("comet"), nil)
		require.Equal(t, want, n, day)
		require.Equal(t, day <= "2031-05-09", s.StockOver(s.Night("n1"))[0].Given)
	}
}

// No supply holds more than it does full: 500 kg would silence what finds it
// empty.
func TestWeightsBeyondWhatASupplyHolds(t *testing.T) {
	s := touring(t)
	cyl := s.Rig.Supply("cyl")
	full := cyl.Fill * float64(cyl.Units)
	n := func(kg float64) error {
		_, err := Compile(s, s.Night("n1")).AfterShow(AfterShow{Weights: []Fill{{"cyl", kg}}})
		return err
	}
	require.NoError(t, n(full))
	require.ErrorContains(t, n(full+0.1), "cannot hold")
	require.ErrorContains(t, n(500), "kg: full it holds")
	_, err := s.Edit(FillTonight("n1", Fill{"cyl", 500}))
	require.ErrorContains(t, err, "full it holds")
}

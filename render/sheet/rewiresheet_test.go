package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/testshow"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// A dead bank's outputs move to a spare one; the circuit and all that shares an
// output with it are tested again.
func TestRewireSheetOfABankSwap(t *testing.T) {
	s, err := testshow.Charged(t).Edit(func(d *timeline.Draft) error {
		live := *d.Show().Rig.Bank("b2")
		live.Dead = false
		d.Put("", &live, &timeline.Bank{Base: timeline.Base{ID: "b3"}, Name: "bank 3", Type: "ign16"})
		return nil
	})
	require.NoError(t, err)
	swap, err := s.ProposeBankSwap("b2", "b3")
	require.NoError(t, err)
	after, err := s.Edit(swap.Edit())
	require.NoError(t, err)
	r := load.NewRewireSheet(timeline.Compile(s, nil), timeline.Compile(after, nil))
	require.Len(t, r.Moves, len(swap.Moves))
	for i, m := range swap.Moves {
		require.Equal(t, "bank 2 · "+[]string{"1", "2"}[m.From-1], r.Moves[i].From)
		require.Equal(t, "bank 3 · "+[]string{"1", "2"}[m.To-1], r.Moves[i].To)
		require.Equal(t, "comet 1", r.Moves[i].Effect)
	}
	require.Equal(t, []string{"bank 2"}, r.OutOf)
	require.Empty(t, r.Stranded)
	standing, err := s.CircuitLoad(s.Rig.Circuit("k1"), s.Stock.BankType("ign16"))
	require.NoError(t, err)
	require.Equal(t, []load.RewireTest{{Output: "bank 3 · 1", Effects: "comet 1", Circuit: "circuit 1", Expected: wording.Ohms(standing.Expected)}, {Output: "bank 3 · 2", Effects: "comet 1", Circuit: "", Expected: ""}}, r.Tests)
}

// A night's plugs are told from the tour's; what it takes out and leaves without
// an output is named.
func TestRewireSheetOfANight(t *testing.T) {
	s, err := testshow.Charged(t).Edit(func(d *timeline.Draft) error {
		n := *d.Show().Night("n1")
		n.Rig = []timeline.RigChange{{Kind: "placed", ID: "j1", Driver: "b1", Output: 5}, {Kind: "device", ID: "d1", Out: true}}
		d.Put("", &n)
		return nil
	})
	require.NoError(t, err)
	o, ok := KindNamed("rewire-sheet")
	require.True(t, ok)
	made, err := o.Make(timeline.Compile(s, s.Night("n1")), report.Filter{})
	require.NoError(t, err)
	r := made.(rewireSheet)
	require.Len(t, r.Moves, 1)
	require.Equal(t, [3]string{"jet 1", "bank 1 · 3", "bank 1 · 5"}, [3]string{r.Moves[0].Effect, r.Moves[0].From, r.Moves[0].To})
	require.Equal(t, []string{"bar 1"}, r.OutOf)
	require.Equal(t, []string{"flame 1"}, r.Stranded)
	_, err = o.Make(timeline.Compile(s, nil), report.Filter{})
	require.ErrorContains(t, err, "none is chosen")
}

// Whatever the wiring, the moves lead from one to the other, and a plan has
// nothing to rewire beside itself.
func TestMovesLeadFromOneWiringToTheOther(t *testing.T) {
	plain := testshow.Charged(t)
	rapid.Check(t, func(t *rapid.T) {
		was, is := timeline.Compile(testshow.Random(t, plain), nil), timeline.Compile(testshow.Random(t, plain), nil)
		plugs := func(p *timeline.Plan) map[[2]string]bool {
			m := map[[2]string]bool{}
			for _, u := range p.Units.All {
				for _, d := range u.Drives {
					m[[2]string{u.Name, load.PlugName(d)}] = true
				}
			}
			return m
		}
		got := plugs(was)
		for _, m := range load.NewRewireSheet(was, is).Moves {
			if m.From != "" {
				require.True(t, got[[2]string{m.Effect, m.From}])
				delete(got, [2]string{m.Effect, m.From})
			}
		}
		for _, m := range load.NewRewireSheet(was, is).Moves {
			if m.To != "" {
				got[[2]string{m.Effect, m.To}] = true
			}
		}
		require.Equal(t, plugs(is), got)
		require.Empty(t, load.NewRewireSheet(is, is).Moves)
	})
}

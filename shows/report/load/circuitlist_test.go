package load

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// A circuit's expected ohms are one number wherever they are printed, at the
// temperature that the show has for the rule, also where that is limited to
// what hangs on the circuit; and so is what they leave out.
func TestExpectedOhmsAreOneNumber(t *testing.T) {
	plain := testshow.Charged(t)
	for name, c := range map[string]struct {
		values, scope []string
		change        func(*timeline.Circuit)
	}{
		"as it is":            {values: []string{"margin=1000"}},
		"in the sun":          {values: []string{"margin=1000", "celsius=40"}},
		"one place in it":     {values: []string{"margin=1000", "celsius=40"}, scope: []string{"placed=c1"}},
		"a family in it":      {values: []string{"margin=1000", "celsius=60"}, scope: []string{"family=comet"}},
		"no cable given":      {values: []string{"margin=1000"}, change: func(c *timeline.Circuit) { c.Cable = 0 }},
		"no ohms given":       {values: []string{"margin=1000"}, change: func(c *timeline.Circuit) { c.Ohms = 0 }},
		"a core not in table": {values: []string{"margin=1000"}, change: func(c *timeline.Circuit) { c.Section = 0.6 }},
	} {
		s, err := plain.Edit(func(d *timeline.Draft) error {
			k, live := *d.Show().Rig.Circuit("k1"), *d.Show().Rig.Bank("b2")
			typ := *d.Show().Stock.BankType("ign16")
			live.Dead, k.AllFire, typ.Volts = false, 0.5, 24
			if c.change != nil {
				c.change(&k)
			}
			d.Put("", &k, &typ, &live, &timeline.Bank{Base: timeline.Base{ID: "b3"}, Name: "bank 3", Type: "ign16"}, &timeline.Setting{Base: timeline.Base{ID: "circuit"}, Values: c.values, Scope: c.scope})
			return nil
		})
		require.NoError(t, err)
		want, expected := "not given", 0.0
		if load, err := s.CircuitLoad(s.Rig.Circuit("k1"), s.Stock.BankType("ign16")); err == nil {
			want, expected = load.Reading(), load.Expected
		}
		require.Equal(t, strings.Contains(name, "no ohms") || strings.Contains(name, "a core"), want == "not given", "%s: %s", name, want)

		p := timeline.Compile(s, nil)
		seen := 0
		plan, err := NewPlan(p, report.Filter{})
		require.NoError(t, err)
		for _, g := range plan.Groups {
			for _, line := range g.Lines {
				if line.Circuit == "circuit 1" {
					seen++
					require.Equal(t, want, line.ExpectedText(), "load plan, %s", name)
				}
			}
		}
		require.Positive(t, seen, "load plan")
		if list, err := NewCircuitList(s, nil); err == nil {
			require.Equal(t, want, list.Lines[0].reading, "list, %s", name)
			require.Equal(t, expected, list.Lines[0].Expected, "list, %s", name)
		} else {
			require.Contains(t, name, "a core")
		}
		swap, err := s.ProposeBankSwap("b2", "b3")
		require.NoError(t, err)
		after, err := s.Edit(swap.Edit())
		require.NoError(t, err)
		require.Equal(t, want, NewRewireSheet(p, timeline.Compile(after, nil)).Tests[0].Expected, "rewire sheet, %s", name)
		require.Equal(t, expected, NewRewire(s, swap).Retest[0].Expect, "swap-bank, %s", name)
		for _, f := range rule.Check(p, rule.Facts{}) {
			if f.Rule == "circuit" && want != "not given" {
				seen++
				require.Contains(t, f.Help, "measure "+want+" ohm", name)
			} else if f.Rule == "circuit" {
				require.NotContains(t, f.Help, "ohm expected", name)
			}
		}
		if len(c.scope) == 0 && want != "not given" {
			require.Greater(t, seen, 1, "%s: the rule finds it", name)
		}
	}
}

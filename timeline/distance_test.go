package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline/units"
)

// New York City Fire Code FC 3309.12 (2014), the same in NFPA 1126 (from
// memory): the larger of 15 ft and twice the fallout radius; at concussion 25 ft
// as well. The distances are derived from that.
func TestDistanceMetres(t *testing.T) {
	all, err := ParseDistance("audience at-least=4.572 fallout-times=2")
	require.NoError(t, err)
	concussion, err := ParseDistance("audience at-least=7.62 families=report")
	require.NoError(t, err)
	for _, c := range []struct {
		family        Family
		fallout, want float64
	}{{Comet, 1, 4.572}, {Comet, 2.286, 4.572}, {Comet, 2.5, 5.0}, {Comet, 3, 6.0}, {Report, 1, 7.62}, {Report, 5, 10.0}} {
		a, most := &Article{Family: c.family, Fallout: c.fallout}, 0.0
		for _, d := range []Distance{all, concussion} {
			if d.Covers(a, ToAudience) {
				most = max(most, d.Metres(a))
			}
		}
		require.Equal(t, c.want, most, "%s, fallout %g", c.family, c.fallout)
	}
	require.False(t, all.Covers(&Article{}, ToPerformers))
	require.Equal(t, "4.572 m or 2 x fallout of 3 m", all.Formula(units.Metres, &Article{Fallout: 3}))
	require.Equal(t, "4.572 m or 2 x fallout, which is not given", all.Formula(units.Metres, &Article{}))
}

func TestDistanceText(t *testing.T) {
	for _, s := range []string{"audience at-least=4.572 fallout-times=2", "persons at-least=3 families=flash-pot clause=r.152", `performers fallout-times=1.5 articles=mine-nine,comet clause="officer on site"`} {
		d, err := ParseDistance(s)
		require.NoError(t, err)
		require.Equal(t, s, d.String())
	}
	for s, want := range map[string]string{
		"":                                       "must start with audience, performers or persons",
		"dogs at-least=3":                        `"dogs": is not one of: audience, performers, persons`,
		"audience":                               "asks for no distance",
		"audience at-least=-1":                   "must be a number from 0 to 10000",
		"audience at-least=3 families=comets":    `"comets" is not one of`,
		"audience at-least=3 articles=Mine":      `"Mine" is no id`,
		"audience at-least=3 near=2":             `"near" is not understood`,
		"audience at-least=3 at-least=4 clause=": `"at-least" is not understood`,
	} {
		_, err := ParseDistance(s)
		require.ErrorContains(t, err, want, s)
	}
}

func TestDistanceTextKeepsAll(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		d := Distance{To: rapid.SampledFrom([]DistanceTo{ToAudience, ToPerformers, ToPersons}).Draw(r, "to"),
			AtLeast: rapid.Float64Range(0.001, 10000).Draw(r, "m"), Fallout: rapid.Float64Range(0, 10).Draw(r, "times"),
			Families: rapid.SliceOfN(rapid.SampledFrom(Families()), 1, 3).Draw(r, "families"), Clause: rapid.StringMatching(`[a-z ="\\]{0,8}`).Draw(r, "clause")}
		again, err := ParseDistance(d.String())
		require.NoError(r, err)
		require.Equal(r, d, again)
	})
}

func TestPlanMarkInASong(t *testing.T) {
	s := "singer at=0,2 radius=1 song=ember from=62.0000 to=80.0000"
	m, err := ParsePlanMark(s)
	require.NoError(t, err)
	require.Equal(t, s, m.String())
	require.True(t, m.During("ember", 0, 62*Second))
	require.False(t, m.During("ember", 0, 62*Second-1))
	require.True(t, m.During("ember", 80*Second, 90*Second))
	require.False(t, m.During("ember", 80*Second+1, 90*Second))
	require.False(t, m.During("tide", 62*Second, 70*Second))
	m.To = 0
	require.True(t, m.During("ember", 1000*Second, 1000*Second), "without an end it lasts")
	require.True(t, PlanMark{}.During("tide", 0, 0))
	for s, want := range map[string]string{"singer at=0,2 from=3": "has times and no song", "singer at=0,2 song=ember from=3 to=2": "ends at 2.0000 before it begins"} {
		_, err := ParsePlanMark(s)
		require.ErrorContains(t, err, want)
	}
}

func TestRuleSetRecord(t *testing.T) {
	s, err := NewShow("s", "S", Rate25).Edit(func(d *Draft) error {
		d.Put("", &RuleSet{Base: Base{ID: "town"}, Name: "Town"})
		return d.Set(Ref{Kind: "ruleset", ID: "town"}, "distances", Value{Items: []string{"audience at-least=6"}})
	})
	require.NoError(t, err)
	require.Equal(t, 6.0, s.RuleSet("town").Distances[0].AtLeast)
	require.Nil(t, s.RuleSet("city"))
}

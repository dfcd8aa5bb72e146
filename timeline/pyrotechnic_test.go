package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline/field"
)

// What an article says of itself makes it pyrotechnic, and what the rule set says of
// its family; its family alone does not.
func TestPyrotechnicIsWhatSaysSo(t *testing.T) {
	set := &RuleSet{Name: "Town", Pyro: []Family{FountainLong}}
	for _, x := range []struct {
		name string
		a    Article
		set  *RuleSet
		is   string
	}{
		{"a family alone", Article{Family: Comet}, nil, ""},
		{"a family, and a rule set that speaks of another", Article{Family: Comet}, set, ""},
		{"NEC", Article{Family: Comet, NEC: 0.1}, nil, "NEC"},
		{"a UN number", Article{Family: CO2Jet, UN: "0431"}, nil, "UN 0431"},
		{"a category", Article{Category: "T1"}, nil, "category T1"},
		{"the rule set", Article{Family: FountainLong}, set, "rule set Town"},
		{"no rule set", Article{Family: FountainLong}, nil, ""},
		{"all of it", Article{Family: FountainLong, NEC: 4, UN: "0432", Category: "T2"}, set, "NEC, UN 0432, category T2, rule set Town"},
	} {
		require.Equal(t, x.is, x.a.Pyrotechnic(x.set), x.name)
	}
}

// A rule set that counts families as pyrotechnic is written and read back; a word
// that is no family is refused.
func TestPyrotechnicFamiliesComeBack(t *testing.T) {
	k := KindOf("ruleset")
	require.NotNil(t, k)
	f := k.Field("pyrotechnic")
	require.NotNil(t, f)
	var r RuleSet
	require.NoError(t, f.Set(&r, field.Value{Items: []string{"fountain-long", "comet"}}))
	require.Equal(t, []Family{FountainLong, Comet}, r.Pyro)
	require.Equal(t, []string{"fountain-long", "comet"}, f.Get(&r).Items)
	require.ErrorContains(t, f.Set(&r, field.Value{Items: []string{"teapot"}}), `"teapot" is no family`)
}

package rule

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// TestNotChecked: whatever a rule compares with and nobody has given is said.
func TestNotChecked(t *testing.T) {
	all := edits(field("venue", "v", "audience", "barrier from=-9,-40 to=9,-40"), field("venue", "v", "performers", "singer at=0,30"), field("venue", "v", "trim", "20"), field("venue", "v", "wind", "8"),
		field("venue", "v", "volume", "90000"), field("venue", "v", "area", "9000"), field("venue", "v", "cloths", "back from=-9,90 to=9,90 crown=7"), field("venue", "v", "exits", "side at=40,0"), field("venue", "v", "extinguishers", "left at=-9,0"), field("venue", "v", "rule-set", "eu-label"), field("article", "jet", "separation", "5"), field("article", "jet", "wind", "9"), cue("a", "j1", 10*sec), stands("j1", 0, 0))
	with := func(more ...timeline.Edit) []timeline.Edit { return append(append([]timeline.Edit{}, all...), more...) }
	venue := func(what string) []string {
		return []string{"venue:v: Low Hall: the rules in brackets were skipped, data missing: " + what}
	}
	runNight(t, "not-checked", []nightCase{
		{"all given", with(), nil},
		{"no performers' marks", with(field("venue", "v", "performers", "")), venue("performers' marks (performers, heat)")},
		{"no wind limit", with(field("venue", "v", "wind", "0")), venue("wind limit (wind)")},
		{"a wind limit of the rule set", with(field("venue", "v", "wind", "0"), field("venue", "v", "rule-set", "cincinnati-1213-15")), nil},
		{"no volume", with(field("venue", "v", "volume", "0")), venue("volume (gas-in-room, gas-mean)")},
		{"no floor area", with(field("venue", "v", "area", "0")), venue("floor area (gas-layer)")},
		{"no volume and no CO2", with(field("venue", "v", "volume", "0"), field("venue", "v", "area", "0"), field("article", "jet", "medium", "air")), nil},
		{"no rule set", with(field("venue", "v", "rule-set", "")), venue("rule set (separation)")},
		{"no date", with(field("article", "jet", "expires", "2030-01-01")), venue("date of the night (expiry)")},
		{"two of them", with(field("venue", "v", "performers", ""), field("venue", "v", "wind", "0")), venue("performers' marks (performers, heat), wind limit (wind)")},
		{"conditions and quiet windows", with(field("venue", "v", "conditions", "fire watch"), field("venue", "v", "quiet", "22:30 to 23:00"), field("night", "n", "conditions", "walk;talk")), []string{"venue:v: written in words that no rule reads: 1 condition of the permit, 2 conditions of the night, 1 quiet window"}},
		{"no fallout to compute from", with(field("venue", "v", "distances", "persons at-least=4 fallout-times=2")), []string{"article:jet: jet has no fallout radius"}},
		{"no wind limit of the article", with(field("article", "jet", "wind", "0")), []string{"article:jet: jet has no wind limit"}},
		{"no use of fuel", with(field("article", "jet", "family", "liquid-flame")), []string{"article:jet: jet has no use per second"}},
		{"propane", with(field("article", "jet", "family", "liquid-flame"), field("article", "jet", "use-rate", "0.2"), field("article", "jet", "medium", "propane")), nil},
		{"no way out and no extinguisher", with(field("article", "jet", "family", "liquid-flame"), field("article", "jet", "use-rate", "0.2"), field("venue", "v", "exits", ""), field("venue", "v", "extinguishers", "")), venue("ways out (exit-reach), extinguishers (extinguisher)")},
		{"no way out and nothing that burns", with(field("venue", "v", "exits", ""), field("venue", "v", "extinguishers", "")), nil},
		{"no venue", with(field("night", "n", "venue", ""), field("venue", "v", "trim", "0")), nil},
	})
	runCases(t, "not-checked", []ruleCase{{"the tour has no place", edits(cue("a", "j1", 10*sec)), nil}})
}

// What distances, reach and heights need and nobody has given: a warning of what
// stands upright, an error of what is tilted or stands nowhere.
func TestNotMeasured(t *testing.T) {
	all := edits(field("venue", "v", "audience", "barrier from=-9,-40 to=9,-40"), field("venue", "v", "trim", "20"), field("article", "jet", "height", "6"), field("article", "jet", "separation", "5"), cue("a", "j1", 10*sec), stands("j1", 0, 0))
	with := func(more ...timeline.Edit) []timeline.Edit { return append(append([]timeline.Edit{}, all...), more...) }
	comet := func(more ...timeline.Edit) []timeline.Edit {
		return with(append(edits(cue("a", "c1", 20*sec), stands("c1", 0, 0), field("article", "comet", "height", "8"), field("article", "comet", "fallout", "3"), field("article", "comet", "separation", "5")), more...)...)
	}
	tilted := func(more ...timeline.Edit) []timeline.Edit {
		return comet(append(edits(field("placed", "c1", "tilt", "10")), more...)...)
	}
	runNight(t, "not-measured", []nightCase{
		{"all given", with(), nil},
		{"no audience lines", with(field("venue", "v", "audience", "")), []string{"venue:v: Low Hall: the rules in brackets were skipped, data missing: audience lines (separation, reach, heat)"}},
		{"no trim height", with(field("venue", "v", "trim", "0")), []string{"venue:v: trim height (roof)"}},
		{"no height", with(field("article", "jet", "height", "0")), []string{"article:jet: j1: jet gives no height (reach, roof, heat), so that it cannot be checked"}},
		{"no label distance", with(field("article", "jet", "separation", "0"), field("article", "jet", "clear", "3")), []string{"article:jet: no label distance"}},
		{"but the permit gives one", with(field("article", "jet", "separation", "0"), field("venue", "v", "distances", "persons at-least=4")), nil},
		{"no fallout of a comet", comet(field("article", "comet", "fallout", "0")), []string{"article:comet: no fallout radius"}},
		{"a jet needs none", with(field("article", "jet", "fallout", "0")), nil},
		{"tilted is another rule", tilted(field("article", "comet", "fallout", "0")), nil},
		{"no position and no line", with(field("placed", "j1", "position", ""), field("venue", "v", "audience", "")), []string{"venue:v: audience lines", "venue:v: without a position on stage: j1"}},
	})
	runNight(t, "tilted-not-measured", []nightCase{
		{"all given", tilted(), nil},
		{"no height", tilted(field("article", "comet", "height", "0")), []string{"article:comet: c1: comet, which leans 10° upstage, gives no height (reach, roof, heat), so that it cannot be checked"}},
		{"no fallout", tilted(field("article", "comet", "fallout", "0")), []string{"article:comet: no fallout radius"}},
		{"no label distance", tilted(field("article", "comet", "separation", "0")), []string{"article:comet: no label distance"}},
		{"pointing down", comet(field("placed", "c1", "tilt", "120")), []string{"article:comet: no figure for a shot that points down"}},
		{"upright is another rule", comet(field("article", "comet", "fallout", "0")), nil},
	})
	runNight(t, "not-placed", []nightCase{
		{"placed", with(), nil},
		{"standing nowhere", with(field("placed", "j1", "position", "")), []string{"venue:v: without a position on stage: j1"}},
		{"with no line or mark to keep from", with(field("placed", "j1", "position", ""), field("venue", "v", "audience", "")), nil},
		{"fog may", with(field("placed", "j1", "position", ""), field("article", "jet", "family", "fog-machine")), nil},
	})
}

func TestUnknownRuleSet(t *testing.T) {
	runNight(t, "unknown-rule-set", []nightCase{
		{"none", nil, nil},
		{"a published one", edits(field("venue", "v", "rule-set", "victoria-2011")), nil},
		{"by its name", edits(field("venue", "v", "rule-set", "victoria, explosives regulations 2011, R.152")), nil},
		{"one of the show", edits(field("venue", "v", "rule-set", "own"), put(&timeline.RuleSet{Base: base{ID: "own"}})), nil},
		{"nobody's", edits(field("venue", "v", "rule-set", "own")), []string{`venue:v: Low Hall names the rule set "own", and there is none of that name`}},
	})
}

// For every article that is played, towards the audience: either something
// asks for a distance, or its lack is said.
func TestEveryArticleIsComparedOrNamed(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s, err := anySet(rt, t).Edit(put(&timeline.Venue{Base: base{ID: "v"}, Slug: "v", RuleSet: rapid.SampledFrom([]string{"", "nyc-fc-2014", "eu-label"}).Draw(rt, "set")}, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}),
			field("article", "jet", "separation", rapid.SampledFrom([]string{"0", "4"}).Draw(rt, "label")))
		require.NoError(rt, err)
		p := timeline.Compile(s, s.Night("n"))
		want, got := map[string]bool{}, map[string]bool{}
		for _, ps := range p.Songs {
			for _, c := range ps.Commands {
				if keepsDistance(c.Article) && c.Article.Separation == 0 && !(p.Venue.RuleSet == "nyc-fc-2014" && c.Article.Family.Class() != timeline.Cold && c.Article.Family.Class() != timeline.Hot && c.Article.Family != timeline.SparkMachine) {
					want[string(c.Article.ID)] = true
				}
			}
		}
		for _, f := range ofRule("not-measured", nightAt(s)) {
			if f.Ref.Kind == "article" && containsAll(f.Text, []string{"label distance"}) {
				got[string(f.Ref.ID)] = true
			}
		}
		require.Equal(rt, sortedKeys(want), sortedKeys(got))
	})
}

// A rule that tells what is not given says so of itself: sheets list what it
// finds as not compared.
func TestRulesThatTellWhatIsNotGiven(t *testing.T) {
	var told []string
	for _, r := range Rules() {
		if TellsNoData(r.Name) {
			told = append(told, r.Name)
		}
	}
	require.Equal(t, []string{"bank-not-given", "not-checked", "not-measured", "not-placed", "refill-not-given", "tilted-not-measured"}, told)
}

package rule

import (
	"fmt"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// A venue that goes by an edition whose place was taken is told so; one that
// goes by the newest, by none or by one of unknown age is not.
func TestOldEdition(t *testing.T) {
	own := func(newer string) timeline.Edit {
		return put(&timeline.RuleSet{Base: base{ID: "bye-law"}, Name: "Harbour bye-law", Edition: "2031", Read: "2032-01-09", Newer: newer})
	}
	for _, c := range []struct {
		name, set string
		more      []timeline.Edit
		want      string
	}{
		{"published and old", "nyc-fc-2014", nil, `Low Hall names rule set New York City Fire Code, FC 3309.12, edition 2014, day it was read not given, and its place has been taken by: New York City Fire Code 2022`},
		{"published, none newer is known", "south-australia", nil, ""},
		{"own and old", "bye-law", edits(own("Harbour bye-law 2034")), `edition 2031, of not given, day it was read 2032-01-09, and its place has been taken by: Harbour bye-law 2034`},
		{"own and newest", "bye-law", edits(own("")), ""},
		{"own, of the same id as a published one", "nyc-fc-2014", edits(put(&timeline.RuleSet{Base: base{ID: "nyc-fc-2014"}, Edition: "2022"})), ""},
		{"none", "", nil, ""},
	} {
		s := stage(t, append(edits(put(&timeline.Venue{Base: base{ID: "v"}, Name: "Low Hall", Slug: "v", RuleSet: c.set}, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v", Set: "main"})), c.more...)...)
		found := ofRule("old-edition", Check(timeline.Compile(s, s.Night("n")), Facts{}))
		if c.want == "" {
			require.Empty(t, found, c.name)
			continue
		}
		require.Len(t, found, 1, c.name)
		require.Contains(t, found[0].Text, c.want, c.name)
		require.Equal(t, Warning, found[0].Severity)
	}
}

// A document has a number, a year or a clause in its name.
var document = regexp.MustCompile(`[A-Z][A-Za-z]+.*\d`)

// Every mark that comes with the program stands beside its source: published is
// what was read in a document that is named, and neither what is from memory or
// from somebody who cites it, nor what was typed for a venue.
func TestMarksAndSources(t *testing.T) {
	type marked struct {
		what   string
		mark   timeline.Mark
		source string
	}
	var all []marked
	for _, r := range Tunable() {
		for _, s := range r.Settings {
			all = append(all, marked{r.Name + " " + s.Name, s.Mark, s.Source})
		}
	}
	for _, set := range PublishedRuleSets() {
		all = append(all, marked{"rule set " + string(set.ID), set.Mark, set.Source})
		require.NotEmpty(t, set.Edition, set.ID)
		require.NotEmpty(t, set.Read, set.ID)
		require.NotEmpty(t, set.LeftOut, "%s: no reading is whole", set.ID)
	}
	hot := stage(t, append(edits(put(&timeline.Venue{Base: base{ID: "v"}, Slug: "v"})), heatAt("0.15", 100)...)...)
	estimates := HeatEstimates(timeline.Compile(hot, nil))
	require.NotEmpty(t, estimates)
	for _, e := range estimates {
		for _, l := range e.Levels {
			all = append(all, marked{fmt.Sprint("heat level ", l.Level), l.Mark, l.Source})
		}
	}
	refuse := func(m marked) string {
		switch {
		case m.mark == "" || m.source == "":
			return "no mark or no source"
		case m.mark == timeline.Published && regexp.MustCompile(`(?i)memory|secondary|cited|no source|judgement|the same|own\b`).MatchString(m.source):
			return "not read"
		case m.mark == timeline.Published && !document.MatchString(m.source):
			return "no document named"
		case m.mark == timeline.FromMemory && regexp.MustCompile(`(?i)no source`).MatchString(m.source):
			return "a document from memory has a name"
		}
		return ""
	}
	published := 0
	for _, m := range all {
		require.Empty(t, refuse(m), "%s: %s (%s)", m.what, m.mark, m.source)
		if m.mark == timeline.Published {
			published++
		}
	}
	require.Greater(t, published, 10)
	for _, r := range Tunable() {
		for _, s := range r.Settings {
			require.False(t, s.Field != "" && s.Mark == timeline.Published, "%s %s stands in records: each has its own mark", r.Name, s.Name)
		}
	}
	for _, m := range []marked{{"", "S", "API 521 (named from memory)"}, {"", "S", "lower heat of combustion"}, {"", "S", "the authority"}, {"", "M", "common practice, no source"}, {"", "S", "ADR 1.1.3.6, as a secondary source has it"}} {
		require.NotEmpty(t, refuse(m), m.source)
	}
}

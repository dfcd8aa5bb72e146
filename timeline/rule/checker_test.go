package rule

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool" // the seed of random walks
)

// A checker that remembers gives exactly what checking from nothing gives,
// after any edits, for any night, back and forth.
func TestCheckerRemembersNothingWrong(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s, err := anySet(rt, t).Edit(
			put(&timeline.Venue{Base: base{ID: "v"}, Name: "hall", Slug: "v", Banned: []string{"report"}, Trim: 3, Tolerance: 0.2, Margin: 1},
				&timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v", Set: "main"},
				&timeline.Supply{Base: base{ID: "cyl"}, Name: "cylinder", Fill: 5, Units: 1, Usable: 1, Reserve: 0.2, Feeds: []timeline.ID{"j1"}}),
			stands("j1", 0, 0), field("article", "jet", "use-rate", "1"), field("article", "jet", "height", "2"))
		require.NoError(rt, err)
		compiler, checker := timeline.NewCompiler(), NewChecker()
		shows := []*timeline.Show{s}
		for range rapid.IntRange(1, 6).Draw(rt, "steps") {
			s = rapid.SampledFrom(shows).Draw(rt, "go on from")
			if next := anyEdit(rt, s); next != nil {
				s = next
				shows = append(shows, s)
			}
			night := s.Night(rapid.SampledFrom([]timeline.ID{"", "n"}).Draw(rt, "night"))
			p := compiler.Compile(s, night)
			require.Equal(rt, plain(Check(timeline.Compile(s, night), Facts{})), plain(checker.Check(p, Facts{})))
		}
	})
}

// anyEdit changes a cue, the set, the rig, the stock, a setting or the night;
// nil if that is not possible here.
func anyEdit(rt *rapid.T, s *timeline.Show) *timeline.Show {
	song := rapid.SampledFrom(s.Songs).Draw(rt, "song")
	e := rapid.SampledFrom([]timeline.Edit{
		cue(song.ID, "j1", ms(int64(rapid.IntRange(-10, 200).Draw(rt, "at")))*20),
		field("article", "jet", "recovery", fmt.Sprint(rapid.IntRange(0, 5).Draw(rt, "recovery"))),
		field("bank", "rb", "dead", fmt.Sprint(rapid.Bool().Draw(rt, "dead"))),
		field("wire", "w-j2", "output", fmt.Sprint(rapid.IntRange(1, 9).Draw(rt, "output"))),
		put(&timeline.Setting{Base: base{ID: "recovery"}, Off: rapid.Bool().Draw(rt, "off"), Values: []string{"extra=1"}, Scope: rapid.SampledFrom([][]string{nil, {"song=s0"}, {"placed=j1"}, {"family=report"}}).Draw(rt, "scope")}),
		field("venue", "v", "audience", fmt.Sprintf("b from=-5,%d to=5,-4", rapid.IntRange(-9, 0).Draw(rt, "line"))),
		field("venue", "v", "volume", fmt.Sprint(rapid.IntRange(0, 400).Draw(rt, "volume"))),
		field("venue", "v", "rule-set", rapid.SampledFrom([]string{"", "own", "nyc-fc-2014", "nobody"}).Draw(rt, "rule set")),
		put(&timeline.RuleSet{Base: base{ID: "own"}, Distances: []timeline.Distance{{To: timeline.ToPersons, AtLeast: float64(rapid.IntRange(1, 9).Draw(rt, "metres"))}}}),
		field("position", "at-j1", "y", fmt.Sprint(rapid.IntRange(-3, 6).Draw(rt, "y"))),
		field("article", "jet", "family", rapid.SampledFrom([]string{"co2-jet", "propane-flame"}).Draw(rt, "family")),
		field("article", "jet", "medium", rapid.SampledFrom([]string{"", "CO2", "propane"}).Draw(rt, "medium")),
		showSetting("heat", func(s *timeline.Setting) {
			s.Values = []string{fmt.Sprintf("head-height=%d", rapid.IntRange(0, 9).Draw(rt, "head"))}
		}),
		field("venue", "v", "trim", fmt.Sprint(rapid.IntRange(0, 6).Draw(rt, "trim"))),
		field("night", "n", "fills", fmt.Sprintf("supply=cyl kg=%d", rapid.IntRange(0, 9).Draw(rt, "kg"))),
		field("show", "show", "lock", fmt.Sprint(rapid.IntRange(0, 12).Draw(rt, "lock"))),
		func(d *timeline.Draft) error {
			set := *d.Show().Set("main")
			set.Entries = slices.Clone(set.Entries)
			r := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "order"), 0))
			r.Shuffle(len(set.Entries), func(i, k int) { set.Entries[i], set.Entries[k] = set.Entries[k], set.Entries[i] })
			d.Put("", &set)
			return nil
		},
	}).Draw(rt, "edit")
	next, err := s.Edit(e)
	if err != nil {
		return nil
	}
	return next
}

// plain leaves out fixes, which are functions and cannot be compared, but for
// their labels.
func plain(list []Finding) []Finding {
	out := slices.Clone(list)
	for i := range out {
		if out[i].Fix != nil {
			out[i].Fix = &Fix{Label: out[i].Fix.Label}
		}
	}
	return out
}

// A checked song is not checked again while nothing it depends on changes.
func TestCheckerKeepsSongs(t *testing.T) {
	s := stage(t, cue("a", "j1", 10*sec), cue("b", "j1", 10*sec))
	compiler, checker := timeline.NewCompiler(), NewChecker()
	checker.Check(compiler.Compile(s, nil), Facts{})
	before := checker.songs
	s, err := s.Edit(cue("b", "j1", 20*sec))
	require.NoError(t, err)
	p := compiler.Compile(s, nil)
	checker.Check(p, Facts{})
	require.Same(t, before[p.Songs[0].SongPlan], checker.songs[p.Songs[0].SongPlan], "song A was not touched")
	require.Nil(t, before[p.Songs[1].SongPlan])
	require.Len(t, checker.songs, 2, "the old plan of song B is forgotten")
}

// Rules, the fixed order of findings, and that nothing depends on maps.
func TestFindingsAreInOrder(t *testing.T) {
	s := bigShow(t, 4, 300, 3)
	first := Check(timeline.Compile(s, nil), Facts{})
	require.NotEmpty(t, first)
	require.True(t, slices.IsSortedFunc(first, func(a, b Finding) int { return compareFindings(&a, &b) }))
	for range 5 {
		require.Equal(t, plain(first), plain(Check(timeline.Compile(s, nil), Facts{})))
	}
}

// The table of rules: permanent plain names, and words and a source for all.
func TestRules(t *testing.T) {
	names := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	seen := map[string]bool{}
	for _, r := range Rules() {
		require.Regexp(t, names, r.Name)
		require.False(t, seen[r.Name], r.Name)
		seen[r.Name] = true
		require.NotEmpty(t, r.Summary, r.Name)
		require.NotEmpty(t, r.Reason, r.Name)
		require.Contains(t, []Severity{Error, Warning, Note}, r.Severity)
		require.Contains(t, []Scope{InSong, Neighbours, WholeSet}, r.Scope)
		require.NotContains(t, strings.ToLower(r.Summary+r.Reason), " safe")
		for _, s := range r.Settings {
			require.NotEmpty(t, s.Help, "%s %s", r.Name, s.Name)
			require.NotEmpty(t, s.Mark, "%s %s", r.Name, s.Name)
			require.NotEmpty(t, s.Source, "%s %s", r.Name, s.Name)
			require.True(t, s.Field != "" || s.Default != "", "%s %s", r.Name, s.Name)
			requireField(t, s.Field)
		}
		found, ok := Lookup(r.Name)
		require.True(t, ok)
		require.Equal(t, r.Name, found.Name)
	}
	_, ok := Lookup("spacing-of-stars")
	require.False(t, ok)
}

// requireField checks that where a setting stands is a field that exists.
func requireField(t *testing.T, places string) {
	t.Helper()
	if places == "" {
		return
	}
	for _, place := range strings.Split(places, ", or ") {
		kind, field, _ := strings.Cut(place, " ")
		require.NotNil(t, timeline.KindOf(kind), place)
		require.NotNil(t, timeline.KindOf(kind).Field(field), place)
	}
}

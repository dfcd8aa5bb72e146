package rule

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// Common practice, no source: a single-use output is commanded once per show, unless the
// songs are declared alternatives.
func TestSingleUse(t *testing.T) {
	entries := func(text string) timeline.Edit { return field("set", "main", "entries", text) }
	both := edits(cue("a", "c1", 10*sec), cue("b", "c1", 10*sec))
	sameOutput := field("wire", "w-c2", "output", "1")
	runCases(t, "single-use", []ruleCase{
		{"once", edits(cue("a", "c1", 10*sec)), nil},
		{"two units", edits(cue("a", "c1", 10*sec), cue("a", "c2", 10*sec)), nil},
		{"twice in a song", edits(cue("a", "c1", 10*sec), cue("a", "c1", 50*sec)), []string{"cue:a/a-c1-50000: c1: comet is used up earlier in this song at 01:00:10:00"}},
		{"in two songs", both, []string{"cue:b/b-c1-10000: used up in song 1 \"Song A\" at 01:00:10:00"}},
		{"in two songs the other way round", append(both, entries("b;a")), []string{"cue:a/a-c1-10000: used up in song 1 \"Song B\" at 02:00:10:00"}},
		{"in alternatives", append(both, entries("a alt=x;b alt=x")), nil},
		{"in songs of different choices", append(both, entries("a alt=x;b alt=y")), []string{"cue:b/b-c1-10000"}},
		{"twice in an alternative", edits(cue("a", "c1", 10*sec), cue("a", "c1", 50*sec), entries("a alt=x;b alt=x")), []string{"cue:a/a-c1-50000"}},
		{"in a song left out", append(both, entries("a;b out")), nil},
		{"a song played twice", edits(cue("a", "c1", 10*sec), entries("a;a")), []string{"cue:a/a-c1-10000"}},
		{"a refillable one", edits(cue("a", "j1", 10*sec), cue("b", "j1", 10*sec)), nil},
		{"two units on one igniter output, apart", edits(sameOutput, cue("a", "c1", 10*sec), cue("a", "c2", 20*sec)), []string{"cue:a/a-c2-20000: by c1 on the same output"}},
		{"two units on one igniter output, in one pulse", edits(sameOutput, cue("a", "c1", 10*sec), cue("a", "c2", 10*sec)), nil},
		{"on one relay output", edits(field("wire", "w-c1", "unit", "rb"), field("wire", "w-c2", "unit", "rb"), sameOutput, cue("a", "c1", 10*sec), cue("a", "c2", 20*sec)), []string{"cue:a/a-c2-20000: by c1 on the same output"}},
		{"on an output that is dead", edits(sameOutput, field("bank", "ib", "dead", "true"), cue("a", "c1", 10*sec), cue("a", "c2", 20*sec)), nil},
	})
	require.Empty(t, fixed(t, "single-use", stage(t, both...), ""))
}

// slowSingleUse tries every choice of alternatives and every pair of uses.
func slowSingleUse(p *timeline.Plan) []string {
	found := map[string]bool{}
	for _, order := range choices(p) {
		for n, j := range order {
			for k := range p.Songs[j].Commands {
				c := &p.Songs[j].Commands[k]
				for _, i := range order[:n+1] {
					earlier := p.Songs[i].Commands
					if i == j {
						earlier = earlier[:k]
					}
					for m := range earlier {
						if earlier[m].Article.SingleUse && c.Article.SingleUse && earlier[m].Unit == c.Unit {
							found[fmt.Sprintf("%s in %d", c.Cue.ID, p.Songs[j].Number)] = true
						}
					}
				}
			}
		}
	}
	return sortedKeys(found)
}

func sortedKeys(set map[string]bool) []string {
	list := make([]string, 0, len(set))
	for k := range set {
		list = append(list, k)
	}
	slices.Sort(list)
	return list
}

func TestSingleUseEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s, err := anySet(rt, t).Edit(field("article", "jet", "single-use", "true"))
		require.NoError(rt, err)
		p := timeline.Compile(s, nil)
		found := map[string]bool{}
		for _, f := range ofRule("single-use", Check(p, Facts{})) {
			found[fmt.Sprintf("%s in %d", f.Ref.ID, f.Number)] = true
		}
		require.Equal(rt, slowSingleUse(p), sortedKeys(found))
	})
}

func TestSharedOutput(t *testing.T) {
	shared := field("wire", "w-j2", "output", "1")
	apart := put(&timeline.Setting{Base: base{ID: "shared-output"}, Values: []string{"apart=0.1"}})
	runCases(t, "shared-output", []ruleCase{
		{"outputs of their own", edits(cue("a", "j1", 10*sec), cue("a", "j2", 11*sec)), nil},
		{"overlapping", edits(shared, cue("a", "j1", 10*sec), cue("a", "j2", ms(11499))), []string{"cue:a/a-j2-11499: j2: shares an output with j1: 1 ms after"}},
		{"one after the other", edits(shared, cue("a", "j1", 10*sec), cue("a", "j2", ms(11500))), nil},
		{"together by one cue", edits(shared, cue("a", "jets", 10*sec)), nil},
		{"together for different times", edits(shared, cue("a", "j1", 10*sec), cue("a", "j2", 10*sec, sec)), []string{"cue:a/a-j2-10000"}},
		{"two heads of a device", edits(field("wire", "w-f2", "output", "1"), cue("a", "f1", 10*sec), cue("a", "f2", ms(10500))), []string{"cue:a/a-f2-10500"}},
		{"on a dead bank", edits(shared, field("bank", "rb", "dead", "true"), cue("a", "j1", 10*sec), cue("a", "j2", 11*sec)), nil},
		{"a margin that is kept", edits(shared, apart, cue("a", "j1", 10*sec), cue("a", "j2", ms(11600))), nil},
		{"a margin that is not", edits(shared, apart, cue("a", "j1", 10*sec), cue("a", "j2", ms(11599))), []string{"cue:a/a-j2-11599: closes 99 ms before"}},
	})
}

func TestUnwired(t *testing.T) {
	runCases(t, "unwired", []ruleCase{
		{"wired", edits(cue("a", "j1", 10*sec)), nil},
		{"no wire", edits(remove("wire", "w-j1"), cue("a", "j1", 10*sec), cue("b", "j1", 10*sec)), []string{"placed:j1: nothing is wired: 2 commands"}},
		{"no wire and no cue", edits(remove("wire", "w-j1")), nil},
		{"its bank is dead", edits(field("bank", "rb", "dead", "true"), cue("a", "j1", 10*sec)), []string{"placed:j1: relay bank output 1 is dead"}},
		{"one of two banks is dead", edits(field("bank", "rb", "dead", "true"), put(&timeline.Bank{Base: base{ID: "rb2"}, Type: "relay"}, &timeline.Wire{Base: base{ID: "w2"}, Placed: "j1", Driver: "rb2", Output: 1}), cue("a", "j1", 10*sec)), nil},
	})
	runCases(t, "no-output", []ruleCase{
		{"the last output", edits(field("wire", "w-j1", "output", "8")), nil},
		{"one past it", edits(field("wire", "w-j1", "output", "9")), []string{"wire:w-j1: output 9 of relay bank, which has 8 outputs"}},
		{"the last head", edits(field("wire", "w-f1", "output", "2")), nil},
		{"a head past it", edits(field("wire", "w-f1", "output", "3")), []string{"wire:w-f1: head 3 of bar 1, which has 2 heads"}},
	})
}

func TestArticles(t *testing.T) {
	lane := func(article timeline.ID) timeline.Edit {
		return func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "lane", Song: "a", ID: "j1"}, "article", timeline.Value{Text: string(article)})
		}
	}
	runCases(t, "wrong-article", []ruleCase{
		{"what stands there", edits(lane("jet"), cue("a", "j1", 10*sec)), nil},
		{"something else", edits(lane("bang"), cue("a", "j1", 10*sec)), []string{"placed:j1: 1 command of the set ask for bang, and jet stands there"}},
		{"something else without cues", edits(lane("bang")), nil},
	})
	runCases(t, "wrong-control", []ruleCase{
		{"a valve on a relay", edits(cue("a", "j1", 10*sec)), nil},
		{"a valve on an igniter output", edits(field("wire", "w-j1", "unit", "ib"), cue("a", "j1", 10*sec)), []string{"wire:w-j1: jet needs a relay output and is wired to igniter bank output 1, which is an igniter output"}},
		{"a valve on slots", edits(field("wire", "w-j1", "unit", "bar1"), cue("a", "j1", 10*sec)), []string{"wire:w-j1: slots of a device"}},
		{"an igniter on a relay", edits(field("wire", "w-c1", "unit", "rb"), cue("a", "c1", 10*sec)), []string{"wire:w-c1: comet needs an igniter output"}},
		{"not played", edits(field("wire", "w-c1", "unit", "rb")), nil},
	})
	require.Empty(t, fixed(t, "wrong-article", stage(t, lane("bang"), cue("a", "j1", 10*sec)), ""))
}

func TestOpenTime(t *testing.T) {
	limits := edits(field("article", "jet", "open-min", "0.2"), field("article", "jet", "open-max", "3"))
	runCases(t, "open-time", []ruleCase{
		{"the least", append(limits, cue("a", "j1", 10*sec, ms(200))), nil},
		{"less", append(limits, cue("a", "j1", 10*sec, ms(200)-timeline.EntryStep)), []string{"cue:a/a-j1-10000: less than the least jet allows, 200 ms"}},
		{"the most", append(limits, cue("a", "j1", 10*sec, 3*sec)), nil},
		{"more", append(limits, cue("a", "j1", 10*sec, 3*sec+timeline.EntryStep)), []string{"cue:a/a-j1-10000: more than the most jet allows, 3 s"}},
		{"no limits given", edits(cue("a", "j1", 10*sec, 30*sec)), nil},
		{"both units of a cue", append(limits, cue("a", "jets", 10*sec, ms(100))), []string{"cue:a/a-jets-10000: j1, j2: open for 100 ms is less"}},
		{"one of them is left out", append(limits, cue("a", "jets", 10*sec, ms(100)), showSetting("open-time", func(s *timeline.Setting) { s.Off, s.Scope = true, []string{"placed=j1"} })), []string{"cue:a/a-jets-10000: j2: open for 100 ms is less"}},
		{"they play two articles", append(limits, put(&timeline.Article{Base: base{ID: "jet2"}, Name: "short jet", Family: timeline.CO2Jet, Control: timeline.RelayControl, OpenMax: ms(50)}), field("placed", "j2", "article", "jet2"), cue("a", "jets", 10*sec, ms(100))), []string{"cue:a/a-jets-10000: j1: open for 100 ms is less than the least jet allows", "cue:a/a-jets-10000: j2: open for 100 ms is more than the most short jet allows"}},
	})
	require.Empty(t, fixed(t, "open-time", stage(t, append(limits, cue("a", "j1", 10*sec, 5*sec))...), ""))
}

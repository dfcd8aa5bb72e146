package rule

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// programmed takes back that the comets of the stage are spares.
func programmed(ids ...timeline.ID) timeline.Edit {
	return func(d *timeline.Draft) error {
		for _, id := range ids {
			if err := field("placed", id, "spare", "false")(d); err != nil {
				return err
			}
		}
		return nil
	}
}

func TestLoadedUnused(t *testing.T) {
	both := programmed("c1", "c2")
	runCases(t, "loaded-unused", []ruleCase{
		{"neither is commanded", edits(both), []string{"article:comet: c1, c2: comet is wired, and nothing in the set commands it"}},
		{"one is commanded", edits(both, cue("a", "c1", 10*sec)), []string{"article:comet: c2: comet"}},
		{"both are commanded", edits(both, cue("a", "c1", 10*sec), cue("b", "c2", 10*sec)), nil},
		{"in an alternative", edits(both, cue("a", "c1", 10*sec), cue("b", "c2", 10*sec), field("set", "main", "entries", "a alt=x;b alt=x")), nil},
		{"in a song left out", edits(both, cue("a", "c1", 10*sec), cue("b", "c2", 10*sec), field("set", "main", "entries", "a;b out")), []string{"article:comet: c2"}},
		{"spares", nil, nil},
		{"not wired", edits(both, remove("wire", "w-c1"), remove("wire", "w-c2")), nil},
		{"on a dead bank", edits(both, field("bank", "ib", "dead", "true")), nil},
		{"reusable", edits(both, field("article", "comet", "single-use", "false")), nil},
	})
	runNight(t, "loaded-unused", []nightCase{
		{"cut for the night", edits(programmed("c1"), cue("a", "c1", 10*sec), field("night", "n", "cuts", "article=comet")), []string{"article:comet: c1"}},
		{"and taken out of its rig", edits(programmed("c1"), cue("a", "c1", 10*sec), field("night", "n", "cuts", "article=comet"), field("night", "n", "rig-changes", "placed=c1 out")), nil},
	})
}

// Loaded and unused, used twice: a unit is in one of three lists, by counting
// the commands of every song.
func TestLoadedUnusedEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s, err := anySet(rt, t).Edit(field("article", "jet", "single-use", "true"), programmed("c1", "c2"),
			field("placed", "j2", "spare", fmt.Sprint(rapid.Bool().Draw(rt, "spare"))))
		require.NoError(rt, err)
		p := timeline.Compile(s, nil)
		want, got := map[string]bool{}, map[string]bool{}
		for _, placed := range s.Rig.Placed {
			n := 0
			for i := range p.Songs {
				for k := range p.Songs[i].Commands {
					if p.Songs[i].Commands[k].Unit.Placed == placed {
						n++
					}
				}
			}
			if a := s.Stock.Article(placed.Article); n == 0 && a.SingleUse && !placed.Spare {
				want[string(placed.ID)] = true
			}
		}
		for _, f := range ofRule("loaded-unused", Check(p, Facts{})) {
			for _, o := range f.Others {
				got[string(o.ID)] = true
			}
		}
		require.Equal(rt, sortedKeys(want), sortedKeys(got))
	})
}

func TestOverStock(t *testing.T) {
	stock := func(n int) timeline.Edit { return field("article", "jet", "stock", fmt.Sprint(n)) }
	runCases(t, "over-stock", []ruleCase{
		{"as many as there are", edits(stock(2)), nil},
		{"one too many", edits(stock(1)), []string{"article:jet: 2 stand in the rig, and 1 are in stock"}},
		{"with a spare", edits(stock(2), put(&timeline.Placed{Base: base{ID: "j3"}, Article: "jet", Spare: true})), []string{"article:jet: 3 stand: 1 spare among them"}},
		{"asked for where something else stands", edits(field("article", "comet", "stock", "2"), func(d *timeline.Draft) error {
			d.Put("a", &timeline.Cue{Base: base{ID: "q"}, Lane: "bang", Article: "comet", At: timeline.AtTime(sec)})
			return nil
		}), []string{"article:comet: 2 stand in the rig, and 2 are in stock: 2 spares among them; 1 more asked for elsewhere"}},
		{"no count given", edits(put(&timeline.Placed{Base: base{ID: "j3"}, Article: "jet"})), nil},
	})
	runNight(t, "over-stock", []nightCase{
		{"one is out tonight", edits(stock(1), field("night", "n", "rig-changes", "placed=j2 out")), nil},
		{"a swap takes two more", edits(stock(3), field("night", "n", "swaps", "family=propane-flame to=jet")), []string{"article:jet: 4 stand in the rig, and 3"}},
	})
}

func TestExpiry(t *testing.T) {
	on := func(date string) timeline.Edit { return field("night", "n", "date", date) }
	ends := func(date string) timeline.Edit { return field("article", "jet", "expires", date) }
	runNight(t, "expiry", []nightCase{
		{"on its last day", edits(on("2031-05-09"), ends("2031-05-09")), nil},
		{"a day later", edits(on("2031-05-10"), ends("2031-05-09")), []string{"article:jet: jet may be used until 2031-05-09, and the night is on 2031-05-10; 2 units in the rig"}},
		{"the year before", edits(on("2031-01-01"), ends("2030-12-31")), []string{"article:jet"}},
		{"the year after", edits(on("2030-12-31"), ends("2031-01-01")), nil},
		{"no date of the night", edits(ends("1999-01-01")), nil},
		{"no date of the article", edits(on("2031-05-10")), nil},
		{"not in the rig", edits(on("2031-05-10"), ends("2031-05-09"), field("night", "n", "rig-changes", "placed=j1 out;placed=j2 out")), nil},
		{"swapped for the night", edits(on("2031-05-10"), ends("2031-05-09"), field("night", "n", "swaps", "article=jet to=bang")), nil},
	})
	runCases(t, "expiry", []ruleCase{{"no night", edits(ends("1999-01-01")), nil}})
}

// Stock and dates against counting by hand, over any rig.
func TestStockAndExpiryEqualTheirSlowTwins(t *testing.T) {
	days := []string{"", "2030-12-31", "2031-01-01", "2031-01-31", "2031-02-01", "2031-10-01"}
	rapid.Check(t, func(rt *rapid.T) {
		list := edits(put(&timeline.Night{Base: base{ID: "n"}, Slug: "n", Date: rapid.SampledFrom(days).Draw(rt, "night")}))
		for _, a := range []timeline.ID{"jet", "comet", "flame"} {
			list = append(list, field("article", a, "stock", fmt.Sprint(rapid.IntRange(0, 4).Draw(rt, "stock"))), field("article", a, "expires", rapid.SampledFrom(days).Draw(rt, "expires")))
		}
		for i := range rapid.IntRange(0, 6).Draw(rt, "placed") {
			list = append(list, put(&timeline.Placed{Base: base{ID: timeline.ID(fmt.Sprint("p", i))}, Article: rapid.SampledFrom([]timeline.ID{"jet", "comet", "flame"}).Draw(rt, "article")}))
		}
		if rapid.Bool().Draw(rt, "swap") {
			list = append(list, field("night", "n", "swaps", "article=flame to=jet"))
		}
		s := stage(t, list...)
		night, placed := s.Night("n"), map[timeline.ID]int{}
		for _, p := range s.Rig.Placed {
			if p.Article == "flame" && len(night.Swaps) > 0 {
				placed["jet"]++
			} else {
				placed[p.Article]++
			}
		}
		over, old := map[string]bool{}, map[string]bool{}
		day := func(text string) (n int) {
			var y, m, d int
			fmt.Sscanf(text, "%d-%d-%d", &y, &m, &d)
			return y*400 + m*31 + d
		}
		for id, n := range placed {
			a := s.Stock.Article(id)
			over[string(id)] = a.Stock > 0 && n > a.Stock
			old[string(id)] = night.Date != "" && a.Expires != "" && day(a.Expires) < day(night.Date)
		}
		all := nightAt(s)
		for name, want := range map[string]map[string]bool{"over-stock": over, "expiry": old} {
			got := map[string]bool{}
			for _, f := range ofRule(name, all) {
				got[string(f.Ref.ID)] = true
			}
			for id, w := range want {
				require.Equal(rt, w, got[id], "%s %s", name, id)
			}
		}
	})
}

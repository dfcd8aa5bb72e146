package timeline

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// randomSite draws a show and a night: single-use, explosive and reusable
// articles, spares, cues for other articles than stand there, alternatives,
// swaps, cuts and units out of the rig.
func randomSite(t *rapid.T) (*Show, *Night) {
	articles := []ID{"a1", "a2", "a3", "a4"}
	night := &Night{Base: Base{ID: "n"}, Slug: "n", Set: "main"}
	one := func(ids []ID, name string) ID { return rapid.SampledFrom(ids).Draw(t, name) }
	s, err := NewShow("show1", "x", Rate25).Edit(func(d *Draft) error {
		for _, id := range articles {
			d.Put("", &Article{Base: Base{ID: id}, Name: string(id), Family: Comet, Control: IgniterControl, SingleUse: rapid.Bool().Draw(t, "single"),
				NEC: float64(rapid.IntRange(0, 3).Draw(t, "nec")) / 10, Division: rapid.SampledFrom([]string{"", "1.3G", "1.4G"}).Draw(t, "division"),
				Medium: rapid.SampledFrom([]string{"", "CO2", "co2", "paper"}).Draw(t, "medium"), UseEach: float64(rapid.IntRange(0, 12).Draw(t, "each")) / 10})
		}
		var placed []ID
		for i := range rapid.IntRange(0, 6).Draw(t, "placed") {
			placed = append(placed, ID(fmt.Sprint("p", i)))
			d.Put("", &Placed{Base: Base{ID: placed[i]}, Name: string(placed[i]), Article: one(append(articles, ""), "stands"), Spare: rapid.Bool().Draw(t, "spare")})
		}
		d.Put("", &Group{Base: Base{ID: "all"}, Members: placed}, &Supply{Base: Base{ID: "cyl"}, Medium: "CO2", Fill: 10, Units: 1, Usable: 1, Reserve: 0.1, Feeds: placed[:len(placed)/2]})
		set := &Set{Base: Base{ID: "main"}}
		for i := range rapid.IntRange(0, 4).Draw(t, "songs") {
			song := ID(fmt.Sprint("s", i))
			d.Put("", &SongHead{Base: Base{ID: song}, Slug: string(song), Length: Minute})
			d.Put(song, &Lane{Base: Base{ID: "l"}, Target: "all", Role: EffectSlot})
			for k := range rapid.IntRange(0, 5).Draw(t, "cues") {
				c := &Cue{Base: Base{ID: ID(fmt.Sprint("q", k))}, Lane: "l", Target: one(append(placed, "all"), "target"), At: AtTime(Time(k) * Second)}
				if rapid.Bool().Draw(t, "own") {
					c.Article = one(articles, "asked")
				}
				d.Put(song, c)
			}
			set.Entries = append(set.Entries, Entry{Song: song, Alt: rapid.SampledFrom([]string{"", "", "x", "y"}).Draw(t, "alt"), Out: rapid.IntRange(0, 4).Draw(t, "out") == 0})
		}
		if len(placed) > 0 {
			night.Rig = []RigChange{{Kind: "placed", ID: one(placed, "gone"), Out: true}}
		}
		d.Put("", set)
		return nil
	})
	require.NoError(t, err)
	night.Swaps = []Swap{{Selector: Selector{"article", string(one(articles, "swap"))}, To: one(articles, "to")}}
	if rapid.Bool().Draw(t, "cut") {
		night.Cuts = []Cut{{Selector: Selector{"article", string(one(articles, "cut"))}}}
	}
	return s, night
}

// On site is every pair of a placed effect that is not out tonight with what
// stands there after the swaps, and with what any command asks of it.
func TestOnSiteEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s, night := randomSite(rt)
		p := Compile(s, night)
		commands, all, first := map[string]int{}, 0, map[string]bool{}
		used := map[string]bool{}
		on := map[string]bool{}
		for _, u := range p.Units.All {
			if !u.Out && u.Article != nil {
				on[string(u.Placed.ID)+" "+string(u.Article.ID)] = true
			}
		}
		for i := range p.Songs {
			for k := range p.Songs[i].Commands {
				c := &p.Songs[i].Commands[k]
				key := string(c.Unit.Placed.ID) + " " + string(c.Article.ID)
				on[key], used[key], all = true, true, all+1
				commands[string(c.Article.ID)]++
				first[key] = true
			}
		}
		got := p.OnSite()
		require.Equal(rt, all, got.Commands)
		loads := map[string]bool{}
		pieces, spares, unused := 0, 0, 0
		nec, division := map[string]int{}, map[string]int{} // in tenths of a gram, by article and division
		for _, l := range got.Loads {
			if l.Article == nil {
				continue
			}
			key := string(l.Unit.Placed.ID) + " " + string(l.Article.ID)
			require.False(rt, loads[key], "twice: %s", key)
			loads[key] = true
			require.Equal(rt, first[key], l.First != nil, key)
		}
		require.Equal(rt, slices.Sorted(maps.Keys(on)), slices.Sorted(maps.Keys(loads)))
		for key := range on {
			var placed, id string
			fmt.Sscan(key, &placed, &id)
			a := s.Stock.Article(ID(id))
			if !a.SingleUse && a.NEC == 0 {
				continue
			}
			pieces++
			nec[id] += int(a.NEC*10 + 0.5)
			division[a.Division] += int(a.NEC*10 + 0.5)
			switch {
			case s.Rig.PlacedEffect(ID(placed)).Spare:
				spares++
			case !used[key]:
				unused++
			}
		}
		require.Equal(rt, []int{pieces, spares, unused}, []int{got.Pieces, got.Spares, got.Unused})
		sum := 0
		for _, a := range got.Articles {
			require.Equal(rt, commands[string(a.Article.ID)], a.Commands)
			require.Equal(rt, float64(nec[string(a.Article.ID)])/10, a.NEC)
			sum += a.Pieces
		}
		require.Equal(rt, pieces, sum)
		total := 0
		for _, d := range got.Divisions {
			require.Equal(rt, float64(division[d.Division])/10, d.NEC)
			total += division[d.Division]
		}
		require.Equal(rt, float64(total)/10, got.NEC)
		require.Equal(rt, got, p.OnSite(), "twice the same")
	})
}

// Used is the most that any choice among the alternatives draws, over all
// choices tried one by one; no level is above that of a choice that plays it.
func TestConsumptionEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s, night := randomSite(rt)
		p := Compile(s, night)
		worst, paper := 0, 0
		lowest := map[*Command]int{}
		for _, night := range everyChoice(p) {
			sum, paperSum := 0, 0
			for _, i := range night {
				for k := range p.Songs[i].Commands {
					c := &p.Songs[i].Commands[k]
					each := int(c.Article.UseEach*10 + 0.5)
					if c.Article.Medium == "paper" {
						paperSum += each
					}
					if slices.Contains(s.Rig.Supply("cyl").Feeds, c.Unit.Placed.ID) && c.Article.Medium != "paper" {
						sum += each
						lowest[c] = max(lowest[c], sum)
					}
				}
			}
			worst, paper = max(worst, sum), max(paper, paperSum)
		}
		got := p.Supplies()[0]
		require.InDelta(rt, float64(worst)/10, got.Used, 1e-9)
		require.Len(rt, got.Levels, len(lowest))
		for _, l := range got.Levels {
			require.InDelta(rt, 10-float64(lowest[l.Command])/10, l.LeftKg, 1e-9)
		}
		for _, m := range p.Media() {
			if m.Medium == "paper" {
				require.InDelta(rt, float64(paper)/10, m.Kg, 1e-9)
				require.Zero(rt, m.Fed)
			}
		}
	})
}

// everyChoice lists the songs of every night that a running order with
// alternatives can become.
func everyChoice(p *Plan) [][]int {
	nights := [][]int{{}}
	for _, alt := range slices.Sorted(maps.Keys(groupsOf(p))) {
		members := groupsOf(p)[alt]
		if alt == "" {
			for i := range nights {
				nights[i] = append(nights[i], members...)
			}
			continue
		}
		var more [][]int
		for _, n := range nights {
			for _, m := range members {
				more = append(more, append(slices.Clone(n), m))
			}
		}
		nights = more
	}
	for _, n := range nights {
		slices.Sort(n)
	}
	return nights
}

func groupsOf(p *Plan) map[string][]int {
	groups := map[string][]int{}
	for i := range p.Songs {
		groups[p.Songs[i].Entry.Alt] = append(groups[p.Songs[i].Entry.Alt], i)
	}
	return groups
}

// Common practice, no source: alternatives relax single use only; loads and NEC
// count all that is physically on site, spares and what nothing commands included.
func TestOnSiteCountsAlternatives(t *testing.T) {
	s, err := NewShow("show1", "x", Rate25).Edit(func(d *Draft) error {
		d.Put("", &Article{Base: Base{ID: "mine"}, Family: Mine, Control: IgniterControl, SingleUse: true, NEC: 24, Division: "1.4G"},
			&Group{Base: Base{ID: "two"}, Members: []ID{"m1", "m2"}},
			&Set{Base: Base{ID: "main"}, Entries: []Entry{{Song: "a", Alt: "x"}, {Song: "b", Alt: "x"}}})
		for i := range 4 {
			d.Put("", &Placed{Base: Base{ID: ID(fmt.Sprint("m", i+1))}, Article: "mine", Spare: i == 3})
		}
		for _, song := range []ID{"a", "b"} {
			d.Put("", &SongHead{Base: Base{ID: song}, Slug: string(song), Length: Minute})
			d.Put(song, &Lane{Base: Base{ID: "l"}, Target: "two", Role: EffectSlot}, &Cue{Base: Base{ID: "q"}, Lane: "l", At: AtTime(Second)})
		}
		return nil
	})
	require.NoError(t, err)
	p := Compile(s, nil)
	got := p.OnSite()
	require.Equal(t, []DivisionNEC{{"1.4G", 4, 96}}, got.Divisions, "two commanded by both alternatives, one by none, one spare")
	require.Equal(t, []int{4, 4, 1, 1}, []int{got.Commands, got.Pieces, got.Spares, got.Unused})
	part := p.OnSiteFor(func(song *PlanSong, _ *Command) bool { return song.Song.ID == "a" })
	require.Equal(t, []int{2, 2, 0, 0}, []int{part.Commands, part.Pieces, part.Spares, part.Unused})
}

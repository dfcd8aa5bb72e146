package sheet

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// randomShow draws a show of pyrotechnics and reusable effects: wired once,
// twice, on a dead bank or not at all, and cues on groups.
func randomShow(t *rapid.T, s *timeline.Show) *timeline.Show {
	out, err := s.Edit(func(d *timeline.Draft) error {
		articles, units := []string{"jet"}, []timeline.ID{}
		for i := range rapid.IntRange(1, 4).Draw(t, "articles") {
			id := timeline.ID(fmt.Sprintf("a%d", i))
			articles = append(articles, string(id))
			d.Put("", &timeline.Article{Base: base{ID: id}, Name: string(id), Family: timeline.Comet, HitPoint: timeline.FirstLight, Control: timeline.IgniterControl,
				SingleUse: rapid.Bool().Draw(t, "single"), NEC: float64(rapid.IntRange(0, 5000).Draw(t, "nec")) / 10,
				Division: rapid.SampledFrom([]string{"", "1.4G", "1.4S", "1.3G"}).Draw(t, "division")})
		}
		article := func() timeline.ID { return timeline.ID(rapid.SampledFrom(articles).Draw(t, "article")) }
		wires := 0
		for i := range rapid.IntRange(1, 12).Draw(t, "placed") {
			id := timeline.ID(fmt.Sprintf("p%d", i))
			units = append(units, id)
			pos := rapid.SampledFrom([]timeline.ID{"", "left"}).Draw(t, "position")
			d.Put("", &timeline.Placed{Base: base{ID: id}, Name: string(id), Article: article(), Position: pos, Spare: rapid.Bool().Draw(t, "spare")})
			for range rapid.IntRange(0, 2).Draw(t, "wires") {
				wires++
				d.Put("", &timeline.Wire{Base: base{ID: timeline.ID(fmt.Sprintf("x%d", wires))}, Placed: id,
					Unit: rapid.SampledFrom([]timeline.ID{"b1", "b2"}).Draw(t, "bank"), Output: rapid.IntRange(1, 8).Draw(t, "output")})
			}
		}
		d.Put("", &timeline.Group{Base: base{ID: "all"}, Name: "all", Members: units})
		targets := append([]timeline.ID{"all"}, units...)
		for _, song := range []timeline.ID{"ember", "tide"} {
			for i := range rapid.IntRange(0, 10).Draw(t, "cues") {
				c := &timeline.Cue{Base: base{ID: timeline.ID(fmt.Sprintf("z%d", i))}, Lane: "ljet", Target: rapid.SampledFrom(targets).Draw(t, "target"),
					At: timeline.AtTime(timeline.Time(rapid.IntRange(0, 28).Draw(t, "at")) * timeline.Second)}
				if rapid.Bool().Draw(t, "own") {
					c.Article = article()
				}
				d.Put(song, c)
			}
		}
		return nil
	})
	require.NoError(t, err)
	return out
}

// Commands, pieces and NEC are the same on the cue list, counted line by line
// with what stands in the rig, and on the load plan, by output, by position and
// in its totals.
func TestTotalsAgreeAcrossSheets(t *testing.T) {
	plain := charged(t)
	rapid.Check(t, func(t *rapid.T) {
		s := randomShow(t, plain)
		f := Filter{Song: rapid.SampledFrom([]timeline.ID{"", "ember", "tide"}).Draw(t, "song")}
		p := timeline.Compile(s, nil)
		list, err := NewCueList(p, f)
		require.NoError(t, err)
		type piece struct{ placed, article string }
		commands, pieces, nec, on := 0, 0, 0.0, map[piece]bool{}
		count := func(placed, article string) {
			if a := s.Stock.Article(timeline.ID(article)); !on[piece{placed, article}] && (a.SingleUse || a.NEC > 0) {
				pieces++
				nec += a.NEC
				on[piece{placed, article}] = true
			}
		}
		for _, line := range list.Lines {
			if line.Action == "hit" {
				commands++
				count(line.Placed, line.Article)
			}
		}
		if f.Song == "" { // the whole plan: what stands there and is not commanded as well
			for _, e := range s.Rig.Placed {
				count(string(e.ID), string(e.Article))
			}
		}
		same := func(where string, got Totals) {
			require.Equal(t, commands, got.Commands, where)
			require.Equal(t, pieces, got.Pieces, where)
			require.Less(t, math.Abs(nec-got.NEC), 1e-6, where)
			n, g := 0, 0.0
			for _, d := range got.Divisions {
				n, g = n+d.Pieces, g+d.NEC
			}
			require.Equal(t, pieces, n, where)
			require.Less(t, math.Abs(nec-g), 1e-6, where)
		}
		same("cue list", list.Used)
		load, err := NewLoadPlan(p, f)
		require.NoError(t, err)
		same("load plan", load.Used)
		same("outputs", sumOf(load.Groups, func(g LoadGroup) (Totals, []LoadLine) { return g.Used, g.Lines }, t))
		run, err := NewRunningSheet(p, f)
		require.NoError(t, err)
		same("running sheet", run.Used)
		hits := 0
		for _, g := range run.Songs {
			for _, r := range g.Sections {
				hits += r.Commands
			}
		}
		require.Equal(t, commands, hits, "sections")
		same("positions", sumOf(load.Positions, func(g LoadPosition) (Totals, []LoadLine) { return g.Used, g.Lines }, t))
	})
}

// sumOf adds up groups, each of which has to be the sum of its lines.
func sumOf[T any](groups []T, of func(T) (Totals, []LoadLine), t *rapid.T) (all Totals) {
	for _, g := range groups {
		used, lines := of(g)
		var own Totals
		for _, l := range lines {
			own.Commands, own.Pieces, own.NEC = own.Commands+l.Commands, own.Pieces+l.Pieces, own.NEC+l.NEC
		}
		require.Equal(t, own.Commands, used.Commands)
		require.Equal(t, own.Pieces, used.Pieces)
		require.InDelta(t, own.NEC, used.NEC, 1e-6)
		all.Commands, all.Pieces, all.NEC = all.Commands+used.Commands, all.Pieces+used.Pieces, all.NEC+used.NEC
		all.Divisions = append(all.Divisions, used.Divisions...)
	}
	return all
}

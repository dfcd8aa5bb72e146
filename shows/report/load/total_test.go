package load

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// Commands, pieces and NEC are the same on the cue list, counted line by line
// with what stands in the rig, and on the load plan, by output, by position and
// in its totals.
func TestTotalsAgreeAcrossSheets(t *testing.T) {
	plain := testshow.Charged(t)
	rapid.Check(t, func(t *rapid.T) {
		s := testshow.Random(t, plain)
		f := report.Filter{Song: rapid.SampledFrom([]timeline.ID{"", "ember", "tide"}).Draw(t, "song")}
		p := timeline.Compile(s, nil)
		list, err := report.NewCueList(p, f)
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
			for i := range p.Keys { // and what keys are meant for
				for _, u := range p.Keys[i].Uses {
					count(string(u.Unit.Placed.ID), string(u.Article.ID))
				}
			}
		}
		same := func(where string, got report.Totals) {
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
		load, err := NewPlan(p, f)
		require.NoError(t, err)
		same("load plan", load.Used)
		same("outputs", sumOf(load.Groups, func(g Group) (report.Totals, []Line) { return g.Used, g.Lines }, t))
		run, err := report.NewRunningSheet(p, f)
		require.NoError(t, err)
		same("running sheet", run.Used)
		hits := 0
		for _, g := range run.Songs {
			for _, r := range g.Sections {
				hits += r.Commands
			}
		}
		require.Equal(t, commands, hits, "sections")
		same("positions", sumOf(load.Positions, func(g Position) (report.Totals, []Line) { return g.Used, g.Lines }, t))
	})
}

// sumOf adds up groups, each of which has to be the sum of its lines.
func sumOf[T any](groups []T, of func(T) (report.Totals, []Line), t *rapid.T) (all report.Totals) {
	for _, g := range groups {
		used, lines := of(g)
		var own report.Totals
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

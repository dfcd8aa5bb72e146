package permit

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool"
	"emberbeat/timeline/units"
)

// row writes all that a printed row says but its place, its effects and which line
// or mark is nearest.
func rowOf(d *Distance, r *DistanceRow) string {
	figure := func(x *float64) string {
		if x == nil {
			return "?"
		}
		return fmt.Sprint(*x)
	}
	return fmt.Sprint(d.To, "|", d.Article, "|", d.Aim, "|", r.By, "|", r.From, "|", figure(r.Required), "|", figure(r.Planned), "|", r.Mark, "|", r.State(units.Metres), "|", r.Governs)
}

// Folding loses no row and adds none: of random stages, with effects in rows of
// places that mirror each other, each row stands for as many as there were like it,
// and their sum is the number of rows before.
func TestFoldedRowsAreAllRows(t *testing.T) {
	folded := 0
	rapid.Check(t, func(rt *rapid.T) {
		s, err := testshow.Random(rt, testshow.Staged(t)).Edit(func(d *timeline.Draft) error {
			for i, u := range d.Show().Rig.Placed {
				if rapid.Bool().Draw(rt, "elsewhere") {
					continue
				}
				id := timeline.ID(fmt.Sprintf("pos%d", i))
				d.Put("", &timeline.StagePosition{Base: timeline.Base{ID: id}, Name: fmt.Sprintf("place %d", i), X: rapid.SampledFrom([]float64{-4, 4}).Draw(rt, "x"), Y: rapid.SampledFrom([]float64{0, 2}).Draw(rt, "y")})
				c := *u
				c.Position, c.Tilt = id, rapid.SampledFrom([]float64{0, 0, -40}).Draw(rt, "tilt")
				d.Put("", &c)
			}
			return nil
		})
		require.NoError(rt, err)
		k := packOf(rt, timeline.Compile(s, s.Night("n1")))
		nearest, said := map[string]bool{}, map[string]bool{}
		before, after, effects := map[string]int{}, map[string]int{}, []string{}
		rows := 0
		for i := range k.Distances {
			d := &k.Distances[i]
			for n := range d.Rows {
				before[rowOf(d, &d.Rows[n])]++
				nearest[rowOf(d, &d.Rows[n])+d.Rows[n].Nearest] = true
				rows++
			}
			for _, e := range d.Effects {
				effects = append(effects, d.To+e)
			}
		}
		sum := 0
		for _, f := range FoldDistances(k.Distances) {
			for n := range f.Distance.Rows {
				after[rowOf(f.Distance, &f.Distance.Rows[n])] += f.Places.Rows
				sum += f.Places.Rows
				for _, line := range f.Nearest[n] {
					said[rowOf(f.Distance, &f.Distance.Rows[n])+line] = true
				}
			}
			require.LessOrEqual(rt, len(f.Names), f.Places.Rows)
			if f.Places.Rows > 1 {
				folded++
			}
			for _, e := range f.All {
				at := slices.Index(effects, f.To+e)
				require.GreaterOrEqual(rt, at, 0, e)
				effects = slices.Delete(effects, at, at+1)
			}
		}
		require.Equal(rt, rows, sum)
		require.Equal(rt, before, after)
		require.Equal(rt, nearest, said, "each line or mark that is nearest is named")
		require.Empty(rt, effects, "each effect stands in one row of each kind of people")
		sum = 0
		for _, f := range FoldFindings(k.Findings) {
			sum += f.Findings
			for _, who := range f.Who {
				require.True(rt, slices.ContainsFunc(k.Findings, func(x PermitFinding) bool { return x.Text == who+": "+f.What }), f.Said())
			}
		}
		require.Equal(rt, len(k.Findings), sum)
		sum = 0
		for _, h := range FoldHeights(k.Heights) {
			sum += h.Rows
		}
		require.Equal(rt, len(k.Heights), sum)
	})
	require.Positive(t, folded, "some are alike")
}

func TestNumbersOfPlaces(t *testing.T) {
	for _, c := range []struct {
		nos  []int
		want string
	}{{[]int{3}, "3"}, {[]int{4, 3}, "3, 4"}, {[]int{6, 1, 4, 5, 3}, "1, 3–6"}, {[]int{1, 2, 3, 9, 10}, "1–3, 9, 10"}} {
		require.Equal(t, c.want, (&Places{Nos: c.nos}).Numbers())
	}
}

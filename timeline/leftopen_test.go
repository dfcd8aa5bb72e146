package timeline

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What is left open, part by part, against looking at every tenth of a second.
func TestLeftOpenEqualsItsSlowTwin(t *testing.T) {
	const step = Second / 10
	rapid.Check(t, func(rt *rapid.T) {
		tenths := func(max int, name string) Time { return Time(rapid.IntRange(1, max).Draw(rt, name)) * step }
		s, err := barShow(rt)
		require.NoError(rt, err)
		s, err = s.Edit(func(d *Draft) error {
			d.Put("", &Device{Base: Base{ID: "v"}, Name: "bar 1", Type: "bar", Slots: []SlotChange{{Block: 1, Number: 3, Role: ConditionSlot}}},
				&Article{Base: Base{ID: "mine"}, Control: IgniterControl, Open: 5 * Second}, &Placed{Base: Base{ID: "m"}, Article: "mine"})
			d.Put("a", &Lane{Base: Base{ID: "hit"}, Target: "f", Role: EffectSlot}, &Lane{Base: Base{ID: "mine"}, Target: "m", Role: EffectSlot}, &Lane{Base: Base{ID: "arm"}, Target: "f", Role: ArmSlot})
			for i := range rapid.IntRange(0, 3).Draw(rt, "sections") {
				d.Put("a", &Section{Base: Base{ID: ID(fmt.Sprint("s", i))}, At: AtTime(tenths(90, "at"))})
			}
			for i := range rapid.IntRange(0, 5).Draw(rt, "cues") {
				c := &Cue{Base: Base{ID: ID(fmt.Sprint("q", i))}, Lane: rapid.SampledFrom([]ID{"hit", "mine", "arm", "fan"}).Draw(rt, "lane"), At: AtTime(tenths(100, "hit"))}
				if c.Lane == "hit" || rapid.Bool().Draw(rt, "closes") {
					c.Open = tenths(40, "open")
				}
				d.Put("a", c)
			}
			return nil
		})
		require.NoError(rt, err)
		p := Compile(s, nil).Songs[0].SongPlan
		least := tenths(20, "least")
		var starts []Time
		for _, x := range p.Song.Sections {
			starts = append(starts, x.At.Time)
		}
		slices.Sort(starts)
		partOf := func(at Time) int { n, _ := slices.BinarySearch(starts, at+1); return n }
		want := map[string]bool{}
		for at := -p.PreRoll; at < 2*Minute; at += step / 2 {
			at := at + step/4 // between the tenths on which everything begins and ends
			for i := range p.Commands {
				if c := &p.Commands[i]; c.Article.Control != IgniterControl && c.Open >= least && c.At <= at && at < c.End() {
					want[fmt.Sprint(partOf(at), c.Cue.ID)] = true
				}
			}
			for i := range p.Windows {
				if w := &p.Windows[i]; w.Up <= at && (!w.Closes() || at < w.Down) {
					want[fmt.Sprint(partOf(at), w.Cue.ID)] = true
				}
			}
		}
		got := map[string]bool{}
		for _, x := range p.LeftOpen(least) {
			part := 0
			if x.Section != nil {
				part = partOf(x.From)
			}
			for _, o := range x.Open {
				cue := ID("")
				if o.Command != nil {
					cue = o.Command.Cue.ID
				} else {
					cue = o.Window.Cue.ID
				}
				got[fmt.Sprint(part, cue)] = true
			}
		}
		require.Equal(rt, want, got)
	})
}

package testshow

import (
	"fmt"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// Random draws a show of pyrotechnics and reusable effects: wired once, twice,
// on a dead bank, with others on one output or not at all, cues on groups, and keys
// of the operator's plan, some for what no cue plays.
func Random(t *rapid.T, s *timeline.Show) *timeline.Show {
	out, err := s.Edit(func(d *timeline.Draft) error {
		articles, units := []string{"jet"}, []timeline.ID{}
		for i := range rapid.IntRange(1, 4).Draw(t, "articles") {
			id := timeline.ID(fmt.Sprintf("a%d", i))
			articles = append(articles, string(id))
			d.Put("", &timeline.Article{Base: timeline.Base{ID: id}, Name: string(id), Family: timeline.Comet, HitPoint: timeline.FirstLight, Control: timeline.IgniterControl,
				SingleUse: rapid.Bool().Draw(t, "single"), NEC: float64(rapid.IntRange(0, 5000).Draw(t, "nec")) / 10,
				Division: rapid.SampledFrom([]string{"", "1.4G", "1.4S", "1.3G"}).Draw(t, "division")})
		}
		fire := timeline.ID("fire")
		articles = append(articles, string(fire))
		d.Put("", &timeline.Article{Base: timeline.Base{ID: fire}, Name: "fire", Family: timeline.PropaneFlame, Control: timeline.RelayControl, Medium: "propane", UseRate: 0.1,
			Open: timeline.FromMillis(rapid.SampledFrom([]int64{0, 500}).Draw(t, "fire open"))})
		article := func() timeline.ID { return timeline.ID(rapid.SampledFrom(articles).Draw(t, "article")) }
		wires := 0
		for i := range rapid.IntRange(1, 12).Draw(t, "placed") {
			id := timeline.ID(fmt.Sprintf("p%d", i))
			units = append(units, id)
			pos := rapid.SampledFrom([]timeline.ID{"", "left"}).Draw(t, "position")
			d.Put("", &timeline.Placed{Base: timeline.Base{ID: id}, Name: string(id), Article: article(), Position: pos, Spare: rapid.Bool().Draw(t, "spare")})
			for range rapid.IntRange(0, 2).Draw(t, "wires") {
				wires++
				d.Put("", &timeline.Wire{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("x%d", wires))}, Placed: id,
					Driver: rapid.SampledFrom([]timeline.ID{"b1", "b2"}).Draw(t, "bank"), Output: rapid.IntRange(1, 8).Draw(t, "output")})
			}
		}
		d.Put("", &timeline.Group{Base: timeline.Base{ID: "all"}, Name: "all", Members: units})
		targets := append([]timeline.ID{"all"}, units...)
		for _, song := range []timeline.ID{"ember", "tide"} {
			for i := range rapid.IntRange(0, 10).Draw(t, "cues") {
				c := &timeline.Cue{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("z%d", i))}, Lane: "ljet", Target: rapid.SampledFrom(targets).Draw(t, "target"),
					At: timeline.AtTime(timeline.Time(rapid.IntRange(0, 28).Draw(t, "at")) * timeline.Second)}
				if rapid.Bool().Draw(t, "own") {
					c.Article = article()
				}
				d.Put(song, c)
			}
		}
		for i := range rapid.IntRange(0, 2).Draw(t, "keys") {
			h := &timeline.HandCue{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("h%d", i))}, Key: i + 1, Presses: rapid.IntRange(1, 2).Draw(t, "presses"),
				Targets: []timeline.ID{rapid.SampledFrom(targets).Draw(t, "aim")}, Song: rapid.SampledFrom([]timeline.ID{"", "ember"}).Draw(t, "meant")}
			if rapid.Bool().Draw(t, "key's own") {
				h.Article = article()
			}
			d.Put("", h)
		}
		return nil
	})
	require.NoError(t, err)
	return out
}

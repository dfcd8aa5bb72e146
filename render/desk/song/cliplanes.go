package song

import (
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// strange gives the lanes of the clip that a song has none like, in the order of their first cues.
func (c *clip) strange(song *timeline.Song) []*timeline.Lane {
	var list []*timeline.Lane
	seen := map[timeline.ID]bool{}
	for _, q := range c.cues {
		if l := c.song.Lane(q.Lane); l != nil && !seen[q.Lane] && song.LaneLike(l) == nil {
			list = append(list, l)
		}
		seen[q.Lane] = true
	}
	return list
}

// lanesDialog asks where cues go whose lanes the song in view has none like.
type lanesDialog struct {
	at     timeline.Time
	from   []*timeline.Lane
	to     [][]*timeline.Lane // that each could go to, beside one of its own
	chosen []int              // 0 = one of its own
}

func (sp *Page) askLanes(at timeline.Time, from []*timeline.Lane) {
	d := &lanesDialog{at: at, from: from, chosen: make([]int, len(from))}
	for _, l := range from {
		var to []*timeline.Lane
		for i := range sp.work().Data.Lanes {
			if other := sp.work().Data.Lanes[i].Lane; other != nil && other.Window() == l.Window() {
				to = append(to, other)
			}
		}
		d.to = append(d.to, to)
	}
	sp.open(d)
}

func (d *lanesDialog) draw(sp *Page) bool {
	u, show := sp.h.UI(), sp.work().Show
	b := u.BeginDialog("lanes", "Onto which lanes?", 520, 110+40*len(d.from))
	f := u.Form(b.Body, 200)
	for i, l := range d.from {
		names := []string{"a new lane of its own"}
		for _, to := range d.to[i] {
			names = append(names, page.LaneName(show, to))
		}
		u.PushRow(i)
		d.chosen[i], _ = u.Dropdown("to", f.Row(page.LaneName(show, l)), names, d.chosen[i])
		u.Pop()
	}
	choice := b.Buttons(widget.Choice{Label: "Cancel"}, widget.Choice{Label: "Paste", Main: true})
	b.End()
	if choice == 1 {
		sp.clip.to = map[timeline.ID]timeline.ID{}
		for i, n := range d.chosen {
			if n > 0 {
				sp.clip.to[d.from[i].ID] = d.to[i][n-1].ID
			}
		}
		sp.pasteUnlessDouble(d.at)
	}
	return choice >= 0 || b.Closed
}

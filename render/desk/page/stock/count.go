package stock

import (
	"fmt"
	"strconv"

	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
)

func (p stock) countColumns() []table.Column {
	count := func(title string, of func(s *timeline.Show, id timeline.ID) int) table.Column {
		return table.Column{Title: title, Width: 84, Right: true, Text: func(e *table.Row) string { return strconv.Itoa(of(p.h.Show(), e.Ref.ID)) }}
	}
	name := table.Field(p.h, "article", "name", 180)
	name.Draw = table.Article(p.h)
	hand := table.Field(p.h, "article", "stock", 84)
	hand.Title = "On hand"
	hand.Text = func(e *table.Row) string {
		if n := e.Record.(*timeline.Article).Stock; n > 0 {
			return strconv.Itoa(n)
		}
		return "not given"
	}
	state := table.Column{Title: "State", Width: 0, Text: func(e *table.Row) string {
		art := e.Record.(*timeline.Article)
		if n := placedOf(p.h.Show(), art.ID); art.Stock > 0 && n > art.Stock {
			return fmt.Sprintf("%d more placed than on hand", n-art.Stock)
		}
		return ""
	}}
	state.Draw = table.State(p.h, state.Text)
	return []table.Column{name, hand, count("Placed", placedOf), count("Wired", wiredOf), count("Spare", func(s *timeline.Show, id timeline.ID) int {
		n := 0
		for _, x := range s.Rig.Placed {
			if x.Article == id && x.Spare {
				n++
			}
		}
		return n
	}), state}
}

// placedOf counts the placed effects of an article.
func placedOf(s *timeline.Show, article timeline.ID) int {
	n := 0
	for _, p := range s.Rig.Placed {
		if p.Article == article {
			n++
		}
	}
	return n
}

// wiredOf counts those of them that have a wire.
func wiredOf(s *timeline.Show, article timeline.ID) int {
	wired := map[timeline.ID]bool{}
	for _, w := range s.Rig.Wires {
		if p := s.Rig.PlacedEffect(w.Placed); p != nil && p.Article == article {
			wired[p.ID] = true
		}
	}
	return len(wired)
}

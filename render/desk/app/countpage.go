package app

import (
	"fmt"
	"strconv"

	"emberbeat/timeline"
)

func countColumns() []column {
	count := func(title string, of func(s *timeline.Show, id timeline.ID) int) column {
		return column{title: title, width: 84, right: true, text: func(a *App, e *entry) string { return strconv.Itoa(of(a.work.shown, e.ref.ID)) }}
	}
	name := fieldColumn("article", "name", 180)
	name.draw = drawArticle
	hand := fieldColumn("article", "stock", 84)
	hand.title = "On hand"
	hand.text = func(_ *App, e *entry) string {
		if n := e.rec.(*timeline.Article).Stock; n > 0 {
			return strconv.Itoa(n)
		}
		return "not given"
	}
	state := column{title: "State", width: 0, text: func(a *App, e *entry) string {
		art := e.rec.(*timeline.Article)
		if n := placedOf(a.work.shown, art.ID); art.Stock > 0 && n > art.Stock {
			return fmt.Sprintf("%d more placed than on hand", n-art.Stock)
		}
		return ""
	}}
	state.draw = drawState(state.text)
	return []column{name, hand, count("Placed", placedOf), count("Wired", wiredOf), count("Spare", func(s *timeline.Show, id timeline.ID) int {
		n := 0
		for _, p := range s.Rig.Placed {
			n += flag(p.Article == id && p.Spare)
		}
		return n
	}), state}
}

// placedOf counts the placed effects of an article.
func placedOf(s *timeline.Show, article timeline.ID) int {
	n := 0
	for _, p := range s.Rig.Placed {
		n += flag(p.Article == article)
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

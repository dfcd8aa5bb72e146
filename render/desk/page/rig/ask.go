package rig

import (
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// commands are what is done with placed effects together.
func (p rig) commands() []page.Command {
	return []page.Command{
		page.Does(operation.Find("row", ""), page.Command{ID: "rows-put", Off: p.needArticle, Run: p.askRows}),
		page.Does(operation.Find("import", ""), page.Command{ID: "drawing-take", Off: page.With(p.h, page.NeedEdit), Run: p.askDrawing}),
		page.Does(operation.Find("feed", ""), page.Command{Off: p.needFed, Run: p.askFeed}),
		page.Does(operation.Find("group", ""), page.Command{ID: "group-make", Off: p.needPlaced, Run: p.askGroup}),
		page.Does(operation.Find("regroup", ""), page.Command{ID: "group-order", Off: p.needGroup, Run: p.askOrder}),
	}
}

func (p rig) needPlaced() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	if len(page.ChosenPlaced(p.h)) == 0 {
		return "choose placed effects on the page Placed effects first"
	}
	return ""
}

// needFed says what is missing before effects can be fed from a supply.
func (p rig) needFed() string {
	if why := p.needPlaced(); why != "" {
		return why
	}
	if len(p.h.Show().Rig.Supplies) == 0 {
		return "there is no supply yet: add one on the page Supplies first"
	}
	return ""
}

func (p rig) needGroup() string {
	if why := page.NeedChosenEdit(p.h); why != "" {
		return why
	}
	if p.h.Chosen()[0].Kind != "group" {
		return "choose a group on the page Groups first"
	}
	return ""
}

// needArticle says what is missing before effects can be put up.
func (p rig) needArticle() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	if len(p.h.Show().Stock.Articles) == 0 {
		return "there is no article yet: take some from the starter stock first"
	}
	return ""
}

// askRows asks which effects are put onto the stage in rows, and what they hang on.
func (p rig) askRows() {
	none := func(list []page.Choice) []page.Choice {
		return append([]page.Choice{{Value: "", Name: "none"}}, list...)
	}
	p.h.AskFor(operation.Find("row", ""), timeline.Ref{}, page.Form{
		About: "A row says how many of what, what the positions are called, and how far apart: 12 jets, lip, 1.5 m apart. Several rows stand with ; between them.",
		Choices: map[string]func() []page.Choice{"type": func() []page.Choice {
			var list []page.Choice
			for _, t := range p.h.Show().Stock.BankTypes {
				list = append(list, page.Choice{Value: "banktype=" + string(t.ID), Name: "banks: " + p.h.Show().Called(t)})
			}
			for _, t := range p.h.Show().Stock.DeviceTypes {
				list = append(list, page.Choice{Value: "devicetype=" + string(t.ID), Name: "devices: " + p.h.Show().Called(t)})
			}
			return none(list)
		}},
	})
}

// askDrawing asks which drawing is taken over, and as what.
func (p rig) askDrawing() {
	p.h.AskFor(operation.Find("import", ""), timeline.Ref{}, page.Form{
		About: "Things of the drawing become positions, devices and effects. Without a choice those come that the drawing itself calls fog, effect or pyro.",
	})
}

// askFeed asks which supply feeds the chosen placed effects.
func (p rig) askFeed() {
	chosen := page.ChosenPlaced(p.h)
	p.h.AskFor(operation.Find("feed", ""), timeline.Ref{}, page.Form{
		Title: "Feed " + timeline.Counted(len(chosen), "placed effect"),
		Begin: func(args any) { args.(*operation.Feeding).Placed = chosen },
		Choices: map[string]func() []page.Choice{"supply": func() []page.Choice {
			var list []page.Choice
			for _, s := range p.h.Show().Rig.Supplies {
				list = append(list, page.Choice{Value: string(s.ID), Name: s.Name})
			}
			return list
		}},
		Off: map[string]func(any) string{"supply": func(args any) string {
			if args.(*operation.Feeding).Off {
				return "they are taken off every supply"
			}
			return ""
		}},
	})
}

// askGroup makes a group of the chosen placed effects.
func (p rig) askGroup() {
	ids := page.ChosenPlaced(p.h)
	p.h.AskFor(operation.Find("group", ""), timeline.Ref{}, page.Form{Title: "Group of " + timeline.Counted(len(ids), "placed effect"),
		Given: map[string]string{"order": string(timeline.OrderLeftToRight)}, Begin: func(args any) { args.(*operation.Grouping).Placed = ids }})
}

// askOrder puts the chosen group in another order.
func (p rig) askOrder() {
	id := p.h.Chosen()[0].ID
	p.h.AskFor(operation.Find("regroup", ""), timeline.Ref{}, page.Form{Title: "Order of " + p.h.Show().Rig.Group(id).Name,
		Begin: func(args any) { args.(*operation.Regrouping).Group = id }})
}

package app

import (
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

func needPlaced(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if a.inBook() == nil || len(a.chosenPlaced()) == 0 {
		return "choose placed effects on the page Placed effects first"
	}
	return ""
}

func needGroup(a *App) string {
	if why := needChosenEdit(a); why != "" {
		return why
	}
	if a.book.refs[0].Kind != "group" {
		return "choose a group on the page Groups first"
	}
	return ""
}

// askGroup makes a group of the chosen placed effects.
func (a *App) askGroup(o *operation.Operation) {
	ids := a.chosenPlaced()
	a.askOperation(o, timeline.Ref{}, formSpec{title: "Group of " + counted(len(ids), "placed effect"), given: map[string]string{"order": string(timeline.OrderLeftToRight)},
		begin: func(args any) { args.(*operation.Grouping).Placed = ids }})
}

// askOrder puts the chosen group in another order.
func (a *App) askOrder(o *operation.Operation) {
	id := a.book.refs[0].ID
	a.askOperation(o, timeline.Ref{}, formSpec{title: "Order of " + a.work.shown.Rig.Group(id).Name, begin: func(args any) { args.(*operation.Regrouping).Group = id }})
}

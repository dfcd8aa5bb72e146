package app

import (
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// needFed says what is missing before effects can be fed from a supply.
func needFed(a *App) string {
	if why := needPlaced(a); why != "" {
		return why
	}
	if len(a.work.shown.Rig.Supplies) == 0 {
		return "there is no supply yet: add one on the page Supplies first"
	}
	return ""
}

// askFeed asks which supply feeds the chosen placed effects.
func (a *App) askFeed(o *operation.Operation) {
	chosen := a.chosenPlaced()
	a.askOperation(o, timeline.Ref{}, formSpec{
		title: "Feed " + counted(len(chosen), "placed effect"),
		begin: func(args any) { args.(*operation.Feeding).Placed = chosen },
		choices: map[string]func(*App) []formValue{"supply": func(a *App) []formValue {
			var list []formValue
			for _, s := range a.work.shown.Rig.Supplies {
				list = append(list, formValue{string(s.ID), s.Name})
			}
			return list
		}},
		off: map[string]func(any) string{"supply": func(args any) string {
			if args.(*operation.Feeding).Off {
				return "they are taken off every supply"
			}
			return ""
		}},
	})
}

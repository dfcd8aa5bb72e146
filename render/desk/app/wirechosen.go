package app

import (
	"slices"

	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

func needWired(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if a.inBook() == nil || len(a.chosenWires()) == 0 {
		return "choose an output or a placed effect with a wire first"
	}
	return ""
}

// chosenPlaced gives the placed effects of the chosen rows, each once: rows of themselves, of their outputs, of their groups.
func (a *App) chosenPlaced() []timeline.ID {
	var ids []timeline.ID
	add := func(list ...timeline.ID) {
		for _, id := range list {
			if a.work.shown.Rig.PlacedEffect(id) != nil && !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	for _, e := range a.chosenRows() {
		switch rec := e.Record.(type) {
		case *timeline.Placed:
			add(rec.ID)
		case *timeline.Wire:
			add(rec.Placed)
		case *timeline.Group:
			add(rec.Members...)
		}
	}
	return ids
}

// chosenUnits gives the banks and devices of the chosen rows, each once.
func (a *App) chosenUnits() []timeline.ID {
	var ids []timeline.ID
	for _, e := range a.chosenRows() {
		id := timeline.ID("")
		switch rec := e.Record.(type) {
		case *timeline.Bank:
			id = rec.ID
		case *timeline.Device:
			id = rec.ID
		case *timeline.Wire:
			id = rec.Driver
		}
		if id != "" && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	return ids
}

// chosenWires gives the wires of the chosen outputs or placed effects.
func (a *App) chosenWires() []timeline.ID {
	var ids []timeline.ID
	for _, e := range a.chosenRows() {
		switch rec := e.Record.(type) {
		case *timeline.Wire:
			ids = append(ids, rec.ID)
		case *timeline.Placed:
			for _, w := range a.work.shown.Rig.Wires {
				if w.Placed == rec.ID {
					ids = append(ids, w.ID)
				}
			}
		}
	}
	return ids
}

// unwire takes the chosen wires away as one step.
func (a *App) unwire(o *operation.Operation) {
	a.doOperation(o, timeline.Ref{}, &operation.Unwiring{Wires: a.chosenWires()})
}

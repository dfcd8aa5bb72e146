package page

import (
	"slices"

	"emberbeat/timeline"
)

// OutputsUsed gives the outputs of a bank or device that have a wire.
func OutputsUsed(s *timeline.Show, driver timeline.ID) map[int]bool {
	used := map[int]bool{}
	for _, w := range s.Rig.Wires {
		if w.Driver == driver {
			used[w.Output] = true
		}
	}
	return used
}

// ChosenRecords gives the records of the chosen rows of the table in view, none where no table is.
func ChosenRecords(h Host) []timeline.Record {
	if t := h.Rows(); t != nil {
		return t.Records()
	}
	return nil
}

// ChosenPlaced gives the placed effects of those rows, each once: rows of themselves, of their outputs, of their groups.
func ChosenPlaced(h Host) []timeline.ID {
	var ids []timeline.ID
	add := func(list ...timeline.ID) {
		for _, id := range list {
			if h.Show().Rig.PlacedEffect(id) != nil && !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	for _, r := range ChosenRecords(h) {
		switch rec := r.(type) {
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

package page

import "emberbeat/timeline"

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

package timeline

import "slices"

// Concern is what a change of a show may be looked at on, before and after: the
// tour where both nights are nil, else a night.
type Concern struct{ Was, Is *Night }

// Concerned says whose findings a change between two shows may touch. A change
// of sets, nights, venues and rule sets concerns where they are played; one of
// the show itself or of a rule's setting concerns tour and nights alike; one of
// songs, stock and rig is looked at on the tour. A new night is compared with
// the bare set it plays, and a set that nobody plays with itself; what is gone
// is left out.
func Concerned(was, is *Show, cs Changes) []Concern {
	var list []Concern
	if slices.ContainsFunc(cs, func(c Change) bool { return concernsTour(was, is, c.Ref) }) {
		list = append(list, Concern{})
	}
	for _, n := range is.Nights {
		old := was.Night(n.ID)
		if !slices.ContainsFunc(cs, func(c Change) bool { return is.concerns(c.Ref, n) || old != nil && was.concerns(c.Ref, old) }) {
			continue
		}
		if old == nil {
			old = &Night{Set: n.Set}
		}
		list = append(list, Concern{old, n})
	}
	for _, c := range cs {
		if len(list) == 0 && c.Ref.Kind == "set" && c.After != nil {
			list = append(list, Concern{&Night{Set: c.Ref.ID}, &Night{Set: c.Ref.ID}})
		}
	}
	return list
}

func concernsTour(was, is *Show, r Ref) bool {
	switch r.Kind {
	case "night", "venue", "ruleset":
		return false
	case "set":
		return was.playsOnTour(r.ID) || is.playsOnTour(r.ID)
	}
	return true
}

func (s *Show) playsOnTour(set ID) bool {
	p := s.SetOf(nil)
	return p != nil && p.ID == set
}

// concerns reports whether a record counts on a night.
func (s *Show) concerns(r Ref, n *Night) bool {
	switch r.Kind {
	case "night":
		return n.ID == r.ID
	case "venue":
		return n.Venue == r.ID
	case "ruleset":
		v := s.Venue(n.Venue)
		return v != nil && v.RuleSet == string(r.ID)
	case "set":
		set := s.SetOf(n)
		return set != nil && set.ID == r.ID
	case "show", "setting":
		return true
	}
	return false
}

package timeline

import (
	"cmp"
	"slices"
	"strings"
)

// NightsInOrder gives the nights by date, then name of their file; those
// without a date come last.
func (s *Show) NightsInOrder() []*Night {
	return slices.SortedStableFunc(slices.Values(s.Nights), compareNights)
}

func compareNights(a, b *Night) int {
	day := func(n *Night) string { return cmp.Or(n.Date, "9999-99-99") }
	return cmp.Or(strings.Compare(day(a), day(b)), strings.Compare(a.Slug, b.Slug), strings.Compare(string(a.ID), string(b.ID)))
}

// NightsBefore gives the nights before one, in order; all of them for nil.
func (s *Show) NightsBefore(n *Night) []*Night {
	return slices.DeleteFunc(s.NightsInOrder(), func(o *Night) bool { return n != nil && (o.ID == n.ID || compareNights(o, n) >= 0) })
}

// EachOutcome gives what became of each load of the night, once: of two items
// about one article at one placed effect the later counts.
func (n *Night) EachOutcome() []Outcome {
	var list []Outcome
	for _, o := range n.Outcomes {
		if i := slices.IndexFunc(list, o.sameLoad); i >= 0 {
			list[i] = o
		} else {
			list = append(list, o)
		}
	}
	return list
}

// sameLoad reports whether two outcomes are about one load: a piece stands at a
// placed effect, whatever outputs lead there.
func (o Outcome) sameLoad(p Outcome) bool { return o.Placed == p.Placed && o.Article == p.Article }

// Left is an outcome that later nights have to know of.
type Left struct {
	Outcome
	Night *Night
}

// LeftBefore gives what nights before one have left behind: loads that were not
// fired and still stand, which the last night that says anything about their
// placed effect tells, and every misfire that nobody has cleared. Both are in
// the order of nights, then as entered. For nil, all nights count.
func (s *Show) LeftBefore(n *Night) (loaded, misfires []Left) {
	last := map[ID]*Night{}
	nights := s.NightsBefore(n)
	for _, o := range nights {
		for _, x := range o.Outcomes {
			last[x.Placed] = o
		}
	}
	for _, o := range nights {
		for _, x := range o.EachOutcome() {
			if x.State == Unfired && last[x.Placed] == o {
				loaded = append(loaded, Left{x, o})
			}
			if x.Open() {
				misfires = append(misfires, Left{x, o})
			}
		}
	}
	return loaded, misfires
}

// FillFrom says where the fill of a supply comes from.
type FillFrom struct {
	Weighed bool   // the night gives it
	After   *Night // an earlier night weighed it after its show
}

// FillOf gives what a supply holds at the start, in kg: what the night weighed,
// else what the last night before it left, else all its units full. The tour
// itself starts full.
func (p *Plan) FillOf(s *Supply) (kg float64, from FillFrom) {
	kg = s.Fill * float64(s.Units)
	if p.Night == nil {
		return kg, from
	}
	if w, ok := weightOf(p.Night.Fills, s.ID); ok {
		return w, FillFrom{Weighed: true}
	}
	for _, n := range slices.Backward(p.Show.NightsBefore(p.Night)) {
		if w, ok := weightOf(n.Weights, s.ID); ok {
			return w, FillFrom{After: n}
		}
	}
	return kg, from
}

func weightOf(list []Fill, supply ID) (kg float64, ok bool) {
	for _, f := range list {
		if f.Supply == supply {
			kg, ok = f.Kg, true
		}
	}
	return kg, ok
}

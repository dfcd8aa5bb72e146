package timeline

import "slices"

// Played is what is kept of a night that was played: the show as it was when the
// first outcome of the night was entered. What was commanded is compiled from it,
// so that no later edit makes another plan of a show that is over.
type Played struct {
	Night ID
	Show  *Show // holds the night, without what was entered after the show
}

// Entered reports whether anything was entered after the night's show.
func (n *Night) Entered() bool { return n != nil && len(n.Outcomes)+len(n.Weights) > 0 }

// KeptFor gives the show that was kept when a night had been played, or nil.
func (s *Show) KeptFor(night ID) *Show {
	if i := slices.IndexFunc(s.Played, func(k Played) bool { return k.Night == night }); i >= 0 {
		return s.Played[i].Show
	}
	return nil
}

// AsPlayed gives what a night's sheets are made from. For a night that was played
// that is the show and the night as they were kept, with what has been entered and
// printed since; else, and for the tour (nil), what it is given. Edits belong on
// the show as it is, never on this one.
func (s *Show) AsPlayed(n *Night) (*Show, *Night) {
	if n == nil {
		return s, n
	}
	kept := s.KeptFor(n.ID)
	if kept == nil || kept.Night(n.ID) == nil {
		return s, n
	}
	show, night := *kept, *kept.Night(n.ID)
	night.Outcomes, night.Weights, night.Printed = n.Outcomes, n.Weights, n.Printed
	show.Nights = slices.Clone(kept.Nights)
	show.Nights[slices.Index(kept.Nights, kept.Night(n.ID))] = &night
	show.playedAs, show.told = n.ID, s.told
	return &show, &night
}

// keepPlayed keeps the show from before the draft for nights of which the first
// outcome is entered, and lets go of what was kept for nights that are gone or of
// which nothing is entered any more.
func (d *Draft) keepPlayed() {
	if slices.Equal(d.base.Nights, d.show.Nights) {
		return
	}
	list := slices.DeleteFunc(slices.Clone(d.show.Played), func(k Played) bool {
		n := d.show.Night(k.Night)
		return n == nil || !n.Entered() && d.base.Night(k.Night).Entered()
	})
	for _, n := range d.show.Nights {
		if was := d.base.Night(n.ID); n.Entered() && was != nil && !was.Entered() && d.show.KeptFor(n.ID) == nil {
			kept := *d.base
			kept.Played, kept.told = nil, nil
			list = append(list, Played{n.ID, &kept})
		}
	}
	d.show.Played = list
}

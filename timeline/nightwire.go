package timeline

import (
	"fmt"
	"slices"
)

// wires gives the wiring of a night: the rig's, with what the night plugs in
// elsewhere. Of a placed effect that it plugs in, the rig's wires do not count. A
// nil night has the rig's.
func (n *Night) wires(rig *Rig) []*Wire {
	if n == nil || !slices.ContainsFunc(n.Rig, RigChange.plugs) {
		return rig.Wires
	}
	moved, placed := map[ID]RigChange{}, map[ID]bool{}
	for _, c := range n.Rig {
		switch {
		case !c.plugs():
		case c.Kind == "wire":
			moved[c.ID] = c
		default:
			placed[c.ID] = true
		}
	}
	var list []*Wire
	for _, w := range rig.Wires {
		if placed[w.Placed] {
			continue
		}
		if c, ok := moved[w.ID]; ok {
			other := *w
			other.Driver, other.Output = c.Driver, c.Output
			w = &other
		}
		list = append(list, w)
	}
	for _, c := range n.Rig {
		if c.plugs() && c.Kind == "placed" {
			list = append(list, &Wire{Base: Base{ID: c.ID}, Placed: c.ID, Driver: c.Driver, Output: c.Output})
		}
	}
	return list
}

func (c RigChange) plugs() bool { return !c.Out && c.Driver != "" }

// Tonight gives the show with the rig of one night: wired as that night wires it
// and with what stands there after its swaps; nil is the show itself. It is for
// looking at, not for storing.
func (s *Show) Tonight(n *Night) *Show {
	if n == nil {
		return s
	}
	c, rig := *s, *s.Rig
	rig.Wires = n.wires(s.Rig)
	rig.Placed = slices.Clone(s.Rig.Placed)
	for i, e := range rig.Placed {
		if article := n.swapPlaced(s.Stock, e); article != e.Article {
			other := *e
			other.Article = article
			rig.Placed[i] = &other
		}
	}
	c.Rig = &rig
	return &c
}

// PlugTonight plugs a wire, or all of a placed effect, into another output for a
// night, in place of what it was plugged into. The output must be there and of
// the kind that what stands there tonight needs.
func PlugTonight(night ID, c RigChange) Edit {
	return EditNight(night, func(s *Show, n *Night) error {
		if err := c.shape(); err != nil {
			return &ValueError{Kind: "night", Field: "rig-changes", Value: s.itemSaid("rig-changes", c.String()), Want: err.Error()}
		}
		n.Rig = replace(n.Rig, c, func(x RigChange) bool { return x.plugs() && x.Kind == c.Kind && x.ID == c.ID })
		return c.fits(s.Tonight(n))
	})
}

// fits checks that what is plugged in, and where, are there and of one kind.
func (c RigChange) fits(s *Show) error {
	wrong := func(value, want string) error {
		return &ValueError{Kind: "night", Field: "rig-changes", Value: value, Want: want}
	}
	placed := c.ID
	if c.Kind == "wire" {
		w := findRecord(s.Rig.Wires, c.ID)
		if w == nil {
			return wrong(string(c.ID), "names no wire of this show")
		}
		placed = w.Placed
	}
	e := s.Rig.PlacedEffect(placed)
	outputs, dead, known := s.outputsOf(c.Driver)
	switch {
	case e == nil:
		return wrong(string(placed), "names no placed effect of this show")
	case !known:
		return wrong(string(c.Driver), "names no bank or device of this show with a known type")
	case dead:
		return wrong(s.unitName(c.Driver), "is out of service; name another bank or device")
	case c.Output > outputs:
		return wrong(s.itemSaid("rig-changes", c.String()), fmt.Sprintf("is past the last output; %s has 1 to %d", s.unitName(c.Driver), outputs))
	}
	return s.controls(e, c.Driver)
}

// EditTonight gives the edit that makes the swap for one night: the wires are
// plugged into the new bank, and the old one is out of that night's rig. The tour
// keeps its wiring. What finds no place stays on the old bank, where the rules
// find it. The proposal must come from the show as it is that night
// (Show.Tonight).
func (p *BankSwap) EditTonight(night ID, why string) Edit {
	return func(d *Draft) error {
		for _, m := range p.Moves {
			for _, w := range m.Wires {
				c := RigChange{Kind: "wire", ID: w.ID, Driver: p.New.ID, Output: m.To, Why: why}
				if findRecord(d.show.Rig.Wires, w.ID) == nil || plugsPlaced(d.show.Night(night), w) {
					c.Kind = "placed" // that night's own plug
				}
				if err := PlugTonight(night, c)(d); err != nil {
					return err
				}
			}
		}
		return TakeOutTonight(night, RigChange{Kind: "bank", ID: p.Old.ID, Why: why})(d)
	}
}

// plugsPlaced reports whether a wire is a night's own plug of a placed effect.
func plugsPlaced(n *Night, w *Wire) bool {
	return n != nil && w.ID == w.Placed && slices.ContainsFunc(n.Rig, func(c RigChange) bool { return c.plugs() && c.Kind == "placed" && c.ID == w.Placed })
}

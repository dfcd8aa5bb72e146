package timeline

import (
	"cmp"
	"slices"
)

// universeEnd is the last slot of a DMX universe (ANSI E1.11: data slots 1 to
// 512).
const universeEnd = 512

// LastSlot is the last slot that a universe of the show has: the show's own
// number for the rule patch-end (last-slot=110), 512 where it gives none, and
// never more than those. A setting that is limited to songs, families or places
// says nothing about a universe.
func (s *Show) LastSlot() int {
	if x, ok := s.RuleNumber("patch-end", "last-slot", nil, nil); ok {
		return int(min(x, universeEnd))
	}
	return universeEnd
}

// FirstSlot is the lowest slot at which a device of the type is put by itself.
// One that can hurt leaves slot 1 empty: a device without an address answers to
// it.
func (t *DeviceType) FirstSlot() int {
	if t.Hazardous {
		return 2
	}
	return 1
}

// Claim is a run of slots with a start address and the device that answers to
// it.
type Claim struct {
	Device *Device
	Type   *DeviceType // as the show has its slots
	Run    SlotRun
}

// First and Last are the slots that the claim begins and ends at. Last may lie
// past the end of the universe; a run never goes on in the next one.
func (c *Claim) First() int { return c.Run.Start.Slot }
func (c *Claim) Last() int  { return c.Run.Start.Slot + c.Run.Size - 1 }

// Within reports whether the claim lies in a universe whose last slot is given.
func (c *Claim) Within(last int) bool { return c.First() >= 1 && c.Last() <= last }

// shared gives the slots that two claims of one universe share; false where
// they share none.
func (c *Claim) shared(o *Claim) (from, to int, ok bool) {
	from, to = max(c.First(), o.First()), min(c.Last(), o.Last())
	return from, to, from <= to
}

// SameUniverse reports whether two claims stand in one universe of one space.
func (c *Claim) SameUniverse(o *Claim) bool {
	return c.Device.Space == o.Device.Space && c.Run.Start.Universe == o.Run.Start.Universe
}

// Is reports whether two claims are the same run of the same device.
func (c *Claim) Is(o *Claim) bool {
	return c.Device == o.Device && c.Run.Block == o.Run.Block && c.Run.Number == o.Run.Number
}

// Claims lists what every device answers to, by space, universe and first slot.
// Runs without a start address and devices whose type is lost claim nothing.
func Claims(s *Show) []Claim {
	var all []Claim
	for _, v := range s.Rig.Devices {
		typ := s.Stock.DeviceTypeOf(v)
		if typ == nil {
			continue
		}
		for _, run := range v.Runs(typ) {
			if run.Given {
				all = append(all, Claim{v, typ, run})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Claim) int {
		return cmp.Or(cmp.Compare(a.Device.Space, b.Device.Space), cmp.Compare(a.Run.Start.Universe, b.Run.Start.Universe),
			cmp.Compare(a.First(), b.First()), cmp.Compare(a.Device.ID, b.Device.ID))
	})
	return all
}

// Clash is a pair of claims that share slots. Both may be of one device: what is
// meant for one of its slots then moves the other.
type Clash struct {
	A, B     *Claim // A starts no later than B
	From, To int    // the slots they share
	Declared bool   // a device says that it may overlap the other
}

// Clashes gives all pairs of claims that share slots, declared or not, in the
// order of the claims, which must be as Claims gives them. It is the one answer
// to who clashes with whom: rule, patch sheet, map of slots and the edits that
// give addresses say what it says.
func Clashes(claims []Claim) []Clash {
	var all []Clash
	for i := range claims {
		for k := i + 1; k < len(claims) && claims[k].SameUniverse(&claims[i]); k++ {
			a, b := &claims[i], &claims[k]
			if b.First() > a.Last() {
				break // all further ones start later still
			}
			from, to, _ := a.shared(b)
			all = append(all, Clash{a, b, from, to, a.Device.shares(b.Device)})
		}
	}
	return all
}

// Of gives the other claim of a clash that a claim is part of, or nil.
func (c *Clash) Of(claim *Claim) *Claim {
	switch {
	case c.A.Is(claim):
		return c.B
	case c.B.Is(claim):
		return c.A
	}
	return nil
}

// shares reports whether either device declares that it may overlap the other.
func (v *Device) shares(w *Device) bool {
	return slices.Contains(v.Shares, w.ID) || slices.Contains(w.Shares, v.ID)
}

// BankClash is a pair of banks of one space that have the same address.
type BankClash struct{ A, B *Bank }

// bankPlace is where a bank is found, by its address: banks of one place hear the
// same commands.
type bankPlace struct {
	space   string
	address int
}

func (b *Bank) place() bankPlace { return bankPlace{b.Space, b.Address} }

// BankClashes gives all pairs of banks that have the same address, by the second
// of each in the order of the rig, which A stands before. Banks without an
// address yet clash with nothing.
func BankClashes(g *Rig) []BankClash {
	before := map[bankPlace][]*Bank{}
	var all []BankClash
	for _, b := range g.Banks {
		if b.Address == 0 {
			continue
		}
		p := b.place()
		for _, a := range before[p] {
			all = append(all, BankClash{a, b})
		}
		before[p] = append(before[p], b)
	}
	return all
}

// Of gives the other bank of a clash that a bank is part of, or nil.
func (c BankClash) Of(b *Bank) *Bank {
	switch b {
	case c.A:
		return c.B
	case c.B:
		return c.A
	}
	return nil
}

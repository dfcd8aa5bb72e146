package timeline

import "fmt"

// SlotUse says which slots of one universe are taken, and by whom.
type SlotUse struct {
	show     *Show
	Space    string
	Universe int
	End      int // the last slot of the universe, see Show.LastSlot
	claims   []Claim
	taken    [universeEnd + 1]bool
	last     int // the last taken slot; 0 = none
}

// SlotUse gives the use of a universe of an address space by all devices but
// those named. Slots a block would need past the end are not counted.
func (s *Show) SlotUse(space string, universe int, but ...ID) *SlotUse {
	u := &SlotUse{show: s, Space: space, Universe: universe, End: s.LastSlot()}
	skip := map[ID]bool{}
	for _, id := range but {
		skip[id] = true
	}
	for _, v := range s.Rig.Devices {
		if typ := s.Stock.DeviceTypeOf(v); typ != nil && v.Space == space && !skip[v.ID] {
			for _, run := range v.Runs(typ) {
				if run.Given && run.Start.Universe == universe {
					u.take(Claim{v, typ, run})
				}
			}
		}
	}
	return u
}

func (u *SlotUse) take(c Claim) {
	u.claims = append(u.claims, c)
	for slot := max(c.First(), 1); slot <= min(c.Last(), u.End); slot++ {
		u.taken[slot] = true
		u.last = max(u.last, slot)
	}
}

// Free counts the slots that nobody has taken.
func (u *SlotUse) Free() int {
	n := 0
	for slot := 1; slot <= u.End; slot++ {
		if !u.taken[slot] {
			n++
		}
	}
	return n
}

// NextFree gives the lowest slot, not below from, at which a run of free slots
// starts; false when the universe holds none.
func (u *SlotUse) NextFree(from, slots int) (int, bool) {
	free := 0
	for slot := max(from, 1); slot <= u.End; slot++ {
		if u.taken[slot] {
			free = 0
			continue
		}
		if free++; free == slots {
			return slot - slots + 1, true
		}
	}
	return 0, false
}

// AfterLast gives the slot after the last taken one where a run of free slots
// fits there; false when it does not, as when 512 is taken.
func (u *SlotUse) AfterLast(from, slots int) (int, bool) {
	start := max(u.last+1, from, 1)
	return start, slots >= 1 && start+slots-1 <= u.End
}

// check returns an error unless a run lies within the universe and clashes with
// nobody's slots, but for those that either device declares to share.
func (u *SlotUse) check(c Claim) error {
	size := c.Run.Size
	if !c.Within(u.End) {
		return u.refuse(c, fmt.Sprintf("%s from there end at %d, and a universe ends at %d; the latest start is %d.%d",
			Counted(size, "slot"), c.Last(), u.End, u.Universe, u.End-size+1))
	}
	slot, by := 0, (*Device)(nil)
	for i := range u.claims {
		o := &u.claims[i]
		if first, _, meets := c.shared(o); meets && !o.Device.shares(c.Device) && (by == nil || first <= slot) {
			slot, by = first, o.Device
		}
	}
	if by != nil {
		return u.refuse(c, fmt.Sprintf("slot %d.%d belongs to %s", u.Universe, slot, u.show.Called(by)))
	}
	return nil
}

func (u *SlotUse) refuse(c Claim, why string) error {
	if slot, ok := u.NextFree(1, c.Run.Size); ok {
		why += fmt.Sprintf("; the next free run of %d starts at %d.%d", c.Run.Size, u.Universe, slot)
	} else {
		why += fmt.Sprintf("; universe %d has no free run of %d", u.Universe, c.Run.Size)
	}
	return &ValueError{Kind: "device", Field: "starts", Value: c.Run.Start.String(), Want: why}
}

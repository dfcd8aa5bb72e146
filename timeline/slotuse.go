package timeline

import "fmt"

// universeEnd is the last slot of a DMX universe.
const universeEnd = 512

// SlotUse says which slots of one universe are taken, and by whom.
type SlotUse struct {
	Space    string
	Universe int
	by       [universeEnd + 1]*Device
	last     int // the last taken slot; 0 = none
}

// SlotUse gives the use of a universe of an address space by all devices but
// those named. Slots a block would need past the end are not counted.
func (s *Show) SlotUse(space string, universe int, but ...ID) *SlotUse {
	u := &SlotUse{Space: space, Universe: universe}
	skip := map[ID]bool{}
	for _, id := range but {
		skip[id] = true
	}
	for _, v := range s.Rig.Devices {
		if typ := s.Stock.DeviceTypeOf(v); typ != nil && v.Space == space && !skip[v.ID] {
			for _, run := range v.Runs(typ) {
				if run.Given && run.Start.Universe == universe {
					u.take(v, run.Start.Slot, run.Size)
				}
			}
		}
	}
	return u
}

func (u *SlotUse) take(v *Device, from, size int) {
	for slot := max(from, 1); slot < from+size && slot <= universeEnd; slot++ {
		u.by[slot] = v
		u.last = max(u.last, slot)
	}
}

// NextFree gives the lowest slot, not below from, at which a run of free slots
// starts; false when the universe holds none.
func (u *SlotUse) NextFree(from, slots int) (int, bool) {
	free := 0
	for slot := max(from, 1); slot <= universeEnd; slot++ {
		if u.by[slot] != nil {
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
	return start, slots >= 1 && start+slots-1 <= universeEnd
}

// check returns an error unless a block lies on free slots of the universe. A
// block that a device declares to share is free to it.
func (u *SlotUse) check(v *Device, from, size int) error {
	p := Patch{u.Universe, from}
	if from < 1 || from+size-1 > universeEnd {
		return u.refuse(p, fmt.Sprintf("%s from there end at %d, and a universe ends at %d; the latest start is %d.%d",
			slotCount(size), from+size-1, universeEnd, u.Universe, universeEnd-size+1), size)
	}
	for slot := from; slot < from+size; slot++ {
		if w := u.by[slot]; w != nil && !w.shares(v) {
			return u.refuse(p, fmt.Sprintf("slot %d.%d belongs to %s", u.Universe, slot, w.Name), size)
		}
	}
	return nil
}

func (u *SlotUse) refuse(p Patch, why string, size int) error {
	if slot, ok := u.NextFree(1, size); ok {
		why += fmt.Sprintf("; the next free run of %d starts at %d.%d", size, u.Universe, slot)
	} else {
		why += fmt.Sprintf("; universe %d has no free run of %d", u.Universe, size)
	}
	return &ValueError{Kind: "device", Field: "starts", Value: p.String(), Want: why}
}

func slotCount(n int) string {
	if n == 1 {
		return "1 slot"
	}
	return fmt.Sprintf("%d slots", n)
}

// shares reports whether either device declares that it may overlap the other.
func (v *Device) shares(w *Device) bool {
	for _, id := range v.Shares {
		if id == w.ID {
			return true
		}
	}
	for _, id := range w.Shares {
		if id == v.ID {
			return true
		}
	}
	return false
}

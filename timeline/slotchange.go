package timeline

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// SlotChange is what a show makes of one slot of a device: a name and an
// address of its own, and a meaning where the type leaves it open.
type SlotChange struct {
	Block, Number int // the slot of the type
	Name          string
	At            Patch    // its own address; zero = where its block has it
	Role          SlotRole // "" = the type's
	Head          int      // 0 = the type's
	On            *[2]int  // value window; nil = the type's
	Off           *int     // nil = the type's
}

const slotChangeWords = "block.number name= at=universe.slot role= head= on= off="

// String writes the item form: `1.4 name="fan left" at=2.17 role=condition
// on=128..255`.
func (c SlotChange) String() string {
	var w itemWriter
	w.head(c.where())
	w.pair("name", c.Name)
	if c.At != (Patch{}) {
		w.pair("at", c.At.String())
	}
	w.pair("role", string(c.Role))
	if c.Head != 0 {
		w.pair("head", strconv.Itoa(c.Head))
	}
	if c.On != nil {
		w.pair("on", fmt.Sprintf("%d..%d", c.On[0], c.On[1]))
	}
	if c.Off != nil {
		w.pair("off", strconv.Itoa(*c.Off))
	}
	return w.String()
}

func (c SlotChange) where() string { return fmt.Sprintf("%d.%d", c.Block, c.Number) }

// ParseSlotChange reads the item form of a slot change.
func ParseSlotChange(text string) (SlotChange, error) {
	r := readItem(text)
	var c SlotChange
	c.Block, c.Number = r.slotNumber(r.head("block.number, such as 1.3"))
	c.Name = r.value("name")
	c.At = take(r, "at", ParsePatch)
	c.Role = take(r, "role", parseRole)
	c.Head = take(r, "head", intWithin(1, 512))
	c.On = take(r, "on", parseWindow)
	c.Off = take(r, "off", func(t string) (*int, error) {
		n, err := intWithin(0, 65535)(t)
		return &n, err
	})
	if err := r.done(slotChangeWords); err != nil {
		return SlotChange{}, err
	}
	if c == (SlotChange{Block: c.Block, Number: c.Number}) {
		return SlotChange{}, fmt.Errorf("changes nothing; write name=, at=, role=, head=, on= or off=")
	}
	return c, nil
}

// change gives the slot as the device has it.
func (s Slot) change(c SlotChange) Slot {
	if c.Name != "" {
		s.Name = c.Name
	}
	if c.Role != "" {
		s.Role = c.Role
	}
	if c.Head != 0 {
		s.Head = c.Head
	}
	if c.On != nil {
		s.From, s.To = c.On[0], c.On[1]
	}
	if c.Off != nil {
		s.Off = *c.Off
	}
	s.moved = c.At != (Patch{})
	return s
}

// takesRole reports whether a show may give the slot a meaning: the type leaves
// it open, or spare.
func (s Slot) takesRole() bool { return s.Role == OpenSlot || s.Role == SpareSlot }

// changeOf finds the device's change of a slot, or nil.
func (v *Device) changeOf(block, number int) *SlotChange {
	for i := range v.Slots {
		if v.Slots[i].Block == block && v.Slots[i].Number == number {
			return &v.Slots[i]
		}
	}
	return nil
}

// DeviceTypeOf gives the type of a device with what the show makes of its
// slots; nil when the stock has lost it. Without changes it is the very record
// of the stock. Changes that cannot be (see SlotProblems) change nothing.
func (k *Stock) DeviceTypeOf(v *Device) *DeviceType {
	t := k.DeviceType(v.Type)
	if t == nil || len(v.Slots) == 0 {
		return t
	}
	own := *t
	own.Slots = slices.Clone(t.Slots)
	for i, s := range own.Slots {
		if c := v.changeOf(s.Block, s.Number); c != nil && s.refuses(*c) == "" {
			own.Slots[i] = s.change(*c)
		}
	}
	return &own
}

// refuses says why a change cannot be made to the slot and what could; "" when
// it can.
func (s Slot) refuses(c SlotChange) string {
	changed := s.change(c)
	switch err := changed.check(); {
	case c.Role != "" && c.Role != s.Role && !s.takesRole():
		return fmt.Sprintf("the type gives this slot the role %s; only slots that it leaves open or spare take another", s.Role)
	case err != nil:
		return err.Error()
	case c.At != (Patch{}) && c.At.Slot+s.Width()-1 > universeEnd:
		return fmt.Sprintf("two slots from %s run past slot %d; start at %d.%d at the latest", c.At, universeEnd, c.At.Universe, universeEnd-1)
	}
	return ""
}

// SlotProblems says what of a device's slot changes cannot be, and what could.
func (v *Device) SlotProblems(t *DeviceType) []error {
	var all []error
	bad := func(c SlotChange, want string) {
		all = append(all, &ValueError{Kind: "device", Field: "slot-changes", Value: c.String(), Want: want})
	}
	for i, c := range v.Slots {
		at := slices.IndexFunc(t.Slots, func(s Slot) bool { return s.Block == c.Block && s.Number == c.Number })
		switch {
		case at < 0:
			bad(c, fmt.Sprintf("%s has no such slot; it has %s", t.Name, t.slotNames(func(Slot) bool { return true })))
		case v.changeOf(c.Block, c.Number) != &v.Slots[i]:
			bad(c, "the slot is changed twice; write one item for it")
		default:
			if want := t.Slots[at].refuses(c); want != "" {
				if c.Role != "" && !t.Slots[at].takesRole() {
					want += ": " + t.slotNames(Slot.takesRole)
				}
				bad(c, want)
			}
		}
	}
	return all
}

// slotNames lists slots of the type by block.number.
func (t *DeviceType) slotNames(which func(Slot) bool) string {
	var names []string
	for _, s := range t.Slots {
		if which(s) {
			names = append(names, fmt.Sprintf("%d.%d", s.Block, s.Number))
		}
	}
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(names, ", ")
}

// checkSlots refuses changes of slots that cannot be, where an edit has touched
// them or the device's type.
func (d *Draft) checkSlots(rec, before Record) error {
	v, ok := rec.(*Device)
	if !ok || len(v.Slots) == 0 {
		return nil
	}
	if was, ok := before.(*Device); ok && was != nil && was.Type == v.Type && slices.Equal(slotTexts(was), slotTexts(v)) {
		return nil
	}
	if t := d.show.Stock.DeviceType(v.Type); t != nil {
		if all := v.SlotProblems(t); len(all) > 0 {
			return all[0]
		}
	}
	return nil
}

func slotTexts(v *Device) []string {
	texts := make([]string, len(v.Slots))
	for i, c := range v.Slots {
		texts[i] = c.String()
	}
	return texts
}

// SlotRun is a run of slots that a device answers to: a block, or one slot that
// the show has moved out of its block.
type SlotRun struct {
	Block  int // of the type, from 1
	Number int // of the slot that was moved; 0 = the block
	Start  Patch
	Size   int
	Given  bool // it has a start address
}

// Runs lists what a device of a type (see DeviceTypeOf) answers to: its blocks
// in order, without moved slots at their ends, then the moved slots.
func (v *Device) Runs(t *DeviceType) []SlotRun {
	var runs []SlotRun
	for i, size := range t.Blocks() {
		if size == 0 {
			continue
		}
		run := SlotRun{Block: i + 1, Size: size}
		if i < len(v.Starts) && v.Starts[i].Slot > 0 {
			run.Start, run.Given = v.Starts[i], true
		}
		runs = append(runs, run)
	}
	for _, s := range t.Slots {
		if s.moved {
			runs = append(runs, SlotRun{s.Block, s.Number, v.changeOf(s.Block, s.Number).At, s.Width(), true})
		}
	}
	return runs
}

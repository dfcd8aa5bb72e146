package intake

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// maxBlocks is the most blocks of slots that a device type has.
const maxBlocks = 64

// Mode finds a mode by name, without regard to case. With "" the only mode is
// meant; where there are several, and for a name that is none, the error lists
// them.
func (g *GDTF) Mode(name string) (*GDTFMode, error) {
	var names []string
	for i := range g.Modes {
		m := &g.Modes[i]
		if strings.EqualFold(m.Name, name) || name == "" && len(g.Modes) == 1 {
			return m, nil
		}
		names = append(names, fmt.Sprintf("%q (%s)", m.Name, m.slots()))
	}
	if name == "" {
		return nil, fmt.Errorf("the device has %d modes; choose one of %s", len(g.Modes), strings.Join(names, ", "))
	}
	return nil, fmt.Errorf("mode %q is none of the device's: %s", name, strings.Join(names, ", "))
}

// slots says how long a mode is: "6 slots", "4 + 2 slots".
func (m *GDTFMode) slots() string {
	f := m.Footprint()
	var parts []string
	for _, b := range slices.Sorted(maps.Keys(f)) {
		parts = append(parts, fmt.Sprint(f[b]))
	}
	return strings.Join(parts, " + ") + " slots"
}

// DeviceType makes a device type of a mode. Nothing in a GDTF file says which
// slot fires an effect and which arms it, so every slot is left open but those
// that roles gives a meaning; a role is written as a slot of a device type is,
// `1.3 role=arm on=64..127`. Breaks become blocks in their order. The second
// result says, in whole sentences, what could not be taken as it is.
func (g *GDTF) DeviceType(m *GDTFMode, roles []string) (*timeline.DeviceType, []string, error) {
	t := &timeline.DeviceType{Name: strings.TrimSpace(g.Maker + " " + g.Name)}
	if len(g.Modes) > 1 {
		t.Name += ", " + m.Name
	}
	notes := slices.Clone(m.Notes)
	blocks := slices.Sorted(maps.Keys(m.Footprint()))
	if len(blocks) > maxBlocks {
		return nil, nil, fmt.Errorf("mode %q has %d breaks; a device type has up to %d blocks", m.Name, len(blocks), maxBlocks)
	}
	for i, b := range blocks {
		if b != i+1 {
			notes = append(notes, fmt.Sprintf("Break %d is block %d of the device type.", b, i+1))
		}
	}
	for i := range m.Channels {
		c := &m.Channels[i]
		slots, note := c.slots(1 + slices.Index(blocks, c.Break))
		t.Slots = append(t.Slots, slots...)
		if note != "" {
			notes = append(notes, note)
		}
	}
	if cleanNames(t) {
		notes = append(notes, "Names were cleaned of characters that no show keeps.")
	}
	if len(t.Slots) == 0 {
		return nil, nil, fmt.Errorf("mode %q has no channel with an address", m.Name)
	}
	slices.SortStableFunc(t.Slots, func(a, b timeline.Slot) int { return (a.Block-b.Block)*1024 + a.Number - b.Number })
	for _, text := range roles {
		if err := giveRole(t, text); err != nil {
			return nil, nil, err
		}
	}
	return t, notes, nil
}

// cleanNames cleans the names of a device type and reports whether it had to.
func cleanNames(t *timeline.DeviceType) bool {
	had := false
	clean := func(name *string) {
		if c := timeline.CleanText(*name); c != *name {
			*name, had = c, true
		}
	}
	clean(&t.Name)
	for i := range t.Slots {
		clean(&t.Slots[i].Name)
	}
	return had
}

// slots makes the slots of a channel: one, one of two bytes where the fine byte
// follows the coarse one, or one for each byte.
func (c *GDTFChannel) slots(block int) (slots []timeline.Slot, note string) {
	name := c.Attribute
	if c.Geometry != "" {
		name += ", " + c.Geometry
	}
	wide := len(c.Addresses) > 1 && c.Addresses[1] == c.Addresses[0]+1
	rest := c.Addresses[1:]
	first := timeline.Slot{Block: block, Number: c.Addresses[0], Role: timeline.OpenSlot, Head: c.Instance, Name: name, Wide: wide}
	if wide {
		rest = c.Addresses[2:]
	}
	first.From, first.To, first.Off = 1<<(8*first.Width())-1, 1<<(8*first.Width())-1, c.Default>>(8*(c.Width()-first.Width()))
	if first.Off == first.To {
		first.From, first.To = 0, 0 // it rests at full: then the other end is on
	}
	slots = append(slots, first)
	for _, a := range rest {
		slots = append(slots, timeline.Slot{Block: block, Number: a, Role: timeline.SpareSlot, Head: c.Instance, From: 255, To: 255, Name: name + ", fine"})
	}
	if len(rest) > 0 {
		note = fmt.Sprintf("%s has %d bytes, at %v; the finer ones that do not follow the first, or are the third or fourth, are spare slots.", name, len(c.Addresses), c.Addresses)
	}
	return slots, note
}

// giveRole gives a slot the meaning that a user chose; what the text leaves out
// stays as the file says it.
func giveRole(t *timeline.DeviceType, text string) error {
	said, err := timeline.ParseSlot(text)
	if err != nil {
		return fmt.Errorf("slot %q %w", text, err)
	}
	for i := range t.Slots {
		s := &t.Slots[i]
		if s.Block != said.Block || s.Number != said.Number {
			continue
		}
		s.Role = said.Role
		if strings.Contains(text, "on=") {
			s.From, s.To = said.From, said.To
		}
		if strings.Contains(text, "off=") {
			s.Off = said.Off
		}
		if said.Head != 0 {
			s.Head = said.Head
		}
		if said.Name != "" {
			s.Name = said.Name
		}
		if _, err := timeline.ParseSlot(s.String()); err != nil {
			return fmt.Errorf("slot %q: with what the file says it would be %q, and %w", text, s, err)
		}
		return nil
	}
	var have []string
	for _, s := range t.Slots {
		have = append(have, fmt.Sprintf("%d.%d %s", s.Block, s.Number, s.Name))
	}
	return fmt.Errorf("slot %q: the device has no slot %d.%d; it has %s", text, said.Block, said.Number, strings.Join(have, "; "))
}

// Values says what the values of a channel do, such as "0..127 Closed,
// 128..255 Open"; "" where the file divides them in no way.
func (c *GDTFChannel) Values() string {
	if len(c.Functions) < 2 {
		return ""
	}
	parts := make([]string, len(c.Functions))
	for i, f := range c.Functions {
		parts[i] = fmt.Sprintf("%d..%d %s", f.From, f.To, f.Name)
	}
	return strings.Join(parts, ", ")
}

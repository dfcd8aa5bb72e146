package app

import (
	"fmt"
	"slices"
	"strconv"

	"emberbeat/timeline"
)

// slotFields asks for what a slot is.
func slotFields(s timeline.Slot) []*ask {
	roles, names := timeline.SlotRoles(), []string(nil)
	for _, r := range roles {
		names = append(names, string(r))
	}
	return []*ask{
		{name: "block", label: "Block", text: strconv.Itoa(s.Block), help: "which block of addresses, from 1; each has a start address of its own"},
		{name: "number", label: "Number", text: strconv.Itoa(s.Number), help: "place in the block, from 1 to 512"},
		{name: "role", label: "Role", names: names, at: slices.Index(roles, s.Role), help: "what the slot does"},
		{name: "from", label: "On from", text: strconv.Itoa(s.From), help: "lowest value in which the role is on"},
		{name: "to", label: "On to", text: strconv.Itoa(s.To), help: "highest value in which the role is on"},
		{name: "off", label: "Off", text: strconv.Itoa(s.Off), help: "value that is off; it must lie outside the window"},
		{name: "wide", label: "Wide", flag: true, on: s.Wide, hint: "16 bit: two addresses", help: "takes two addresses, coarse then fine, and values up to 65535"},
		{name: "head", label: "Head", text: strconv.Itoa(s.Head), help: "which effect of the device it serves, from 1; 0 = all"},
		{name: "name", label: "Name", text: s.Name, help: "what the crew calls it"},
	}
}

// slot reads the slot that the values of a dialog give.
func (d *asking) slot() (timeline.Slot, error) {
	var s timeline.Slot
	top := 255
	if d.field("wide").on {
		top = 65535
	}
	for _, v := range []struct {
		name     string
		from, to int
		into     *int
	}{{"block", 1, 64, &s.Block}, {"number", 1, 512, &s.Number}, {"from", 0, top, &s.From}, {"to", 0, top, &s.To}, {"off", 0, top, &s.Off}, {"head", 0, 512, &s.Head}} {
		n, err := d.whole(v.name, v.from, v.to)
		if err != nil {
			return s, err
		}
		*v.into = n
	}
	s.Role, s.Wide, s.Name = timeline.SlotRoles()[d.field("role").at], d.field("wide").on, d.field("name").text
	if s.From > s.To {
		return s, &timeline.ValueError{Field: "to", Value: strconv.Itoa(s.To), Want: "must not be below " + strconv.Itoa(s.From) + ", where the window begins"}
	}
	if _, err := timeline.ParseSlot(s.String()); err != nil {
		return s, &timeline.ValueError{Field: "off", Value: strconv.Itoa(s.Off), Want: err.Error()}
	}
	return s, nil
}

// slotOutcome is what giving a type other slots comes to: the table of all of them. Slots that stand on each other are refused.
func slotOutcome(label string, t *timeline.DeviceType, slots []timeline.Slot, fresh map[timeline.Slot]bool) outcome {
	slots = slices.Clone(slots)
	slices.SortStableFunc(slots, func(x, y timeline.Slot) int { return (x.Block-y.Block)*1024 + x.Number - y.Number })
	out := outcome{head: []string{"Slot", "Role", "On", "Head", ""}}
	for i, s := range slots {
		state := ""
		if fresh[s] {
			state = "new"
		}
		out.rows = append(out.rows, []string{fmt.Sprintf("%d.%d  %s", s.Block, s.Number, s.Name), string(s.Role), fmt.Sprintf("%d..%d", s.From, s.To), strconv.Itoa(s.Head), state})
		if i > 0 && slots[i-1].Block == s.Block && slots[i-1].Number+slots[i-1].Width() > s.Number {
			out.err = &timeline.ValueError{Field: "number", Value: strconv.Itoa(s.Number), Want: fmt.Sprintf("is taken in block %d by %s; choose a number that no slot has", s.Block, slots[i-1])}
		}
	}
	next := *t
	next.Slots = slots
	for i, n := range next.Blocks() {
		out.lines = append(out.lines, fmt.Sprintf("Block %d takes %s from its start address on.", i+1, counted(n, "slot")))
	}
	out.change = change{label, put("", &next)}
	return out
}

// askSlots adds one slot or a run of them, one head each.
func (a *App) askSlots() {
	t := a.slotType()
	s := timeline.Slot{Block: 1, Number: 1, Role: timeline.EffectSlot, From: 128, To: 255}
	if n := t.Blocks(); len(n) > 0 {
		s.Number = n[0] + 1
	}
	d := &asking{title: "Add slots to " + t.Name, verb: "Add", fields: append(slotFields(s),
		&ask{name: "count", label: "How many", text: "1", help: "a run of slots, each one number further"},
		&ask{name: "heads", label: "Heads", flag: true, hint: "each for the next head", help: "the first slot serves the head given, the second the next"})}
	d.work = func(a *App, d *asking) outcome {
		t := a.slotType()
		first, err := d.slot()
		if err != nil {
			return outcome{err: err}
		}
		n, err := d.whole("count", 1, 512)
		if err != nil {
			return outcome{err: err}
		}
		slots, fresh := slices.Clone(t.Slots), map[timeline.Slot]bool{}
		for i := range n {
			s := first
			s.Number += i * s.Width()
			if d.field("heads").on {
				s.Head = max(first.Head, 1) + i
			}
			if s.Number+s.Width()-1 > 512 {
				return outcome{err: &timeline.ValueError{Field: "count", Value: strconv.Itoa(n), Want: fmt.Sprintf("runs past slot 512 of its block; at most %d fit from %d on", (513-first.Number)/first.Width(), first.Number)}}
			}
			slots, fresh[s] = append(slots, s), true
		}
		return slotOutcome("add "+counted(n, "slot"), t, slots, fresh)
	}
	d.show(a)
}

// askSlot changes the chosen slot.
func (a *App) askSlot() {
	e := a.tableOf("slots").Chosen()[0]
	at := e.More.(int)
	d := &asking{title: "Change a slot of " + a.slotType().Name, verb: "Change", fields: slotFields(slotAt(&e))}
	d.work = func(a *App, d *asking) outcome {
		t := a.slotType()
		s, err := d.slot()
		if err != nil || at >= len(t.Slots) {
			return outcome{err: err}
		}
		slots := slices.Clone(t.Slots)
		slots[at] = s
		return slotOutcome("change slot", t, slots, map[timeline.Slot]bool{s: true})
	}
	d.show(a)
}

// removeSlots takes the chosen slots out of their type.
func (a *App) removeSlots() {
	t := a.slotType()
	next := *t
	next.Slots = nil
	chosen := map[int]bool{}
	for _, e := range a.tableOf("slots").Chosen() {
		chosen[e.More.(int)] = true
	}
	for i, s := range t.Slots {
		if !chosen[i] {
			next.Slots = append(next.Slots, s)
		}
	}
	a.tableOf("slots").Clear()
	a.doAsked(change{"remove " + counted(len(chosen), "slot"), put("", &next)}, nil)
}

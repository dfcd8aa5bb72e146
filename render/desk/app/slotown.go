package app

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// needDevices says what to choose before slots of devices can be given a meaning.
func needDevices(a *App) string {
	if why := needChosenEdit(a); why != "" {
		return why
	}
	if a.book.refs[0].Kind != "device" {
		return "choose a device on the page Devices first"
	}
	t := a.chosenDevices()[0].Type
	for _, v := range a.chosenDevices() {
		if v.Type != t {
			return "choose devices of one type: their slots differ"
		}
	}
	if t := a.work.shown.Stock.DeviceType(t); t == nil || len(t.Slots) == 0 {
		return "the device's type has no slots yet: give it some on the page Slots"
	}
	return ""
}

// chosenDevices gives the devices that are shown in the inspector.
func (a *App) chosenDevices() []*timeline.Device {
	var list []*timeline.Device
	for _, r := range a.book.refs {
		if v := a.work.shown.Rig.Device(r.ID); v != nil {
			list = append(list, v)
		}
	}
	return list
}

// askSlotOwn asks what the show makes of one slot of the chosen devices: a name, a meaning where the type leaves it open, an address.
func (a *App) askSlotOwn() {
	devices := a.chosenDevices()
	t := a.work.shown.Stock.DeviceType(devices[0].Type)
	slot := &ask{name: "slot", label: "Slot", names: []string{}, help: "the slot of the type"}
	for _, s := range t.Slots {
		slot.names = append(slot.names, strings.TrimSpace(fmt.Sprintf("%d.%d %s %s", s.Block, s.Number, s.Role, s.Name)))
	}
	roles := choiceOfWords("role", "Role", append([]timeline.SlotRole{""}, timeline.SlotRoles()...), "")
	roles.names[0] = "the type's"
	roles.help = "a meaning of its own, where the type leaves the slot open or spare"
	one := func(*asking) string {
		if len(devices) > 1 {
			return "choose one device alone to give its slot an address"
		}
		return ""
	}
	d := &asking{title: "Slot of " + devicesText(devices), verb: "Change", fields: []*ask{slot,
		{name: "name", label: "Name", hint: "the type's", help: "what this show calls it"}, roles,
		{name: "head", label: "Head", hint: "the type's", help: "which effect of the device it serves, from 1"},
		{name: "on", label: "On", hint: "64..127", help: "range of values in which the role is on"},
		{name: "off", label: "Off", hint: "the type's", help: "value that is off; it must lie outside"},
		{name: "at", label: "Address", hint: "2.17; empty = in its block", help: "universe.slot, where this one slot is not in its block", off: one},
		{name: "none", label: "As the type", flag: true, hint: "take the change away", help: "the slot is again as its type has it"}}}
	d.work = func(a *App, d *asking) outcome { return a.slotOwned(d, t.Slots[slot.at]) }
	d.show(a)
}

func devicesText(devices []*timeline.Device) string {
	if len(devices) == 1 {
		return cmp.Or(devices[0].Name, string(devices[0].ID))
	}
	return counted(len(devices), "device")
}

// slotOwned is what such a change comes to: the slots of the first device as the show then has them.
func (a *App) slotOwned(d *asking, s timeline.Slot) outcome {
	devices := a.chosenDevices()
	if len(devices) == 0 {
		return outcome{}
	}
	var own []timeline.SlotChange
	if !d.field("none").on {
		c, err := d.slotChange(s)
		if err != nil {
			return outcome{err: err}
		}
		own = append(own, c)
	}
	var recs []timeline.Record
	for _, v := range devices {
		next := *v
		next.Slots = slices.DeleteFunc(slices.Clone(v.Slots), func(c timeline.SlotChange) bool { return c.Block == s.Block && c.Number == s.Number })
		next.Slots = append(next.Slots, own...)
		recs = append(recs, &next)
	}
	first := recs[0].(*timeline.Device)
	out := outcome{head: []string{"Slot", "Role", "On", "Head", "Address"}, change: change{fmt.Sprintf("change slot %d.%d", s.Block, s.Number), []timeline.Edit{func(dr *timeline.Draft) error {
		dr.Put("", recs...)
		return nil
	}}}}
	for _, x := range a.work.shown.Stock.DeviceTypeOf(first).Slots {
		at := "none yet"
		if p, ok := first.Address(x); ok {
			at = p.String()
		}
		out.rows = append(out.rows, []string{fmt.Sprintf("%d.%d  %s", x.Block, x.Number, x.Name), string(x.Role), fmt.Sprintf("%d..%d", x.From, x.To), strconv.Itoa(x.Head), at})
	}
	return out
}

// slotChange reads the change that the values of a dialog make of a slot, in the form in which files have it.
func (d *asking) slotChange(s timeline.Slot) (timeline.SlotChange, error) {
	c := timeline.SlotChange{Block: s.Block, Number: s.Number, Name: strings.TrimSpace(d.field("name").text)}
	text := fmt.Sprintf("%d.%d", s.Block, s.Number)
	if at := d.field("role").at; at > 0 {
		text += " role=" + string(timeline.SlotRoles()[at-1])
	}
	for _, name := range []string{"head", "on", "off", "at"} {
		value := strings.TrimSpace(d.field(name).text)
		if value == "" {
			continue
		}
		if strings.ContainsAny(value, " =\"") {
			return c, &timeline.ValueError{Field: name, Value: value, Want: "holds a space, = or a quotation mark; write one value"}
		}
		if _, err := timeline.ParseSlotChange(fmt.Sprintf("%d.%d %s=%s", s.Block, s.Number, name, value)); err != nil {
			return c, &timeline.ValueError{Field: name, Value: value, Want: err.Error()}
		}
		text += " " + name + "=" + value
	}
	if text == fmt.Sprintf("%d.%d", s.Block, s.Number) {
		if c.Name == "" {
			return c, &timeline.ValueError{Field: "name", Want: "is empty, and so are the others; write what differs from the type"}
		}
		return c, nil
	}
	given, err := timeline.ParseSlotChange(text)
	given.Name = c.Name
	return given, err
}

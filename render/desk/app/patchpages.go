package app

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
)

// patchPages are the pages of what commands go to: banks, devices and the slots of universes.
func (a *App) patchPages() []page.Page {
	return []page.Page{
		table.Records(a, page.Page{ID: "banks", Name: "Banks", Part: "Patch", Keys: []string{"Ctrl+3"}, Help: "igniter and relay banks with their addresses and outputs", Kind: "bank"}, table.Spec{Empty: "No bank yet. Press Shift+Insert to add a run of banks by start address and count, or Insert for a single one.",
			Buttons: []string{"patch-run", "patch-copy", "patch-move", "row-remove", "bank-swap"}, Columns: a.bankColumns}),
		table.Records(a, page.Page{ID: "devices", Name: "Devices", Part: "Patch", Help: "DMX devices with the start address of each of their blocks", Kind: "device"}, table.Spec{Empty: "No device yet. Press Shift+Insert to add a run of devices by start address and count, or Insert for a single one.",
			Buttons: []string{"patch-run", "patch-copy", "patch-move", "slot-own", "row-remove"}, Columns: a.deviceColumns}),
		a.universePage(),
	}
}

func (a *App) bankColumns() []table.Column {
	outputs := table.Column{Title: "Outputs", Width: 74, Right: true, Text: func(e *table.Row) string {
		if t := a.work.shown.Stock.BankType(e.Record.(*timeline.Bank).Type); t != nil {
			return strconv.Itoa(t.Outputs)
		}
		return ""
	}}
	free := table.Column{Title: "Free", Width: 56, Right: true, Text: func(e *table.Row) string {
		t := a.work.shown.Stock.BankType(e.Record.(*timeline.Bank).Type)
		if t == nil {
			return ""
		}
		return strconv.Itoa(t.Outputs - len(outputsUsed(a.work.shown, e.Ref.ID)))
	}}
	state := table.Column{Title: "State", Width: 150, Text: func(e *table.Row) string { return bankState(a.work.shown, e.Record.(*timeline.Bank)) }}
	state.Draw = table.State(a, state.Text)
	return []table.Column{table.Field(a, "bank", "name", 150), table.Field(a, "bank", "type", 150), table.Field(a, "bank", "space", 90), table.Field(a, "bank", "address", 76), outputs, free,
		table.Field(a, "bank", "position", 130), state, table.Field(a, "bank", "note", 160)}
}

// outputsUsed gives the outputs of a bank or device that have a wire.
func outputsUsed(s *timeline.Show, unit timeline.ID) map[int]bool {
	used := map[int]bool{}
	for _, w := range s.Rig.Wires {
		if w.Driver == unit {
			used[w.Output] = true
		}
	}
	return used
}

// bankState says what is wrong with a bank's patch.
func bankState(s *timeline.Show, b *timeline.Bank) string {
	switch {
	case b.Dead:
		return "out of service"
	case b.Address == 0:
		return "no address"
	case s.Stock.BankType(b.Type) == nil:
		return "no type"
	}
	for _, c := range timeline.BankClashes(s.Rig) {
		if o := c.Of(b); o != nil {
			return "address also of " + o.Name
		}
	}
	return ""
}

func (a *App) deviceColumns() []table.Column {
	starts := table.Column{Title: "Starts", Width: 130, Text: func(e *table.Row) string { return timeline.AddressText(e.Record) }}
	takes := table.Column{Title: "Takes", Width: 150, Text: func(e *table.Row) string { return slotsTaken(a.work.shown, e.Record.(*timeline.Device)) }}
	state := table.Column{Title: "State", Width: 170, Text: func(e *table.Row) string { return deviceState(a, e.Record.(*timeline.Device)) }}
	state.Draw = table.State(a, state.Text)
	return []table.Column{table.Field(a, "device", "name", 150), table.Field(a, "device", "type", 150), table.Field(a, "device", "space", 84), starts, takes,
		table.Field(a, "device", "position", 130), state, table.Field(a, "device", "shares", 130), table.Field(a, "device", "note", 150)}
}

// slotsTaken writes the slots of each block of a device.
func slotsTaken(s *timeline.Show, v *timeline.Device) string {
	t := s.Stock.DeviceTypeOf(v)
	if t == nil {
		return ""
	}
	var texts []string
	for i, n := range t.Blocks() {
		if i < len(v.Starts) && n > 0 {
			p := v.Starts[i]
			texts = append(texts, fmt.Sprintf("%d.%d–%d", p.Universe, p.Slot, p.Slot+n-1))
		}
	}
	return strings.Join(texts, ", ")
}

// deviceState says what is wrong with a device's patch.
func deviceState(a *App, v *timeline.Device) string {
	t := a.work.shown.Stock.DeviceTypeOf(v)
	switch {
	case v.Dead:
		return "out of service"
	case t == nil:
		return "no type"
	}
	runs := v.Runs(t)
	if slices.ContainsFunc(runs, func(r timeline.SlotRun) bool { return !r.Given }) {
		return "no address"
	}
	last := a.work.shown.LastSlot()
	if slices.ContainsFunc(runs, func(r timeline.SlotRun) bool { return r.Start.Slot+r.Size-1 > last }) {
		return fmt.Sprintf("runs past slot %d", last)
	}
	for _, r := range runs {
		for _, c := range a.universe(v.Space, r.Start.Universe).clashes {
			if c.Of(&timeline.Claim{Device: v, Run: r}) != nil {
				return "overlaps at " + timeline.Patch{Universe: r.Start.Universe, Slot: c.From}.String()
			}
		}
	}
	return ""
}

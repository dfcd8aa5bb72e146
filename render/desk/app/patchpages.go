package app

import (
	"fmt"
	"image"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render"
	"emberbeat/timeline"
)

// patchPages are the pages of what commands go to: banks, devices and the slots of universes.
func patchPages() []page {
	return []page{
		recordTable{p: page{id: "banks", name: "Banks", part: "Patch", keys: []string{"Ctrl+3"}, help: "igniter and relay banks with their addresses and outputs"},
			kind:    "bank",
			empty:   "No bank yet. Press Shift+Insert to add a run of banks by start address and count, or Insert for a single one.",
			buttons: []string{"patch-run", "patch-copy", "patch-move", "row-remove", "bank-swap"}, columns: bankColumns}.page(),
		recordTable{p: page{id: "devices", name: "Devices", part: "Patch", help: "DMX devices with the start address of each of their blocks"},
			kind:    "device",
			empty:   "No device yet. Press Shift+Insert to add a run of devices by start address and count, or Insert for a single one.",
			buttons: []string{"patch-run", "patch-copy", "patch-move", "slot-own", "row-remove"}, columns: deviceColumns}.page(),
		universePage(),
	}
}

func bankColumns() []column {
	outputs := column{title: "Outputs", width: 74, right: true, text: func(a *App, e *entry) string {
		if t := a.work.shown.Stock.BankType(e.rec.(*timeline.Bank).Type); t != nil {
			return strconv.Itoa(t.Outputs)
		}
		return ""
	}}
	free := column{title: "Free", width: 56, right: true, text: func(a *App, e *entry) string {
		t := a.work.shown.Stock.BankType(e.rec.(*timeline.Bank).Type)
		if t == nil {
			return ""
		}
		return strconv.Itoa(t.Outputs - len(outputsUsed(a.work.shown, e.ref.ID)))
	}}
	state := column{title: "State", width: 150, text: func(a *App, e *entry) string { return bankState(a.work.shown, e.rec.(*timeline.Bank)) }}
	state.draw = drawState(state.text)
	return []column{fieldColumn("bank", "name", 150), fieldColumn("bank", "type", 150), fieldColumn("bank", "space", 90), fieldColumn("bank", "address", 76), outputs, free,
		fieldColumn("bank", "position", 130), state, fieldColumn("bank", "note", 160)}
}

// drawState draws a state with a mark of its severity; no state draws nothing.
func drawState(text func(*App, *entry) string) func(*App, *entry, image.Rectangle) bool {
	return func(a *App, e *entry, r image.Rectangle) bool {
		t := text(a, e)
		if t == "" {
			return true
		}
		return a.badge(r, render.SevWarning, t)
	}
}

// outputsUsed gives the outputs of a bank or device that have a wire.
func outputsUsed(s *timeline.Show, unit timeline.ID) map[int]bool {
	used := map[int]bool{}
	for _, w := range s.Rig.Wires {
		if w.Unit == unit {
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

func deviceColumns() []column {
	starts := column{title: "Starts", width: 130, text: func(_ *App, e *entry) string { return addressText(e.rec) }}
	takes := column{title: "Takes", width: 150, text: func(a *App, e *entry) string { return slotsTaken(a.work.shown, e.rec.(*timeline.Device)) }}
	state := column{title: "State", width: 170, text: func(a *App, e *entry) string { return deviceState(a, e.rec.(*timeline.Device)) }}
	state.draw = drawState(state.text)
	return []column{fieldColumn("device", "name", 150), fieldColumn("device", "type", 150), fieldColumn("device", "space", 84), starts, takes,
		fieldColumn("device", "position", 130), state, fieldColumn("device", "shares", 130), fieldColumn("device", "note", 150)}
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

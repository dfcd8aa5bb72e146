package patch

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// IDs of the pages.
const (
	banksID     = "banks"
	devicesID   = "devices"
	universesID = "universes"
)

// Patch is the pages with what they remember.
type Patch struct {
	At   Universe // that is shown
	Slot int      // where the cursor of its map stands

	h      page.Host
	maps   map[Universe]*Map
	mapsOf *timeline.Plan // that the maps are of
}

// New gives the pages of banks, devices and universes, in this order, and the commands that give addresses.
func New(h page.Host) page.Family {
	p := &Patch{h: h}
	run := page.Does(operation.Find("patch", "add"), page.Command{ID: "patch-run", Keys: []string{"Shift+Insert"}, Off: p.needPage, Run: p.askRun})
	patched := func(name string) page.Command {
		o := operation.Find("patch", name)
		return page.Does(o, page.Command{Off: p.needPatched, Run: func() { p.askPatched(o) }})
	}
	return page.Family{State: p, Commands: []page.Command{run, patched("copy"), patched("move")}, Pages: []page.Page{
		table.Records(h, page.Page{ID: banksID, Name: "Banks", Part: "Patch", Keys: []string{"Ctrl+3"}, Help: "igniter and relay banks with their addresses and outputs", Kind: "bank"}, table.Spec{Empty: "No bank yet. Press Shift+Insert to add a run of banks by start address and count, or Insert for a single one.",
			Buttons: []string{"patch-run", "patch-copy", "patch-move", "row-remove", "bank-swap"}, Columns: p.bankColumns}),
		table.Records(h, page.Page{ID: devicesID, Name: "Devices", Part: "Patch", Help: "DMX devices with the start address of each of their blocks", Kind: "device"}, table.Spec{Empty: "No device yet. Press Shift+Insert to add a run of devices by start address and count, or Insert for a single one.",
			Buttons: []string{"patch-run", "patch-copy", "patch-move", "slot-own", "row-remove"}, Columns: p.deviceColumns}),
		{ID: universesID, Name: "Universes", Part: "Patch", Help: "who uses each of the 512 slots; arrow keys move, Enter shows the device",
			Acts: map[string]page.Act{"row-add": run.Act()}, Draw: p.drawUniverse},
	}}
}

func (p *Patch) bankColumns() []table.Column {
	outputs := table.Column{Title: "Outputs", Width: 74, Right: true, Text: func(e *table.Row) string {
		if t := p.h.Show().Stock.BankType(e.Record.(*timeline.Bank).Type); t != nil {
			return strconv.Itoa(t.Outputs)
		}
		return ""
	}}
	free := table.Column{Title: "Free", Width: 56, Right: true, Text: func(e *table.Row) string {
		t := p.h.Show().Stock.BankType(e.Record.(*timeline.Bank).Type)
		if t == nil {
			return ""
		}
		return strconv.Itoa(t.Outputs - len(page.OutputsUsed(p.h.Show(), e.Ref.ID)))
	}}
	state := table.Column{Title: "State", Width: 150, Text: func(e *table.Row) string { return bankState(p.h.Show(), e.Record.(*timeline.Bank)) }}
	state.Draw = table.State(p.h, state.Text)
	return []table.Column{table.Field(p.h, "bank", "name", 150), table.Field(p.h, "bank", "type", 150), table.Field(p.h, "bank", "space", 90), table.Field(p.h, "bank", "address", 76), outputs, free,
		table.Field(p.h, "bank", "position", 130), state, table.Field(p.h, "bank", "note", 160)}
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

func (p *Patch) deviceColumns() []table.Column {
	starts := table.Column{Title: "Starts", Width: 130, Text: func(e *table.Row) string { return timeline.AddressText(e.Record) }}
	takes := table.Column{Title: "Takes", Width: 150, Text: func(e *table.Row) string { return slotsTaken(p.h.Show(), e.Record.(*timeline.Device)) }}
	state := table.Column{Title: "State", Width: 170, Text: func(e *table.Row) string { return p.deviceState(e.Record.(*timeline.Device)) }}
	state.Draw = table.State(p.h, state.Text)
	return []table.Column{table.Field(p.h, "device", "name", 150), table.Field(p.h, "device", "type", 150), table.Field(p.h, "device", "space", 84), starts, takes,
		table.Field(p.h, "device", "position", 130), state, table.Field(p.h, "device", "shares", 130), table.Field(p.h, "device", "note", 150)}
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
func (p *Patch) deviceState(v *timeline.Device) string {
	t := p.h.Show().Stock.DeviceTypeOf(v)
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
	last := p.h.Show().LastSlot()
	if slices.ContainsFunc(runs, func(r timeline.SlotRun) bool { return r.Start.Slot+r.Size-1 > last }) {
		return fmt.Sprintf("runs past slot %d", last)
	}
	for _, r := range runs {
		for _, c := range p.Map(Universe{v.Space, r.Start.Universe}).clashes {
			if c.Of(&timeline.Claim{Device: v, Run: r}) != nil {
				return "overlaps at " + timeline.Patch{Universe: r.Start.Universe, Slot: c.From}.String()
			}
		}
	}
	return ""
}

package wiring

import (
	"cmp"
	"fmt"
	"slices"

	"emberbeat/render/desk/page"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/operation"
)

func (p *wiring) needWires() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	g := p.h.Show().Rig
	switch {
	case len(g.Placed) == 0:
		return "no effect is placed yet: place one on the page Placed effects first"
	case len(g.Banks)+len(g.Devices) == 0:
		return "there is no bank or device yet: add one on the page Banks or Devices first"
	}
	return ""
}

func (p *wiring) needBanks() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	if len(p.h.Show().Rig.Banks) < 2 {
		return "there is no second bank to take over: add one on the page Banks first"
	}
	return ""
}

// effectsToWire are the sets of placed effects that can be wired together: the chosen ones, all without a wire, a group, all.
func (p *wiring) effectsToWire() []page.Choice {
	var list []page.Choice
	add := func(name string, ids []timeline.ID) {
		var items []string
		for _, id := range ids {
			items = append(items, string(id))
		}
		if len(ids) > 0 {
			list = append(list, page.Choice{Value: field.Join(items), Name: fmt.Sprintf("%s (%d)", name, len(ids))})
		}
	}
	s := p.h.Show()
	add("the chosen ones", page.ChosenPlaced(p.h))
	var bare, all []timeline.ID
	for _, x := range s.Rig.Placed {
		all = append(all, x.ID)
		if !slices.ContainsFunc(s.Rig.Wires, func(w *timeline.Wire) bool { return w.Placed == x.ID }) {
			bare = append(bare, x.ID)
		}
	}
	add("all without a wire", bare)
	for _, g := range s.Rig.Groups {
		add("group "+g.Name, g.Members)
	}
	add("all", all)
	return list
}

// driversToWire are the banks and devices, with how many outputs each has free.
func (p *wiring) driversToWire() []page.Choice {
	var list []page.Choice
	add := func(name string, id timeline.ID, outputs int, dead bool) {
		free := max(outputs-len(page.OutputsUsed(p.h.Show(), id)), 0)
		text := fmt.Sprintf("%s, %d free", cmp.Or(name, string(id)), free)
		if dead {
			text += ", out of service"
		}
		list = append(list, page.Choice{Value: string(id), Name: text})
	}
	for _, b := range p.h.Show().Rig.Banks {
		n := 0
		if t := p.h.Show().Stock.BankType(b.Type); t != nil {
			n = t.Outputs
		}
		add(b.Name, b.ID, n, b.Dead)
	}
	for _, v := range p.h.Show().Rig.Devices {
		n := 0
		if t := p.h.Show().Stock.DeviceTypeOf(v); t != nil {
			n = t.Heads()
		}
		add(v.Name, v.ID, n, v.Dead)
	}
	return list
}

// askWires asks for a wiring and shows it before it is made.
func (p *wiring) askWires() {
	var drivers []string
	for _, id := range p.chosenDrivers() {
		drivers = append(drivers, string(id))
	}
	p.h.AskFor(operation.Find("wire", ""), timeline.Ref{}, page.Form{
		Caution: load.CircuitCaution,
		Given:   map[string]string{"bank": field.Join(drivers)},
		Sets:    map[string]bool{"placed": true},
		Choices: map[string]func() []page.Choice{"placed": p.effectsToWire, "bank": p.driversToWire},
	})
}

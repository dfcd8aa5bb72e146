package app

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

// wireCommands join placed effects to outputs.
func wireCommands() []command {
	return []command{
		operationCommand("wire", "", command{id: "wire-run", keys: []string{"Ctrl+Shift+W"}, off: needWires}, (*App).askWires),
		operationCommand("unwire", "", command{off: needWired}, (*App).unwire),
		operationCommand("swap-bank", "", command{id: "bank-swap", off: needBanks}, (*App).askSwap),
		operationCommand("feed", "", command{off: needFed}, (*App).askFeed),
		operationCommand("group", "", command{id: "group-make", off: needPlaced}, (*App).askGroup),
		operationCommand("regroup", "", command{id: "group-order", off: needGroup}, (*App).askOrder),
	}
}

func needWires(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	g := a.work.shown.Rig
	switch {
	case len(g.Placed) == 0:
		return "no effect is placed yet: place one on the page Placed effects first"
	case len(g.Banks)+len(g.Devices) == 0:
		return "there is no bank or device yet: add one on the page Banks or Devices first"
	}
	return ""
}

func needBanks(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if len(a.work.shown.Rig.Banks) < 2 {
		return "there is no second bank to take over: add one on the page Banks first"
	}
	return ""
}

// effectsToWire are the sets of placed effects that can be wired together: the chosen ones, all without a wire, a group, all.
func (a *App) effectsToWire() []formValue {
	var list []formValue
	add := func(name string, ids []timeline.ID) {
		var items []string
		for _, id := range ids {
			items = append(items, string(id))
		}
		if len(ids) > 0 {
			list = append(list, formValue{field.Join(items), fmt.Sprintf("%s (%d)", name, len(ids))})
		}
	}
	s := a.work.shown
	add("the chosen ones", a.chosenPlaced())
	var bare, all []timeline.ID
	for _, p := range s.Rig.Placed {
		all = append(all, p.ID)
		if !slices.ContainsFunc(s.Rig.Wires, func(w *timeline.Wire) bool { return w.Placed == p.ID }) {
			bare = append(bare, p.ID)
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
func (a *App) driversToWire() []formValue {
	var list []formValue
	add := func(name string, id timeline.ID, outputs int, dead bool) {
		free := max(outputs-len(page.OutputsUsed(a.work.shown, id)), 0)
		text := fmt.Sprintf("%s, %d free", cmp.Or(name, string(id)), free)
		if dead {
			text += ", out of service"
		}
		list = append(list, formValue{string(id), text})
	}
	for _, b := range a.work.shown.Rig.Banks {
		n := 0
		if t := a.work.shown.Stock.BankType(b.Type); t != nil {
			n = t.Outputs
		}
		add(b.Name, b.ID, n, b.Dead)
	}
	for _, v := range a.work.shown.Rig.Devices {
		n := 0
		if t := a.work.shown.Stock.DeviceTypeOf(v); t != nil {
			n = t.Heads()
		}
		add(v.Name, v.ID, n, v.Dead)
	}
	return list
}

// askWires asks for a wiring and shows it before it is made.
func (a *App) askWires(o *operation.Operation) {
	var drivers []string
	for _, id := range a.chosenUnits() {
		drivers = append(drivers, string(id))
	}
	a.askOperation(o, timeline.Ref{}, formSpec{
		caution: load.CircuitCaution,
		given:   map[string]string{"bank": field.Join(drivers)},
		sets:    map[string]bool{"placed": true},
		choices: map[string]func(*App) []formValue{"placed": (*App).effectsToWire, "bank": (*App).driversToWire},
	})
}

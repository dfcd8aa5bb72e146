package app

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

// wireCommands join placed effects to outputs.
func wireCommands() []command {
	return []command{
		{id: "wire-run", name: "Wire…", help: "wires any number of placed effects to the free outputs of any number of banks in one step, shown before it is done", group: "Book", keys: []string{"Ctrl+Shift+W"}, off: needWires, run: (*App).askWires},
		{id: "unwire", name: "Unwire", help: "takes the wires of the chosen outputs or placed effects away", group: "Book", off: needWired, run: (*App).unwire},
		{id: "bank-swap", name: "Swap bank…", help: "lets another bank take a dead bank's place: wiring proposed, rewire and retest lists; no cue changes", group: "Book", off: needBanks, run: (*App).askSwap},
		{id: "feed", name: "Feed from…", help: "has one supply feed the chosen placed effects", group: "Book", off: needFed, run: (*App).askFeed},
		{id: "group-make", name: "Group of the chosen…", help: "makes a group of the chosen placed effects in an order", group: "Book", off: needPlaced, run: (*App).askGroup},
		{id: "group-order", name: "Order of the group…", help: "puts the effects of the chosen group in another order", group: "Book", off: needGroup, run: (*App).askOrder},
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

// effectsToWire asks which placed effects: the chosen ones, all without a wire, or a group.
func (a *App) effectsToWire() (*ask, [][]timeline.ID) {
	f := &ask{name: "placed", label: "Effects", names: []string{}, help: "which placed effects; choose them on the page Placed effects, or name a group"}
	var lists [][]timeline.ID
	add := func(name string, ids []timeline.ID) {
		if len(ids) > 0 {
			f.names, lists = append(f.names, fmt.Sprintf("%s (%d)", name, len(ids))), append(lists, ids)
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
	return f, lists
}

// unitsToWire asks to which banks and devices.
func (a *App) unitsToWire() (*ask, []timeline.ID) {
	f := &ask{name: "unit", label: "Banks", names: []string{}, many: []bool{}, help: "Enter or a press on the box takes one in or out; free outputs are used in this order"}
	var ids []timeline.ID
	chosen := a.chosenUnits()
	add := func(name string, id timeline.ID, outputs int, dead bool) {
		free := max(outputs-len(outputsUsed(a.work.shown, id)), 0)
		text := fmt.Sprintf("%s, %d free", cmp.Or(name, string(id)), free)
		if dead {
			text += ", out of service"
		}
		ids, f.names, f.many = append(ids, id), append(f.names, text), append(f.many, slices.Contains(chosen, id))
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
	return f, ids
}

// choiceOfWords asks for one of some words of the model.
func choiceOfWords[W ~string](name, label string, words []W, at W) *ask {
	f := &ask{name: name, label: label, names: []string{}, at: max(slices.Index(words, at), 0)}
	for _, w := range words {
		f.names = append(f.names, string(w))
	}
	return f
}

// askWires asks for a wiring and shows it before it is made.
func (a *App) askWires() {
	effects, lists := a.effectsToWire()
	units, ids := a.unitsToWire()
	pattern := choiceOfWords("pattern", "Pattern", timeline.WirePatterns(), timeline.WireStraight)
	pattern.help = "straight: as ordered, a bank is filled before the next. fan: from the middle outwards. mirror: both ends first. alternate: turn by turn over the banks"
	order := choiceOfWords("order", "Order", timeline.Orders(), timeline.OrderAll)
	d := &asking{title: "Wire placed effects to outputs", verb: "Wire", caution: sheet.CircuitCaution, fields: []*ask{effects, order, units, pattern,
		{name: "output", label: "From output", text: "1", help: "first output of each bank that may be used"},
		{name: "rewire", label: "Wired ones", flag: true, hint: "take their wires away first"}}}
	d.work = func(a *App, d *asking) outcome {
		run := timeline.WireRun{Pattern: timeline.WirePatterns()[pattern.at], Rewire: d.field("rewire").on}
		for i, on := range units.many {
			if on {
				run.Units = append(run.Units, ids[i])
			}
		}
		var err error
		if run.From, err = d.whole("output", 1, 10000); err != nil {
			return outcome{err: err}
		}
		if run.Placed, err = a.work.s.Show().Rig.Arrange(lists[effects.at], timeline.Orders()[order.at]); err != nil {
			return outcome{err: err}
		}
		return a.wired(run)
	}
	d.show(a)
}

// wired is what a wiring comes to: which effect goes to which output, what stays spare, and the counts against the stock.
func (a *App) wired(run timeline.WireRun) outcome {
	s := a.work.s.Show()
	if len(run.Units) == 0 {
		return outcome{err: &timeline.ValueError{Field: "unit", Want: "is empty; check a bank or device in the list"}}
	}
	p, err := s.ProposeWires(run)
	if err != nil {
		return outcome{err: err}
	}
	l := sheet.NewWireList(s, p)
	give := a.work.ids()
	out := outcome{change: change{"wire " + counted(len(p.Wires), "effect"), []timeline.Edit{p.Edit(func() timeline.ID { return give("wire", "") })}},
		head: []string{"Effect", "Bank or device", "Output"}}
	for _, w := range l.Wires {
		out.rows = append(out.rows, []string{w.PlacedName, w.UnitName, strconv.Itoa(w.Output)})
	}
	if l.Gone > 0 {
		out.lines = append(out.lines, counted(l.Gone, "wire")+" taken away first.")
	}
	out.lines = append(out.lines, "Spare: "+spareText(l.Spare)+".")
	for _, c := range l.Counts {
		out.lines = append(out.lines, fmt.Sprintf("%s: %d wired here, %d placed, %s.", c.Name, c.Wired, c.Placed, onHand(c)))
	}
	return out
}

// spareText names free outputs by bank.
func spareText(list []sheet.SpareLine) string {
	if len(list) == 0 {
		return "none"
	}
	var b strings.Builder
	last := ""
	for _, o := range list {
		if o.UnitName != last {
			if last != "" {
				b.WriteString("; ")
			}
			b.WriteString(o.UnitName)
			last = o.UnitName
		}
		fmt.Fprintf(&b, " %d", o.Output)
	}
	return b.String()
}

func onHand(c sheet.CountLine) string {
	switch {
	case c.Stock == 0:
		return "stock not given"
	case c.Over > 0:
		return fmt.Sprintf("%d on hand: %d too few", c.Stock, c.Over)
	}
	return fmt.Sprintf("%d on hand", c.Stock)
}

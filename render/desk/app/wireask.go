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

func needPlaced(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if a.inBook() == nil || len(a.chosenPlaced()) == 0 {
		return "choose placed effects on the page Placed effects first"
	}
	return ""
}

func needGroup(a *App) string {
	if why := needChosenEdit(a); why != "" {
		return why
	}
	if a.book.refs[0].Kind != "group" {
		return "choose a group on the page Groups first"
	}
	return ""
}

func needWired(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if a.inBook() == nil || len(a.chosenWires()) == 0 {
		return "choose an output or a placed effect with a wire first"
	}
	return ""
}

// chosenPlaced gives the placed effects of the chosen rows, each once: rows of themselves, of their outputs, of their groups.
func (a *App) chosenPlaced() []timeline.ID {
	var ids []timeline.ID
	add := func(list ...timeline.ID) {
		for _, id := range list {
			if a.work.shown.Rig.PlacedEffect(id) != nil && !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	for _, e := range a.ledgerOf(a.book.at).chosen() {
		switch rec := e.rec.(type) {
		case *timeline.Placed:
			add(rec.ID)
		case *timeline.Wire:
			add(rec.Placed)
		case *timeline.Group:
			add(rec.Members...)
		}
	}
	return ids
}

// chosenUnits gives the banks and devices of the chosen rows, each once.
func (a *App) chosenUnits() []timeline.ID {
	var ids []timeline.ID
	for _, e := range a.ledgerOf(a.book.at).chosen() {
		id := timeline.ID("")
		switch rec := e.rec.(type) {
		case *timeline.Bank:
			id = rec.ID
		case *timeline.Device:
			id = rec.ID
		case *timeline.Wire:
			id = rec.Unit
		}
		if id != "" && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	return ids
}

// chosenWires gives the wires of the chosen outputs or placed effects.
func (a *App) chosenWires() []timeline.Ref {
	var refs []timeline.Ref
	for _, e := range a.ledgerOf(a.book.at).chosen() {
		switch rec := e.rec.(type) {
		case *timeline.Wire:
			refs = append(refs, e.ref)
		case *timeline.Placed:
			for _, w := range a.work.shown.Rig.Wires {
				if w.Placed == rec.ID {
					refs = append(refs, timeline.Ref{Kind: "wire", ID: w.ID})
				}
			}
		}
	}
	return refs
}

// unwire takes the chosen wires away as one step.
func (a *App) unwire() {
	refs := a.chosenWires()
	a.do(change{"take away " + counted(len(refs), "wire"), []timeline.Edit{func(d *timeline.Draft) error {
		for _, r := range refs {
			if err := d.Remove(r); err != nil {
				return err
			}
		}
		return nil
	}}})
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

// askSwap asks which bank takes which one's place.
func (a *App) askSwap() {
	from := timeline.ID("")
	if units := a.chosenUnits(); len(units) > 0 {
		from = units[0]
	}
	for _, b := range a.work.shown.Rig.Banks {
		if from == "" && b.Dead {
			from = b.ID
		}
	}
	old, olds := a.choiceOf("id", "Dead bank", "bank", from, false)
	next, news := a.choiceOf("new", "Takes over", "bank", "", false)
	if next.at == old.at {
		next.at = (old.at + 1) % len(news)
	}
	old.help, next.help = "the bank whose wires move; it is taken out of service", "the bank that they move to; outputs keep their number where it is free there"
	d := &asking{title: "Swap a bank", verb: "Swap", caution: sheet.CircuitCaution + " " + sheet.Caution, fields: []*ask{old, next}}
	d.work = func(a *App, d *asking) outcome { return a.swapped(olds[old.at], news[next.at]) }
	d.show(a)
}

// swapped is what a swap comes to: rewire list, what finds no place, differences, retest list.
func (a *App) swapped(from, to timeline.ID) outcome {
	s := a.work.s.Show()
	p, err := s.ProposeBankSwap(from, to)
	if err != nil {
		return outcome{err: err}
	}
	r := sheet.NewRewire(s, p)
	out := outcome{change: change{"swap " + r.OldName + " for " + r.NewName, []timeline.Edit{p.Edit()}}, head: []string{"Effects", "From output", "To output", "Test, ohm"}}
	for _, m := range r.Moves {
		out.rows = append(out.rows, []string{m.Effects, strconv.Itoa(m.From), strconv.Itoa(m.To), retestOhms(r, m.To)})
	}
	for _, m := range r.Homeless {
		out.rows = append(out.rows, []string{m.Effects, strconv.Itoa(m.From), "no place", ""})
		out.lines = append(out.lines, fmt.Sprintf("No place: output %d, %s: %s. It stays on %s.", m.From, m.Effects, m.Why, r.OldName))
	}
	for _, text := range r.Warnings {
		out.lines = append(out.lines, "Warning: "+text+".")
	}
	out.lines = append(out.lines, fmt.Sprintf("%s is taken out of service. No cue changes. Test every output of %s that is listed again.", r.OldName, r.NewName))
	return out
}

func retestOhms(r *sheet.Rewire, output int) string {
	for _, x := range r.Retest {
		if x.Output == output && x.Expect > 0 {
			return strconv.FormatFloat(x.Expect, 'f', 2, 64)
		}
	}
	return "not given"
}

// askGroup makes a group of the chosen placed effects.
func (a *App) askGroup() {
	ids := a.chosenPlaced()
	order := choiceOfWords("order", "Order", timeline.Orders(), timeline.OrderLeftToRight)
	order.help = "left is the audience's left"
	d := &asking{title: "Group of " + counted(len(ids), "placed effect"), verb: "Make group", fields: []*ask{{name: "name", label: "Name", hint: "what the crew calls it"}, order}}
	id := a.work.ids()("group", "")
	d.work = func(a *App, d *asking) outcome {
		name := strings.TrimSpace(d.field("name").text)
		if name == "" {
			return outcome{err: &timeline.ValueError{Field: "name", Want: "is empty; write what the crew calls it"}}
		}
		return a.arranged(ids, timeline.Orders()[order.at], change{"make group " + name, []timeline.Edit{timeline.AddGroup(id, name, ids, timeline.Orders()[order.at])}})
	}
	d.show(a)
}

// arranged shows placed effects in an order.
func (a *App) arranged(ids []timeline.ID, order timeline.Order, c change) outcome {
	list, err := a.work.s.Show().Rig.Arrange(ids, order)
	if err != nil {
		return outcome{err: err}
	}
	out := outcome{change: c, head: []string{"Effect", "Place", "Position"}}
	for i, id := range list {
		where := ""
		if p := a.work.shown.Rig.PlacedEffect(id); p != nil {
			where = a.nameOf([]string{"position"}, "", p.Position)
		}
		out.rows = append(out.rows, []string{a.nameOf([]string{"placed"}, "", id), strconv.Itoa(i + 1), where})
	}
	return out
}

// askOrder puts the chosen group in another order.
func (a *App) askOrder() {
	ref := a.book.refs[0]
	g := a.work.shown.Rig.Group(ref.ID)
	order := choiceOfWords("order", "Order", timeline.Orders(), timeline.OrderLeftToRight)
	d := &asking{title: "Order of " + g.Name, verb: "Order", fields: []*ask{order}}
	d.work = func(a *App, d *asking) outcome {
		g := a.work.s.Show().Rig.Group(ref.ID)
		if g == nil {
			return outcome{}
		}
		by := timeline.Orders()[order.at]
		return a.arranged(g.Members, by, change{"order " + g.Name, []timeline.Edit{func(d *timeline.Draft) error {
			c := *g
			var err error
			if c.Members, err = d.Show().Rig.Arrange(g.Members, by); err == nil {
				d.Put("", &c)
			}
			return err
		}}})
	}
	d.show(a)
}

package app

import (
	"cmp"
	"fmt"
	"image"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
)

// output is one output of a bank or head of a device, with one wire on it or none.
type output struct {
	unit   timeline.Ref
	name   string
	number int
	wire   *timeline.Wire
	dead   bool
	bank   *timeline.BankType // nil for devices
	beyond bool               // the unit has no such output
}

// outputsListed gives all outputs in the order of units and numbers; an output with several wires stands once for each.
func (a *App) outputsListed() []table.Row {
	s := a.work.shown
	wires := map[timeline.OutputRef][]*timeline.Wire{}
	for _, w := range s.Rig.Wires {
		o := timeline.OutputRef{Driver: w.Driver, Output: w.Output}
		wires[o] = append(wires[o], w)
	}
	var list []table.Row
	add := func(unit output, count int) {
		for n := 1; n <= count; n++ {
			list = unit.enter(s, list, n, wires)
		}
		var more []int
		for o := range wires {
			if o.Driver == unit.unit.ID && o.Output > count {
				more = append(more, o.Output)
			}
		}
		slices.Sort(more)
		unit.beyond = true
		for _, n := range more {
			list = unit.enter(s, list, n, wires)
		}
	}
	banks := slices.Clone(s.Rig.Banks)
	slices.SortStableFunc(banks, func(x, y *timeline.Bank) int {
		return cmp.Or(strings.Compare(x.Space, y.Space), cmp.Compare(x.Address, y.Address))
	})
	for _, b := range banks {
		t, n := s.Stock.BankType(b.Type), 0
		if t != nil {
			n = t.Outputs
		}
		add(output{unit: timeline.Ref{Kind: "bank", ID: b.ID}, name: cmp.Or(b.Name, string(b.ID)), dead: b.Dead, bank: t}, n)
	}
	devices := slices.Clone(s.Rig.Devices)
	timeline.ByAddress(devices)
	for _, v := range devices {
		n := 0
		if t := s.Stock.DeviceTypeOf(v); t != nil {
			n = t.Heads()
		}
		add(output{unit: timeline.Ref{Kind: "device", ID: v.ID}, name: cmp.Or(v.Name, string(v.ID)), dead: v.Dead}, n)
	}
	return list
}

// enter adds the rows of one output.
func (o output) enter(s *timeline.Show, list []table.Row, n int, wires map[timeline.OutputRef][]*timeline.Wire) []table.Row {
	o.number = n
	on := wires[timeline.OutputRef{Driver: o.unit.ID, Output: n}]
	if len(on) == 0 {
		return append(list, table.Row{Key: fmt.Sprintf("%s/%d", o.unit, n), Ref: o.unit, Record: find(s, o.unit), More: o})
	}
	for _, w := range on {
		o.wire = w
		list = append(list, table.Row{Key: "wire/" + string(w.ID), Ref: timeline.Ref{Kind: "wire", ID: w.ID}, Record: w, More: o})
	}
	return list
}

// placedOn gives the placed effect on an output, or nil.
func (o *output) placedOn(s *timeline.Show) *timeline.Placed {
	if o.wire == nil {
		return nil
	}
	return s.Rig.PlacedEffect(o.wire.Placed)
}

func (a *App) outputColumns() []table.Column {
	col := func(title string, width int, right bool, text func(a *App, o *output) string) table.Column {
		return table.Column{Title: title, Width: width, Right: right, Text: func(e *table.Row) string {
			o := e.More.(output)
			return text(a, &o)
		}}
	}
	effect := col("Placed effect", 0, false, func(a *App, o *output) string {
		switch p := o.placedOn(a.work.shown); {
		case p != nil:
			return p.Name
		case o.wire != nil:
			return string(o.wire.Placed) + " (gone)"
		}
		return "free"
	})
	effect.Draw = a.drawOutput
	state := col("State", 170, false, func(a *App, o *output) string { return outputState(a.work.shown, o) })
	state.Draw = table.State(a, state.Text)
	return []table.Column{
		col("Bank or device", 150, false, func(_ *App, o *output) string { return o.name }),
		col("Output", 66, true, func(_ *App, o *output) string { return strconv.Itoa(o.number) }),
		effect,
		col("Article", 140, false, func(a *App, o *output) string {
			if p := o.placedOn(a.work.shown); p != nil {
				return a.nameOf([]string{"article"}, "", p.Article)
			}
			return ""
		}),
		col("Position", 120, false, func(a *App, o *output) string {
			if p := o.placedOn(a.work.shown); p != nil {
				return a.nameOf([]string{"position"}, "", p.Position)
			}
			return ""
		}),
		col("Circuit", 100, false, func(a *App, o *output) string {
			if o.wire == nil {
				return ""
			}
			return a.nameOf([]string{"circuit"}, "", o.wire.Circuit)
		}),
		col("Expected, ohm", 104, true, func(a *App, o *output) string { return expectedOhms(a.work.shown, o) }),
		col("Lead, s", 76, true, func(a *App, o *output) string { return leadOn(a, o) }),
		state,
	}
}

// drawOutput sets the effect on an output after its shape; a free one is faint.
func (a *App) drawOutput(e *table.Row, r image.Rectangle) bool {
	o := e.More.(output)
	p := o.placedOn(a.work.shown)
	if p == nil {
		s := a.ui.Scene()
		in := image.Rect(r.Min.X+s.Px(32), r.Min.Y, r.Max.X, r.Max.Y)
		text := "free"
		if o.wire != nil {
			text = string(o.wire.Placed) + " (gone)"
		}
		s.TextCut(in, render.TypeLabel, render.InkFaint, text)
		return true
	}
	table.Named(a, a.work.shown.Stock.Article(p.Article), p.Name, o.dead, r)
	return true
}

// expectedOhms is what a meter should show at an output; "" where no circuit is given.
func expectedOhms(s *timeline.Show, o *output) string {
	if o.wire == nil {
		return ""
	}
	c := s.Rig.Circuit(o.wire.Circuit)
	if c == nil {
		return ""
	}
	l, err := s.CircuitLoad(c, o.bank)
	if err != nil {
		return "not given"
	}
	return l.Reading()
}

// leadOn is the lead of what hangs on an output, with the latency of bank or device.
func leadOn(a *App, o *output) string {
	p := o.placedOn(a.work.shown)
	if p == nil {
		return ""
	}
	art := a.work.shown.Stock.Article(p.Article)
	if art == nil {
		return ""
	}
	late := timeline.Time(0)
	if o.bank != nil {
		late = o.bank.Latency
	} else if v := a.work.shown.Rig.Device(o.unit.ID); v != nil {
		if t := a.work.shown.Stock.DeviceTypeOf(v); t != nil {
			late = t.Latency
		}
	}
	return page.Short((art.Lead + late).String())
}

// outputState says what is wrong at an output.
func outputState(s *timeline.Show, o *output) string {
	switch {
	case o.beyond:
		return "no such output"
	case o.dead && o.wire != nil:
		return "bank out of service"
	case o.wire == nil:
		return ""
	}
	if p := o.placedOn(s); p != nil {
		if art := s.Stock.Article(p.Article); art != nil && art.Control != controlOf(o) {
			return "needs " + string(art.Control)
		}
	}
	if c := s.Rig.Circuit(o.wire.Circuit); c != nil && o.bank != nil {
		l, err := s.CircuitLoad(c, o.bank)
		if err != nil {
			return "cable not in the table"
		}
		if list := l.Warnings(c, o.bank); len(list) > 0 {
			return "current: see Circuits"
		}
	}
	return ""
}

func controlOf(o *output) timeline.Control {
	switch {
	case o.unit.Kind == "device":
		return timeline.SlotControl
	case o.bank != nil && o.bank.Kind == timeline.RelayBank:
		return timeline.RelayControl
	}
	return timeline.IgniterControl
}

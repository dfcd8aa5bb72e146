package wiring

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

// listed gives all outputs in the order of units and numbers; an output with several wires stands once for each.
func (p *wiring) listed() []table.Row {
	s := p.h.Show()
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
		add(output{unit: timeline.Ref{Kind: "bank", ID: b.ID}, name: s.Called(b), dead: b.Dead, bank: t}, n)
	}
	devices := slices.Clone(s.Rig.Devices)
	timeline.ByAddress(devices)
	for _, v := range devices {
		n := 0
		if t := s.Stock.DeviceTypeOf(v); t != nil {
			n = t.Heads()
		}
		add(output{unit: timeline.Ref{Kind: "device", ID: v.ID}, name: s.Called(v), dead: v.Dead}, n)
	}
	return list
}

// enter adds the rows of one output.
func (o output) enter(s *timeline.Show, list []table.Row, n int, wires map[timeline.OutputRef][]*timeline.Wire) []table.Row {
	o.number = n
	on := wires[timeline.OutputRef{Driver: o.unit.ID, Output: n}]
	if len(on) == 0 {
		return append(list, table.Row{Key: fmt.Sprintf("%s/%d", o.unit, n), Ref: o.unit, Record: page.Find(s, o.unit), More: o})
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

func (p *wiring) columns() []table.Column {
	col := func(title string, width int, right bool, text func(o *output) string) table.Column {
		return table.Column{Title: title, Width: width, Right: right, Text: func(e *table.Row) string {
			o := e.More.(output)
			return text(&o)
		}}
	}
	effect := col("Placed effect", 0, false, func(o *output) string {
		switch x := o.placedOn(p.h.Show()); {
		case x != nil:
			return x.Name
		case o.wire != nil:
			return string(o.wire.Placed) + " (gone)"
		}
		return "free"
	})
	effect.Draw = p.drawEffect
	state := col("State", 170, false, func(o *output) string { return stateOf(p.h.Show(), o) })
	state.Draw = table.State(p.h, state.Text)
	return []table.Column{
		col("Bank or device", 150, false, func(o *output) string { return o.name }),
		col("Output", 66, true, func(o *output) string { return strconv.Itoa(o.number) }),
		effect,
		col("Article", 140, false, func(o *output) string {
			if x := o.placedOn(p.h.Show()); x != nil {
				return page.NameOf(p.h.Show(), []string{"article"}, "", x.Article)
			}
			return ""
		}),
		col("Position", 120, false, func(o *output) string {
			if x := o.placedOn(p.h.Show()); x != nil {
				return page.NameOf(p.h.Show(), []string{"position"}, "", x.Position)
			}
			return ""
		}),
		col("Circuit", 100, false, func(o *output) string {
			if o.wire == nil {
				return ""
			}
			return page.NameOf(p.h.Show(), []string{"circuit"}, "", o.wire.Circuit)
		}),
		col("Expected, ohm", 104, true, func(o *output) string { return expectedOhms(p.h.Show(), o) }),
		col("Lead, s", 76, true, func(o *output) string { return p.leadOn(o) }),
		state,
	}
}

// drawEffect sets the effect on an output after its shape; a free one is faint.
func (p *wiring) drawEffect(e *table.Row, r image.Rectangle) bool {
	o := e.More.(output)
	x := o.placedOn(p.h.Show())
	if x == nil {
		s := p.h.UI().Scene()
		in := image.Rect(r.Min.X+s.Px(32), r.Min.Y, r.Max.X, r.Max.Y)
		text := "free"
		if o.wire != nil {
			text = string(o.wire.Placed) + " (gone)"
		}
		s.TextCut(in, render.TypeLabel, render.InkFaint, text)
		return true
	}
	table.Named(p.h, p.h.Show().Stock.Article(x.Article), x.Name, o.dead, r)
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
func (p *wiring) leadOn(o *output) string {
	x := o.placedOn(p.h.Show())
	if x == nil {
		return ""
	}
	art := p.h.Show().Stock.Article(x.Article)
	if art == nil {
		return ""
	}
	late := timeline.Time(0)
	if o.bank != nil {
		late = o.bank.Latency
	} else if v := p.h.Show().Rig.Device(o.unit.ID); v != nil {
		if t := p.h.Show().Stock.DeviceTypeOf(v); t != nil {
			late = t.Latency
		}
	}
	return page.Short((art.Lead + late).String())
}

// stateOf says what is wrong at an output.
func stateOf(s *timeline.Show, o *output) string {
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

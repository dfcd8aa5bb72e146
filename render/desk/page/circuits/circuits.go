package circuits

import (
	"fmt"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
)

// circuits is the page of one host; it remembers nothing but its table.
type circuits struct{ h page.Host }

// New gives the page of circuits.
func New(h page.Host) page.Family {
	p := circuits{h}
	return page.Family{Pages: []page.Page{
		table.Records(h, page.Page{ID: "circuits", Name: "Circuits", Part: "Wiring", Help: "igniters and cable on one output: expected ohms, current, margin", Kind: "circuit"}, table.Spec{Empty: "No circuit yet. Press Insert to add one: igniters in series or parallel, and the cable to them; wires then name it.",
			Note: load.CircuitCaution, Columns: p.columns}),
	}}
}

func (p circuits) columns() []table.Column {
	figure := func(title string, width int, text func(c *timeline.Circuit, t *timeline.BankType, l *timeline.CircuitLoad) string) table.Column {
		return table.Column{Title: title, Width: width, Right: true, Text: func(e *table.Row) string {
			c := e.Record.(*timeline.Circuit)
			t := p.bankOf(c.ID)
			l, err := p.h.Show().CircuitLoad(c, t)
			if err != nil {
				return ""
			}
			return text(c, t, &l)
		}}
	}
	on := table.Column{Title: "On output", Width: 150, Text: func(e *table.Row) string {
		var texts []string
		for _, w := range p.h.Show().Rig.Wires {
			if w.Circuit == e.Ref.ID {
				texts = append(texts, fmt.Sprintf("%s %d", page.NameOf(p.h.Show(), []string{"bank", "device"}, "", w.Driver), w.Output))
			}
		}
		return strings.Join(texts, ", ")
	}}
	state := table.Column{Title: "State", Width: 0, Text: func(e *table.Row) string { return p.state(e.Record.(*timeline.Circuit)) }}
	state.Draw = table.State(p.h, state.Text)
	return []table.Column{table.Field(p.h, "circuit", "name", 120), on,
		figure("Expected, ohm", 104, func(_ *timeline.Circuit, _ *timeline.BankType, l *timeline.CircuitLoad) string {
			return l.Reading()
		}),
		figure("Each, A", 68, func(_ *timeline.Circuit, _ *timeline.BankType, l *timeline.CircuitLoad) string {
			return page.Figure(l.Each)
		}),
		figure("Margin, ×", 76, func(_ *timeline.Circuit, _ *timeline.BankType, l *timeline.CircuitLoad) string {
			return page.Figure(l.Margin)
		}),
		state, table.Field(p.h, "circuit", "joining", 70), table.Field(p.h, "circuit", "igniters", 66), table.Field(p.h, "circuit", "ohms", 86),
		table.Field(p.h, "circuit", "all-fire", 80), table.Field(p.h, "circuit", "cable", 74), table.Field(p.h, "circuit", "section", 94)}
}

// bankOf gives the type of the first bank that a circuit hangs on, or nil.
func (p circuits) bankOf(circuit timeline.ID) *timeline.BankType {
	for _, w := range p.h.Show().Rig.Wires {
		if w.Circuit == circuit {
			if b := p.h.Show().Rig.Bank(w.Driver); b != nil {
				return p.h.Show().Stock.BankType(b.Type)
			}
		}
	}
	return nil
}

// state says what of a circuit is beyond its figures, or what they lack.
func (p circuits) state(c *timeline.Circuit) string {
	t := p.bankOf(c.ID)
	l, err := p.h.Show().CircuitLoad(c, t)
	if err != nil {
		return err.Error()
	}
	if list := l.Warnings(c, t); len(list) > 0 {
		return strings.Join(list, "; ")
	}
	if len(l.Missing) > 0 {
		return "not given: " + strings.Join(l.Missing, ", ")
	}
	return ""
}

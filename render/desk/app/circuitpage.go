package app

import (
	"fmt"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
)

func (a *App) circuitColumns() []table.Column {
	load := func(title string, width int, text func(c *timeline.Circuit, t *timeline.BankType, l *timeline.CircuitLoad) string) table.Column {
		return table.Column{Title: title, Width: width, Right: true, Text: func(e *table.Row) string {
			c := e.Record.(*timeline.Circuit)
			t := a.bankOf(c.ID)
			l, err := a.work.shown.CircuitLoad(c, t)
			if err != nil {
				return ""
			}
			return text(c, t, &l)
		}}
	}
	on := table.Column{Title: "On output", Width: 150, Text: func(e *table.Row) string {
		var texts []string
		for _, w := range a.work.shown.Rig.Wires {
			if w.Circuit == e.Ref.ID {
				texts = append(texts, fmt.Sprintf("%s %d", a.nameOf([]string{"bank", "device"}, "", w.Driver), w.Output))
			}
		}
		return strings.Join(texts, ", ")
	}}
	state := table.Column{Title: "State", Width: 0, Text: func(e *table.Row) string { return circuitState(a, e.Record.(*timeline.Circuit)) }}
	state.Draw = table.State(a, state.Text)
	return []table.Column{table.Field(a, "circuit", "name", 120), on,
		load("Expected, ohm", 104, func(_ *timeline.Circuit, _ *timeline.BankType, l *timeline.CircuitLoad) string {
			return l.Reading()
		}),
		load("Each, A", 68, func(_ *timeline.Circuit, _ *timeline.BankType, l *timeline.CircuitLoad) string {
			return page.Figure(l.Each)
		}),
		load("Margin, ×", 76, func(_ *timeline.Circuit, _ *timeline.BankType, l *timeline.CircuitLoad) string {
			return page.Figure(l.Margin)
		}),
		state, table.Field(a, "circuit", "joining", 70), table.Field(a, "circuit", "igniters", 66), table.Field(a, "circuit", "ohms", 86),
		table.Field(a, "circuit", "all-fire", 80), table.Field(a, "circuit", "cable", 74), table.Field(a, "circuit", "section", 94)}
}

// bankOf gives the type of the first bank that a circuit hangs on, or nil.
func (a *App) bankOf(circuit timeline.ID) *timeline.BankType {
	for _, w := range a.work.shown.Rig.Wires {
		if w.Circuit == circuit {
			if b := a.work.shown.Rig.Bank(w.Driver); b != nil {
				return a.work.shown.Stock.BankType(b.Type)
			}
		}
	}
	return nil
}

// circuitState says what of a circuit is beyond its figures, or what they lack.
func circuitState(a *App, c *timeline.Circuit) string {
	t := a.bankOf(c.ID)
	l, err := a.work.shown.CircuitLoad(c, t)
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

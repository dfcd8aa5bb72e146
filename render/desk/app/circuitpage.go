package app

import (
	"fmt"
	"strings"

	"emberbeat/timeline"
)

func circuitColumns() []column {
	load := func(title string, width int, text func(c *timeline.Circuit, t *timeline.BankType, l *timeline.CircuitLoad) string) column {
		return column{title: title, width: width, right: true, text: func(a *App, e *entry) string {
			c := e.rec.(*timeline.Circuit)
			t := a.bankOf(c.ID)
			l, err := a.work.shown.CircuitLoad(c, t)
			if err != nil {
				return ""
			}
			return text(c, t, &l)
		}}
	}
	on := column{title: "On output", width: 150, text: func(a *App, e *entry) string {
		var texts []string
		for _, w := range a.work.shown.Rig.Wires {
			if w.Circuit == e.ref.ID {
				texts = append(texts, fmt.Sprintf("%s %d", a.nameOf([]string{"bank", "device"}, "", w.Unit), w.Output))
			}
		}
		return strings.Join(texts, ", ")
	}}
	state := column{title: "State", width: 0, text: func(a *App, e *entry) string { return circuitState(a, e.rec.(*timeline.Circuit)) }}
	state.draw = drawState(state.text)
	return []column{fieldColumn("circuit", "name", 120), on,
		load("Expected, ohm", 104, func(_ *timeline.Circuit, _ *timeline.BankType, l *timeline.CircuitLoad) string {
			return l.Reading()
		}),
		load("Each, A", 68, func(_ *timeline.Circuit, _ *timeline.BankType, l *timeline.CircuitLoad) string { return number(l.Each) }),
		load("Margin, ×", 76, func(_ *timeline.Circuit, _ *timeline.BankType, l *timeline.CircuitLoad) string {
			return number(l.Margin)
		}),
		state, fieldColumn("circuit", "joining", 70), fieldColumn("circuit", "igniters", 66), fieldColumn("circuit", "ohms", 86),
		fieldColumn("circuit", "all-fire", 80), fieldColumn("circuit", "cable", 74), fieldColumn("circuit", "section", 94)}
}

// bankOf gives the type of the first bank that a circuit hangs on, or nil.
func (a *App) bankOf(circuit timeline.ID) *timeline.BankType {
	for _, w := range a.work.shown.Rig.Wires {
		if w.Circuit == circuit {
			if b := a.work.shown.Rig.Bank(w.Unit); b != nil {
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

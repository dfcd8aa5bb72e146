package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "circuit-count",
	Summary: "a circuit has another number of igniters than pieces hang on its output",
	Reason: "Every piece on an igniter output has an igniter of its own: a circuit that counts another number of them gives another resistance than what will be measured, and an order list that buys too few. Units of one output are " +
		"counted, a group article as one piece.",
	Scope:    WholeSet,
	Severity: Warning,
	Settings: []Setting{
		{Name: "igniters", Field: "circuit igniters", Mark: timeline.Measured, Source: "the rig", Help: "how many a circuit has"},
	},
	rig: checkCircuitCount,
})

func checkCircuitCount(r *rigRun) {
	pieces := map[outputOf]int{}
	first := map[outputOf]*timeline.Unit{}
	circuits := map[outputOf]*timeline.Circuit{}
	var order []outputOf
	for _, u := range r.plan.Units.All {
		if u.Out || u.Article == nil || u.Article.Control != timeline.IgniterControl {
			continue
		}
		for _, d := range u.Drives {
			if d.Dead || d.BankType == nil || d.BankType.Kind != timeline.IgniterBank {
				continue
			}
			at := outputOf{d.Bank, d.Wire.Output}
			if first[at] == nil {
				first[at], order = u, append(order, at)
			}
			pieces[at]++
			if c := r.key.rig.Circuit(d.Wire.Circuit); c != nil && circuits[at] == nil {
				circuits[at] = c
			}
		}
	}
	for _, at := range order {
		c := circuits[at]
		if c == nil || c.Igniters == pieces[at] {
			continue
		}
		ref := rigRef("circuit", c.ID)
		f := Finding{Ref: ref, Others: []timeline.Ref{rigRef("bank", at.bank.ID), rigRef("placed", first[at].Placed.ID)}}
		f.Text = fmt.Sprintf("%s output %d: %s counts %s, and %s on it", r.name(at.bank), at.output, r.name(c), timeline.Counted(c.Igniters, "igniter"), hangs(pieces[at]))
		f.Values = []Value{count("igniters", c.Igniters), count("pieces", pieces[at])}
		f.Grounds = []Ground{ofRecord(ref, "igniters", fmt.Sprint(c.Igniters), timeline.Measured)}
		f.Help = "correct the circuit, or what is wired to the output"
		r.add(r.tune(first[at], first[at].Article), "", f)
	}
}

func hangs(n int) string {
	if n == 1 {
		return "1 piece hangs"
	}
	return fmt.Sprintf("%d pieces hang", n)
}

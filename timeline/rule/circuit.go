package rule

import (
	"fmt"
	"strings"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "circuit",
	Summary: "a circuit gives its igniters too little current, or draws more than its output has",
	Reason: "R = output + 2 x cable x ohm per km / 1000 + igniters (in series n x R, in parallel R / n); through each igniter flows U / R, in parallel a share of it. It must not be less " +
		"than the all-fire current, and what lies below margin times that is a warning. What flows when several outputs of a bank are on together is looked at by bank-power. Planning figures with the cable at one temperature: what counts is the resistance measured on site, with a test current the maker allows. " +
		"A figure that is not given is not compared: see not-checked.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "all-fire", Unit: "A", Field: "circuit all-fire", Mark: timeline.Label, Source: "the igniter's maker", Help: "current each igniter needs"},
		{Name: "volts", Unit: "V", Field: "banktype volts", Mark: timeline.CommonPractice, Source: "the bank type's own mark", Help: "output voltage"},
		{Name: "amps", Unit: "A", Field: "banktype amps", Mark: timeline.CommonPractice, Source: "the bank type's own mark", Help: "most current that an output gives; 0 = not given"},
		{Name: "margin", Default: "1.5", Mark: timeline.CommonPractice, Source: "common practice; makers often give 1.5 to 2 for series (from memory); a label goes first", Help: "times the all-fire current that should flow"},
		{Name: "celsius", Default: "20", Unit: "°C", Mark: timeline.Judgement, Source: "our judgement: the temperature that IEC 60228 gives ohm per km at", Help: "temperature of the cable; 40 in the sun"},
	},
	rig: checkCircuits,
})

// The places of its settings.
var (
	circuitMargin  = setting("margin", "circuit")
	circuitCelsius = setting("celsius", "circuit") // read by Show.CircuitLoad
)

// hung is a circuit on outputs of one bank type.
type hung struct {
	circuit *timeline.Circuit
	typ     *timeline.BankType
}

// eachCircuit gives every circuit on every type of bank it hangs on, with the
// first of its units and the outputs.
func (r *rigRun) eachCircuit(do func(h hung, u *timeline.Unit, outputs []string)) {
	first := map[hung]*timeline.Unit{}
	outputs := map[hung][]string{}
	var order []hung
	for _, u := range r.plan.Units.All {
		for _, d := range u.Drives {
			c := r.plan.Show.Rig.Circuit(d.Wire.Circuit)
			if c == nil || d.Dead || u.Out || d.Bank == nil {
				continue
			}
			h := hung{c, d.BankType}
			if first[h] == nil {
				first[h] = u
				order = append(order, h)
			}
			outputs[h] = addOnce(outputs[h], d.Label(timeline.EffectSlot))
		}
	}
	for _, h := range order {
		do(h, first[h], outputs[h])
	}
}

func checkCircuits(r *rigRun) {
	r.eachCircuit(func(h hung, u *timeline.Unit, outputs []string) {
		t := r.tune(u, u.Article)
		l, err := r.plan.Show.CircuitLoad(h.circuit, h.typ)
		if err != nil {
			r.circuitFinding(t, h, l, outputs, err.Error(), "correct that field")
			return
		}
		if needs := h.circuit.AllFire * t.of(circuitMargin).plain; l.Each > 0 && needs > 0 && l.Each < needs {
			if l.Each >= h.circuit.AllFire { // enough by the maker's number, and not by the margin
				low := *t
				low.severity = lesser(t.severity, Warning)
				t = &low
			}
			r.circuitFinding(t, h, l, outputs, fmt.Sprintf("%.3g A through each of %s in %s, and %s A are needed", l.Each, timeline.Counted(h.circuit.Igniters, "igniter"), h.circuit.Joining, share(needs)),
				"hang fewer igniters on it, use a thicker or shorter cable or more volts")
		}
		if h.typ != nil && h.typ.Amps > 0 && l.Amps > h.typ.Amps {
			r.circuitFinding(t, h, l, outputs, fmt.Sprintf("%.3g A is drawn, and an output of %s gives %s A", l.Amps, r.name(h.typ), share(h.typ.Amps)), "hang less on one output")
		}
	})
}

func (r *rigRun) circuitFinding(t *tuning, h hung, l timeline.CircuitLoad, outputs []string, text, help string) {
	c := h.circuit
	ref := rigRef("circuit", c.ID)
	f := Finding{Ref: ref, Text: some(outputs) + ": " + r.name(c) + ": " + text}
	f.Values = []Value{word("outputs", strings.Join(outputs, ", ")), measure("each", roundTo(l.Each, 3), "A"), measure("drawn", roundTo(l.Amps, 3), "A"), measure("expected", roundTo(l.Expected, 3), "ohm"), measure("celsius", l.Celsius, "°C")}
	f.Grounds = []Ground{ofRecord(ref, "all-fire", share(c.AllFire)+" A", timeline.Label)}
	if h.typ != nil {
		f.Others = []timeline.Ref{rigRef("banktype", h.typ.ID)}
		f.Grounds = append(f.Grounds, Ground{rigRef("banktype", h.typ.ID), "volts", share(h.typ.Volts) + " V", h.typ.Mark, ""})
		if h.typ.Amps > 0 {
			f.Grounds = append(f.Grounds, Ground{rigRef("banktype", h.typ.ID), "amps", share(h.typ.Amps) + " A", h.typ.Mark, ""})
		}
	}
	f.Grounds = append(f.Grounds, r.rule.fromSetting(circuitMargin, t), r.rule.fromSetting(circuitCelsius, t))
	f.Help = help + deferral
	if l.Expected > 0 {
		f.Help = help + "; a planning figure: measure " + l.Reading() + " ohm expected on site" + deferral
	}
	r.add(t, "", f)
}

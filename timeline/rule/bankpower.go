package rule

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

var _ = enter(Rule{
	Name:    "bank-power",
	Summary: "igniter outputs of a bank that are on together draw more than the bank gives, or leave an igniter too little",
	Reason: "All outputs whose pulses overlap are on together behind the inner resistance of the bank: the current of all is U / (R of the bank + 1 / sum of 1 / R), and each igniter gets its part of what is left of the volts. Where an igniter opens early the others get more than " +
		"this. The current of all must not exceed what the bank gives, and none may fall below its all-fire current: an error; below margin times that (see circuit) it is a warning. Banks with a capacity are looked at by circuit, one output at a time. " +
		"Most amps, inner resistance and pulse are fields of the bank type. What is not given is not compared: see bank-not-given.",
	Scope:    InSong,
	Severity: Error,
	Settings: []Setting{
		{Name: "bank-amps", Unit: "A", Field: "banktype bank-amps", Mark: timeline.Label, Source: "the bank type's own mark", Help: "most current of the whole bank; 0 = not given"},
		{Name: "bank-ohms", Unit: "ohm", Field: "banktype bank-ohms", Mark: timeline.Label, Source: "the bank type's own mark", Help: "inner resistance that all outputs share; 0 = not given"},
		{Name: "pulse", Default: "0.5", Unit: "s", Mark: timeline.Judgement, Source: "our judgement, rather too long than too short", Help: "how long an output is on where the bank type does not say"},
		{Name: "margin", Default: "1.5", Mark: timeline.CommonPractice, Source: "common practice, as for circuit; a label goes first", Help: "times the all-fire current that should flow"},
	},
	song: checkBankPower,
})

var _ = enter(Rule{
	Name:     "bank-not-given",
	NoData:   true,
	Summary:  "igniter outputs of a bank are on together, and what it gives at once is not given",
	Reason:   "A bank shares its current between the outputs that are on together. Without its most amps and its inner resistance nobody has compared that: the note says for how many outputs, once for each bank, at the song that has most of them on.",
	Scope:    WholeSet,
	Severity: Note,
	set:      checkBankGiven,
})

var (
	bankPulse  = setting("pulse", "bank-power")
	bankMargin = setting("margin", "bank-power")
)

// fired is an igniter output that is on from a command.
type fired struct {
	at      timeline.Time
	command *timeline.Command
	drive   *timeline.Drive
	load    timeline.CircuitLoad
	circuit *timeline.Circuit // nil = what hangs on the output is not known
}

// together is what is on at once on one bank.
type together struct {
	bank *timeline.Bank
	typ  *timeline.BankType
	on   []fired
}

// firedTogether gives, for each igniter bank that a song fires, the most outputs
// that are on at once; of as many, those that draw most.
func (e *env) firedTogether(p *timeline.SongPlan, pulse timeline.Time) []together {
	byBank := map[*timeline.Bank][]fired{}
	var order []*timeline.Bank
	for i := range p.Commands {
		c := &p.Commands[i]
		for k := range c.Unit.Drives {
			d := &c.Unit.Drives[k]
			if d.Dead || d.BankType == nil || d.BankType.Kind != timeline.IgniterBank || d.BankType.Capacity > 0 {
				continue
			}
			if byBank[d.Bank] == nil {
				order = append(order, d.Bank)
			}
			f := fired{at: c.At, command: c, drive: d, circuit: e.key.rig.Circuit(d.Wire.Circuit)}
			if f.circuit != nil && f.circuit.Igniters > 0 {
				at := outputOf{d.Bank, d.Wire.Output}
				l, ok := e.loads[at]
				if !ok {
					l, _ = e.show.CircuitLoad(f.circuit, d.BankType)
					e.loads[at] = l
				}
				f.load = l
			}
			byBank[d.Bank] = append(byBank[d.Bank], f)
		}
	}
	var all []together
	for _, b := range order {
		list := byBank[b]
		slices.SortStableFunc(list, func(x, y fired) int { return cmp.Compare(x.at, y.at) })
		typ := list[0].drive.BankType
		all = append(all, together{b, typ, mostTogether(list, cmp.Or(typ.Pulse, pulse))})
	}
	return all
}

type outputOf struct {
	bank   *timeline.Bank
	output int
}

// mostTogether gives the outputs that are on at the instant at which they draw
// most, each once: pulses are half open, so that one that ends as another begins
// is not on with it.
func mostTogether(list []fired, pulse timeline.Time) []fired {
	var best []fired
	most := -1.0
	first := 0
	for i := range list {
		for list[first].at+pulse <= list[i].at {
			first++
		}
		if i+1 < len(list) && list[i+1].at == list[i].at {
			continue // more begins at this instant
		}
		var on []fired
		sum := 0.0
		for _, f := range list[first : i+1] {
			if !slices.ContainsFunc(on, func(x fired) bool { return x.drive.Wire.Output == f.drive.Wire.Output }) {
				on = append(on, f)
				sum += 1 // an output of which nothing is known counts as one more
				if f.load.Total > 0 {
					sum += 1000 / f.load.Total
				}
			}
		}
		if sum > most {
			most, best = sum, on
		}
	}
	return best
}

func checkBankPower(r *songRun) {
	t := r.songTune()
	for _, g := range r.firedTogether(r.plan, t.of(bankPulse).time) {
		var outputs []figure.Output
		var known []fired
		for _, f := range g.on {
			if f.load.Total > 0 {
				parallel := 1
				if f.circuit.Joining == timeline.InParallel {
					parallel = f.circuit.Igniters
				}
				outputs, known = append(outputs, figure.Output{Ohms: f.load.Total, Parallel: parallel}), append(known, f)
			}
		}
		if len(known) == 0 || g.typ.Volts == 0 || g.typ.Most+g.typ.Inner == 0 {
			continue
		}
		total, _, each := figure.Together(g.typ.Volts, g.typ.Inner, outputs)
		if g.typ.Most > 0 && total > g.typ.Most {
			r.bankFinding(t, &g, known[0], fmt.Sprintf("%s on together draw %.3g A, and %s gives %s A", timeline.Counted(len(g.on), "output"), total, r.name(g.bank), share(g.typ.Most)), total)
		}
		if g.typ.Inner == 0 {
			continue
		}
		for i, f := range known {
			needs := f.circuit.AllFire * t.of(bankMargin).plain
			if f.circuit.AllFire == 0 || each[i] >= needs {
				continue
			}
			at := t
			if each[i] >= f.circuit.AllFire {
				low := *t
				low.severity = lesser(t.severity, Warning)
				at = &low
			}
			r.bankFinding(at, &g, f, fmt.Sprintf("of %s on together, %s leaves %.3g A for each igniter of %s, which needs %s A", timeline.Counted(len(g.on), "output"), r.name(g.bank), each[i], r.name(f.circuit), share(needs)), total)
			break // the others say the same
		}
	}
}

func (r *songRun) bankFinding(t *tuning, g *together, f fired, text string, total float64) {
	x := about(r.plan, f.command.Cue, f.command.Hit)
	x.Text = text
	x.Others = []timeline.Ref{rigRef("bank", g.bank.ID), rigRef("banktype", g.typ.ID)}
	x.Values = []Value{count("outputs", len(g.on)), measure("drawn", roundTo(total, 3), "A")}
	x.Grounds = []Ground{{rigRef("banktype", g.typ.ID), "bank-amps", share(g.typ.Most) + " A", g.typ.Mark, ""}, {rigRef("banktype", g.typ.ID), "bank-ohms", share(g.typ.Inner) + " ohm", g.typ.Mark, ""}, r.rule.fromSetting(bankMargin, t), r.rule.fromSetting(bankPulse, t)}
	x.Help = "spread these hits over banks or in time, or hang fewer igniters on each output; a planning figure" + deferral
	r.add(t, "", x)
}

// unpowered is a bank of which a song has several outputs on together, and of
// which something is not given that comparing its current needs.
type unpowered struct {
	bank    *timeline.Bank
	outputs int
	missing string
	command *timeline.Command // the first of them
}

// unpowered lists such banks of a song.
func (e *env) unpowered(p *timeline.SongPlan) []unpowered {
	if e.settings[indexOf("bank-not-given")].silent() {
		return nil
	}
	var all []unpowered
	pulse := e.settings[indexOf("bank-power")].at(p.Song, nil, nil).of(bankPulse).time
	for _, g := range e.firedTogether(p, pulse) {
		if len(g.on) < 2 {
			continue
		}
		var list []string
		for _, m := range []struct {
			gone bool
			name string
		}{{g.typ.Volts == 0, "volts"}, {g.typ.Most == 0, "most amps of the whole bank"}, {g.typ.Inner == 0, "inner resistance of the whole bank"}} {
			if m.gone {
				list = append(list, m.name)
			}
		}
		unknown := 0
		for _, f := range g.on {
			unknown += b2i(f.load.Total == 0)
		}
		if unknown > 0 && g.typ.Volts > 0 {
			list = append(list, "what hangs on "+timeline.Counted(unknown, "output"))
		}
		if len(list) > 0 {
			all = append(all, unpowered{g.bank, len(g.on), strings.Join(list, ", "), g.on[0].command})
		}
	}
	return all
}

func checkBankGiven(r *setRun) {
	type found struct {
		unpowered
		song, songs int
	}
	var order []*timeline.Bank
	most := map[*timeline.Bank]*found{}
	for i := range r.plan.Songs {
		if r.tune(i, nil, nil).off {
			continue
		}
		for _, u := range r.results[i].sum.unpowered {
			x := most[u.bank]
			if x == nil {
				x = &found{}
				most[u.bank], order = x, append(order, u.bank)
			}
			if x.songs++; u.outputs > x.outputs {
				x.unpowered, x.song = u, i
			}
		}
	}
	for _, b := range order {
		x := most[b]
		ps := r.song(x.song)
		f := about(ps.SongPlan, x.command.Cue, x.command.Hit)
		f.Ref, f.Others = rigRef("bank", b.ID), []timeline.Ref{cueRef(ps.SongPlan, x.command.Cue)}
		f.Text = fmt.Sprintf("%s has %s on together, and its current was not compared (bank-power): not given: %s", r.name(b), timeline.Counted(x.outputs, "output"), x.missing)
		if x.songs > 1 {
			f.Text += fmt.Sprintf("; so in %d songs, here with most outputs", x.songs)
		}
		f.Values = []Value{count("outputs", x.outputs), count("songs", x.songs), word("missing", x.missing)}
		f.Help = "write it down with the bank type from the maker's sheet, and give the outputs circuits" + deferral
		r.add(r.tune(x.song, nil, nil), x.song, "", f)
	}
}

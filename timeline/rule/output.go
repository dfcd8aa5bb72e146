package rule

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "shared-output",
	Summary: "two units on one output are commanded at overlapping but different times",
	Reason: "An output opens everything that hangs on it. Two units on one output can only be played together, by commands of the same instant and " +
		"open time; other overlapping commands open both units for longer or at another time than either cue says.",
	Scope:    InSong,
	Severity: Error,
	Settings: []Setting{
		{Name: "apart", Default: "0", Unit: "s", Mark: timeline.Judgement, Source: "none: a margin of your own", Help: "least time between one unit's closing and the other's command"},
	},
	song: checkSharedOutput,
})

var outputApart = setting("apart", "shared-output")

// checkSharedOutput walks the commands of each shared output in time and
// compares each with those that are still open.
func checkSharedOutput(r *songRun) {
	byOutput := map[int][]*timeline.Command{}
	var outputs []int
	for i := range r.plan.Uses {
		for _, o := range r.units[r.plan.Uses[i].Unit.Index].outputs {
			if byOutput[o] == nil {
				outputs = append(outputs, o)
			}
			for _, k := range r.plan.Uses[i].Commands {
				if c := &r.plan.Commands[k]; c.With == nil {
					byOutput[o] = append(byOutput[o], c)
				}
			}
		}
	}
	for _, o := range outputs {
		list := byOutput[o]
		slices.SortStableFunc(list, func(a, b *timeline.Command) int { return cmp.Compare(a.At, b.At) })
		r.overlapsOnOutput(list)
	}
}

func (r *songRun) overlapsOnOutput(list []*timeline.Command) {
	var open []*timeline.Command
	for _, c := range list {
		t := r.tune(c)
		open = slices.DeleteFunc(open, func(o *timeline.Command) bool { return o.End()+r.settings.most(outputApart) <= c.At })
		for _, o := range open {
			together := o.At == c.At && o.Asked() == c.Asked()
			if o.Unit != c.Unit && !together && o.End()+t.of(outputApart).time > c.At {
				r.bothOpen(t, o, c)
			}
		}
		open = append(open, c)
	}
}

func (r *songRun) bothOpen(t *tuning, o, c *timeline.Command) {
	f := about(r.plan, c.Cue, c.Hit)
	f.Others = []timeline.Ref{cueRef(r.plan, o.Cue)}
	f.Text = "shares an output with " + o.Unit.Name + ", which is open until " + span(o.End()-c.At) + " after this command"
	if o.End() == c.At {
		f.Text = "shares an output with " + o.Unit.Name + ", which closes at the instant of this command"
	} else if o.End() < c.At {
		f.Text = "shares an output with " + o.Unit.Name + ", which closes " + span(c.At-o.End()) + " before this command"
	}
	f.Values = []Value{word("other", o.Unit.Name), seconds("apart", c.At-o.At), seconds("other open", o.Asked()), seconds("open", c.Asked())}
	f.Spans = []Span{{o.Unit.Name + " open", o.At, o.End()}, {c.Unit.Name + " open", c.At, c.End()}}
	f.Grounds = r.rule.with(outputApart, t)
	f.Help = "wire the two units to outputs of their own, or play both with one cue of equal lead and open time"
	r.add(t, c.Unit.Name, f)
}

var _ = enter(Rule{
	Name:    "wired-together",
	Summary: "several effects hang on one output, and the wiring does not say that they fire together",
	Reason: "An output opens everything that hangs on it, so that a cue for one effect opens the others as well. All that opens is counted either way: gas, explosives, clear zones, distances, supplies, " +
		"loads. Where it is meant, their wires say so; where it is not, somebody has plugged two effects into one socket. What is out of the night's rig does not count.",
	Scope:    WholeSet,
	Severity: Error,
	rig:      checkWiredTogether,
})

func checkWiredTogether(r *rigRun) {
	for i := range r.plan.Units.Shared {
		s := &r.plan.Units.Shared[i]
		if s.Declared {
			continue
		}
		var names []string
		f := Finding{Ref: rigRef("wire", s.Drives[0].Wire.ID)}
		for k, u := range s.Units {
			names = append(names, u.Name)
			f.Others = append(f.Others, rigRef("placed", u.Placed.ID))
			if k > 0 {
				f.Others = append(f.Others, rigRef("wire", s.Drives[k].Wire.ID))
			}
		}
		f.Text = outputName(s.Drives[0]) + ": " + some(names) + " hang on it and open together, and the wiring does not say that they are meant to"
		f.Values = []Value{word("units", strings.Join(names, ", "))}
		f.Help = "say so with together=true on their wires, or wire all but one to an output of its own"
		r.add(r.tune(s.Units[0], s.Units[0].Article), "", f)
	}
}

// outputName names what a drive plugs into: "bank 4 output 7", "bar 1 head 2".
func outputName(d timeline.Drive) string {
	if d.Bank != nil {
		return d.Label(timeline.EffectSlot)
	}
	return d.Name + " head " + strconv.Itoa(d.Wire.Output)
}

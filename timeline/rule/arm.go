package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "arm-up",
	Summary: "an arm slot is not up in time, or goes down during the effect",
	Reason: "A device with an arm slot ignores commands unless the slot is inside its value window, and it needs the arm lead of its type first. " +
		"The slot must be up from arm lead before the command until the effect ends, in each song by itself, for a song must also work when it is " +
		"started alone. Exact and frame-rounded times are compared: arms are rounded early, commands to the nearest frame.",
	Scope:    InSong,
	Severity: Error,
	Settings: []Setting{
		{Name: "arm-lead", Unit: "s", Field: "devicetype arm-lead", Mark: timeline.CommonPractice, Source: "the device type's own mark", Help: "so long before a command the arm slot must be up"},
		{Name: "least", Default: "0", Unit: "s", Mark: timeline.Judgement, Source: "none: a margin of your own", Help: "least arm lead, where the type gives less"},
		{Name: "gap", Default: "10", Unit: "s", Mark: timeline.Judgement, Source: "our judgement", Help: "emberbeat arms leaves it on between two hits that are no further apart"},
	},
	song: func(r *songRun) { r.checkNeeds(timeline.ArmSlot, "arm") },
})

var _ = enter(Rule{
	Name:    "condition-off",
	Summary: "a condition such as cooling or a fan is not on before and during the effect",
	Reason: "A condition slot must be on from the device type's condition lead before the command until the effect ends. Exact and frame-rounded " +
		"times are compared, in each song by itself.",
	Scope:    InSong,
	Severity: Error,
	Settings: []Setting{
		{Name: "condition-lead", Unit: "s", Field: "devicetype condition-lead", Mark: timeline.CommonPractice, Source: "the device type's own mark", Help: "so long before a command the condition must be on"},
		{Name: "least", Default: "0", Unit: "s", Mark: timeline.Judgement, Source: "none: a margin of your own", Help: "least condition lead, where the type gives less"},
		{Name: "gap", Default: "10", Unit: "s", Mark: timeline.Judgement, Source: "our judgement", Help: "emberbeat arms leaves it on between two hits that are no further apart"},
	},
	song: func(r *songRun) { r.checkNeeds(timeline.ConditionSlot, "condition") },
})

// needLeast is the place of the setting least in both rules.
var needLeast = setting("least", "arm-up", "condition-off")

// LaidGap is over how long a gap between two hits a window that is laid goes on.
var LaidGap = setting("gap", "arm-up", "condition-off")

// checkNeeds compares every command with the slots it needs.
func (r *songRun) checkNeeds(role timeline.SlotRole, name string) {
	for i := range r.plan.Uses {
		u := &r.plan.Uses[i]
		needs := r.units[u.Unit.Index].needs
		for n := range needs {
			if needs[n].role == role {
				line := r.cover.line(needs[n].device, needs[n].slot)
				for _, k := range u.Commands {
					r.checkNeed(&needs[n], line, &r.plan.Commands[k], name)
				}
			}
		}
	}
}

func (r *songRun) checkNeed(n *need, line *slotLine, c *timeline.Command, name string) {
	t := r.tune(c)
	lead := max(n.lead, t.of(needLeast).time)
	if line == nil {
		r.notOn(t, n, nil, c, gap{off: true}, lead, name, false)
		return
	}
	if g := gapAround(line.exact, c.At, lead, c.End()); g.fails() {
		r.notOn(t, n, line, c, g, lead, name, false)
	} else if g := gapAround(line.rounded, c.Rounded, lead, c.EndRounded()); g.fails() {
		r.notOn(t, n, line, c, g, lead, name, true)
	}
}

// notOn reports a slot that is not on when a command needs it.
func (r *songRun) notOn(t *tuning, n *need, line *slotLine, c *timeline.Command, g gap, lead timeline.Time, name string, rounded bool) {
	f := about(r.plan, c.Cue, c.Hit)
	from, until := min(c.At, c.Rounded)-lead, max(c.End(), c.EndRounded())
	switch {
	case g.off:
		f.Text = name + " is not on at the command"
		f.Values = []Value{seconds("lead", lead)}
		f.Help = fmt.Sprintf("put a cue on a lane of role %s, from %s to %s; %s", n.role, r.plan.Label(roundDown(from)), r.plan.Label(roundUp(until)), r.laying(c, n.role))
	case g.late > 0:
		f.Text = fmt.Sprintf("%s comes on %s before the command and needs %s", name, span(lead-g.late), span(lead))
		f.Values = []Value{seconds("before", lead-g.late), seconds("lead", lead)}
		f.Help = fmt.Sprintf("let the %s come on %s earlier, by %s", name, span(g.late), r.plan.Label(roundDown(from)))
	default:
		f.Text = fmt.Sprintf("%s goes off %s before the effect ends", name, span(g.early))
		f.Values = []Value{seconds("early", g.early)}
		f.Help = fmt.Sprintf("let the %s stay on until %s", name, r.plan.Label(roundUp(until)))
	}
	f.Grounds = r.needGrounds(t, n, name)
	if rounded {
		f.Text += "; the exact times fit, their frames do not"
	}
	if g.by != nil {
		f.Others = []timeline.Ref{cueRef(r.plan, g.by.first.Cue)}
		f.Fix = r.widen(g, from, until, name)
		f.Spans = append(f.Spans, Span{name + " on", g.by.from, min(g.by.to, r.plan.Duration)})
	}
	f.Spans = append(f.Spans, Span{name + " needed", from, until}, Span{"command", c.At, c.At})
	r.add(t, c.Unit.Name+" ("+r.slotName(n.device, n.slot)+")", f)
}

// laidFor is what the lane rests on that a window would be laid on.
type laidFor struct {
	role         timeline.SlotRole
	lane, target timeline.ID
	unit         *timeline.Unit
}

// laying says on which lane emberbeat arms would lay the window of a command. A
// song may have many that are alike.
func (r *songRun) laying(c *timeline.Command, role timeline.SlotRole) string {
	k := laidFor{role, c.Lane.ID, c.Cue.Target, c.Unit}
	if text, known := r.laid[k]; known {
		return text
	}
	name, made := r.plan.LaidOn(r.show, c, role)
	text := fmt.Sprintf("emberbeat arms lays it on the lane %q", name)
	if made {
		text = fmt.Sprintf("emberbeat arms makes the lane %q for it", name)
	}
	if r.laid == nil {
		r.laid = map[laidFor]string{}
	}
	r.laid[k] = text
	return text
}

// needGrounds says where the lead stands.
func (r *songRun) needGrounds(t *tuning, n *need, name string) []Ground {
	return r.rule.with(needLeast, t, ofType(n.typ, name+"-lead", span(n.lead)))
}

// widen gives the fix that lets the window around a command begin early enough
// and last long enough.
func (r *songRun) widen(g gap, from, until timeline.Time, name string) *Fix {
	if g.off {
		return nil
	}
	if g.late > 0 {
		w := g.by.first
		edits := []timeline.Edit{setField(cueRef(r.plan, w.Cue), "at", timeline.AtTime(roundDown(from)).String())}
		if w.Closes() {
			edits = append(edits, setField(cueRef(r.plan, w.Cue), "open", roundUp(max(w.Down, until)-roundDown(from)).String()))
		}
		return &Fix{Label: "let the " + name + " come on at " + timeline.AtTime(roundDown(from)).String(), On: cueRef(r.plan, w.Cue), Field: "at", Edits: edits}
	}
	w := g.by.last
	open := roundUp(until - w.Up)
	return fixField("let the "+name+" stay on for "+open.String()+" s", cueRef(r.plan, w.Cue), "open", open.String())
}

// slotName names a slot by its address, or by its place in the device.
func (e *env) slotName(v *timeline.Device, s timeline.Slot) string {
	if p, ok := v.Address(s); ok {
		return "DMX " + p.String()
	}
	return fmt.Sprintf("%s slot %d.%d", e.name(v), s.Block, s.Number)
}

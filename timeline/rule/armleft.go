package rule

import (
	"cmp"
	"slices"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "arm-left-up",
	Summary: "an arm slot is never lowered, stays up past the song's end, or long after the last effect",
	Reason: "An armed device fires on a stray value. Arms come down as soon as the last effect under them is over: after the hold time of the device type, " +
		"or where it gives none, after the setting hold. What depends on timecode after the song's end may never be lowered. Exact and " +
		"frame-rounded times are compared.",
	Scope:    InSong,
	Severity: Error,
	Settings: []Setting{
		{Name: "arm-hold", Unit: "s", Field: "devicetype arm-hold", Mark: timeline.CommonPractice, Source: "the device type's own mark", Help: "how long the arm slot may stay up after the last effect"},
		{Name: "hold", Default: "30", Unit: "s", Mark: timeline.Judgement, Source: "our judgement", Help: "the same for device types that give none"},
		{Name: "lower-after", Default: "1", Unit: "s", Mark: timeline.Judgement, Source: "our judgement", Help: "how long after the last effect the proposed change lowers it"},
	},
	song: checkArmLeft,
})

// The places of its settings.
var (
	armHold       = setting("hold", "arm-left-up")
	armLowerAfter = setting("lower-after", "arm-left-up")
)

// effectEnd is when an effect under an arm is commanded and when it ends, at
// the later of its exact and its rounded time.
type effectEnd struct{ at, end, endRounded timeline.Time }

func checkArmLeft(r *songRun) {
	if len(r.cover.order) == 0 {
		return
	}
	effects := r.effectsUnderArms()
	for _, k := range r.cover.order {
		line := r.cover.slots[k]
		if line.role != timeline.ArmSlot {
			continue
		}
		for i := range line.exact {
			r.leftUp(line, i, effects[k])
		}
	}
}

// effectsUnderArms lists, for each arm slot, the effects it arms, by time.
func (r *songRun) effectsUnderArms() map[timeline.SlotPlace][]effectEnd {
	effects := map[timeline.SlotPlace][]effectEnd{}
	for i := range r.plan.Uses {
		for _, n := range r.units[r.plan.Uses[i].Unit.Index].needs {
			if n.role != timeline.ArmSlot {
				continue
			}
			k := n.device.PlaceOf(n.slot)
			list := slices.Grow(effects[k], len(r.plan.Uses[i].Commands))
			for _, c := range r.plan.Uses[i].Commands {
				c := &r.plan.Commands[c]
				list = append(list, effectEnd{c.At, c.End(), c.EndRounded()})
			}
			effects[k] = list
		}
	}
	for _, list := range effects {
		slices.SortFunc(list, func(a, b effectEnd) int { return cmp.Compare(a.at, b.at) })
	}
	return effects
}

// leftUp checks one time in which an arm slot is up.
func (r *songRun) leftUp(line *slotLine, i int, effects []effectEnd) {
	t := r.songTune()
	on := &line.exact[i]
	w := on.last
	hold := cmp.Or(w.Type.ArmHold, t.of(armHold).time)
	last, lastRounded, used := lastEffect(on, effects)
	over := max(on.to-last, line.rounded[i].to-lastRounded)
	if on.to == never {
		over = 0
	}
	past := r.plan.Duration > 0 && on.to > r.plan.Duration
	if on.to != never && !past && over <= hold { // as most are
		return
	}
	f := about(r.plan, w.Cue, on.first.Up)
	f.Ref = cueRef(r.plan, w.Cue)
	f.Spans = []Span{{"arm up", on.from, min(on.to, max(r.plan.Duration, last))}}
	if used {
		f.Spans = append(f.Spans, Span{"last effect ends", last, last})
	}
	switch {
	case on.to == never:
		f.Text = "arm is never lowered in this song"
		f.Values = []Value{seconds("up", on.from)}
	case past:
		f.Text = "arm stays up " + span(on.to-r.plan.Duration) + " past the end of the song"
		f.Values = []Value{seconds("down", on.to), seconds("song end", r.plan.Duration)}
	case used:
		f.Text = "arm stays up " + span(over) + " after the last effect; " + span(hold) + " is the most"
		f.Values = []Value{seconds("after", over), seconds("hold", hold)}
	default:
		f.Text = "arm is up for " + span(over) + " and nothing under it is commanded; " + span(hold) + " is the most"
		f.Values = []Value{seconds("up", over), seconds("hold", hold)}
	}
	f.Grounds = []Ground{ofType(w.Type, "arm-hold", span(w.Type.ArmHold))}
	if w.Type.ArmHold == 0 {
		f.Grounds = []Ground{r.rule.fromSetting(armHold, t)}
	}
	r.lower(&f, t, on, max(last, lastRounded), used)
	r.add(t, r.name(line.device)+" ("+r.slotName(line.device, line.slot)+")", f)
}

// lower says when the arm could come down, and offers that as a change.
func (r *songRun) lower(f *Finding, t *tuning, on *onTime, last timeline.Time, used bool) {
	down := roundUp(last + t.of(armLowerAfter).time)
	if r.plan.Duration > 0 && down > r.plan.Duration {
		down = roundDown(r.plan.Duration)
	}
	if !used || down <= on.last.Up {
		f.Help = "give the cue an open time that ends within the song, or take it out"
		return
	}
	open := down - on.last.Up
	f.Help = "lower it at " + r.plan.Label(down) + ": give the cue an open time of " + span(open)
	f.Fix = fixField("give the cue an open time of "+open.String()+" s", cueRef(r.plan, on.last.Cue), "open", open.String())
}

// lastEffect gives the end of the last effect that is commanded while the arm
// is up; without one, the time it comes up.
func lastEffect(on *onTime, effects []effectEnd) (exact, rounded timeline.Time, used bool) {
	exact, rounded = on.from, on.first.UpRounded
	i, _ := slices.BinarySearchFunc(effects, on.from, func(e effectEnd, t timeline.Time) int { return cmp.Compare(e.at, t) })
	for _, e := range effects[i:] {
		if e.at > on.to {
			break
		}
		exact, rounded, used = max(exact, e.end), max(rounded, e.endRounded), true
	}
	return exact, rounded, used
}

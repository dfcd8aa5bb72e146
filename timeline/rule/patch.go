package rule

import (
	"fmt"

	"emberbeat/timeline"
)

// lastSlot is the setting of all patch rules: how many slots a universe has.
func lastSlot() Setting {
	return Setting{Name: "last-slot", Default: "512", Mark: timeline.Published, Source: "ANSI E1.11 (USITT DMX512-A): data slots 1 to 512", Help: "the last slot of a universe"}
}

var _ = enter(Rule{
	Name:    "patch-overlap",
	Summary: "two devices use the same slot, and nobody has said that they may",
	Reason: "Blocks [a, a+f-1] of one universe overlap if max(a1,a2) <= min(e1,e2): what is meant for one device then moves the other. Devices that " +
		"are meant to share slots (clones, a shared arm slot) are declared so; that is a note, see shared-patch.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{lastSlot()},
	rig:      func(r *rigRun) { r.overlaps(false) },
})

var _ = enter(Rule{
	Name:     "shared-patch",
	Summary:  "two devices share slots, as declared",
	Reason:   "A declared clone or shared arm slot moves both devices with every command. It is printed so that nobody is surprised.",
	Scope:    WholeSet,
	Severity: Note,
	rig:      func(r *rigRun) { r.overlaps(true) },
})

var _ = enter(Rule{
	Name:     "patch-end",
	Summary:  "a block of a device runs past the last slot of its universe",
	Reason:   "A block [a, a+f-1] fits if a is 1 or more and a+f-1 is the last slot or less. It never goes on in the next universe.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{lastSlot(), inRecord("devicetype slots", "", "slots of its blocks")},
	rig:      checkPatchEnd,
})

var _ = enter(Rule{
	Name:     "patch-start",
	Summary:  "a block of a device has no start address",
	Reason:   "A device listens only at its addresses; without one nothing it carries can be commanded.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{lastSlot()},
	rig:      checkPatchStart,
})

var _ = enter(Rule{
	Name:    "first-slot",
	Summary: "a hazardous device listens at the first slot of its universe",
	Reason: "Slot 1 is where a device listens that was never addressed, and where the first value goes of a console that has just been started. " +
		"A device that can hurt should not stand there.",
	Scope:    WholeSet,
	Severity: Warning,
	Settings: []Setting{{Name: "slot", Default: "1", Mark: timeline.CommonPractice, Source: "common practice, no source", Help: "the first slot that is free of the warning is the one after it"}},
	rig:      checkFirstSlot,
})

var (
	patchLast = setting("last-slot", "patch-overlap", "patch-end", "patch-start")
	firstFree = setting("slot", "first-slot")
)

// overlaps tells of the clashes that are declared, or of those that are not.
func (r *rigRun) overlaps(declared bool) {
	for _, c := range timeline.Clashes(timeline.Claims(r.plan.Show)) {
		if c.Declared == declared {
			r.overlap(&c)
		}
	}
}

func (r *rigRun) overlap(c *timeline.Clash) {
	a, b, universe := c.A, c.B, c.A.Run.Start.Universe
	f := Finding{Ref: rigRef("device", b.Device.ID), Others: []timeline.Ref{rigRef("device", a.Device.ID)}}
	f.Text = fmt.Sprintf("%s (%s) and %s (%s) share slot %d.%d", r.name(b.Device), claimText(b), r.name(a.Device), claimText(a), universe, c.From)
	if c.To > c.From {
		f.Text += fmt.Sprintf(" to %d.%d", universe, c.To)
	}
	f.Values = []Value{count("universe", universe), count("first", c.From), count("last", c.To)}
	if c.Declared {
		f.Text += ", as declared: each command moves both"
		f.Help = "take the declaration back if they are not meant to move together"
		r.add(r.tune(nil, nil), "", f)
		return
	}
	f.Help = "give one of them another start address, or declare that they share it"
	if a.Device == b.Device {
		f.Help = "give one of its blocks another start address"
	}
	if to, ok := r.freeFor(b.Device, b.Type, universe, b.Run.Size); ok {
		f.Help += fmt.Sprintf("; free from %s", to)
		f.Fix = r.moveClaim(b, to)
	}
	r.add(r.tune(nil, nil), "", f)
}

func checkPatchEnd(r *rigRun) {
	t := r.tune(nil, nil)
	end := r.plan.Show.LastSlot()
	claims := timeline.Claims(r.plan.Show)
	for i := range claims {
		c := &claims[i]
		if c.Within(end) {
			continue
		}
		f := Finding{Ref: rigRef("device", c.Device.ID)}
		f.Text = fmt.Sprintf("%s: %s of %s starts at %s and ends at slot %d; a universe ends at slot %d", r.name(c.Device), claimName(c), timeline.Counted(c.Run.Size, "slot"), c.Run.Start, c.Last(), end)
		f.Grounds = []Ground{ofType(c.Type, "slots", timeline.Counted(c.Run.Size, "slot")), r.rule.fromSetting(patchLast, t)}
		f.Values = []Value{count("start", c.First()), count("slots", c.Run.Size), count("end", c.Last())}
		f.Help = fmt.Sprintf("start it at slot %d at the latest", end-c.Run.Size+1)
		if to, ok := r.freeFor(c.Device, c.Type, c.Run.Start.Universe, c.Run.Size); ok {
			f.Help += fmt.Sprintf("; free from %s", to)
			f.Fix = r.moveClaim(c, to)
		}
		r.add(t, "", f)
	}
}

func checkPatchStart(r *rigRun) {
	t := r.tune(nil, nil)
	for _, v := range r.plan.Show.Rig.Devices {
		typ := r.plan.Show.Stock.DeviceTypeOf(v)
		if typ == nil {
			continue
		}
		for _, run := range v.Runs(typ) {
			if run.Given {
				continue
			}
			size := run.Size
			f := Finding{Ref: rigRef("device", v.ID)}
			f.Text = fmt.Sprintf("%s: block %d of %s has no start address", r.name(v), run.Block, timeline.Counted(size, "slot"))
			f.Values = []Value{count("block", run.Block), count("slots", size)}
			f.Help = "give it a start address"
			if to, ok := r.freeFor(v, typ, universeOf(v), size); ok {
				f.Help += fmt.Sprintf("; free from %s", to)
				f.Fix = r.moveBlock(v, run.Block, to)
			}
			r.add(t, "", f)
		}
	}
}

func checkFirstSlot(r *rigRun) {
	t := r.tune(nil, nil)
	claims := timeline.Claims(r.plan.Show)
	for i := range claims {
		c := &claims[i]
		if !c.Type.Hazardous || c.Run.Number > 0 && !carries(c) || c.First() > int(t.of(firstFree).plain) {
			continue
		}
		f := Finding{Ref: rigRef("device", c.Device.ID)}
		f.Text = fmt.Sprintf("%s can hurt and starts at slot %s", r.name(c.Device), c.Run.Start)
		f.Values = []Value{count("slot", c.First())}
		f.Grounds = []Ground{ofType(c.Type, "hazardous", "true"), r.rule.fromSetting(firstFree, t)}
		f.Help = "start it higher up and leave the first slot empty"
		r.add(t, "", f)
	}
}

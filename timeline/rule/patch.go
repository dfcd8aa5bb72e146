package rule

import (
	"fmt"
	"slices"

	"emberbeat/timeline"
)

// lastSlot is the setting of all patch rules: how many slots a universe has.
func lastSlot() Setting {
	return Setting{Name: "last-slot", Default: "512", Mark: timeline.Published, Source: "ANSI E1.11 (USITT DMX512-A): data slots 1 to 512", Help: "the last slot of a universe"}
}

var patchOverlapRule = Rule{
	Name:    "patch-overlap",
	Summary: "two devices use the same slot, and nobody has said that they may",
	Reason: "Blocks [a, a+f-1] of one universe overlap if max(a1,a2) <= min(e1,e2): what is meant for one device then moves the other. Devices that " +
		"are meant to share slots (clones, a shared arm slot) are declared so; that is a note, see shared-patch.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{lastSlot()},
	rig:      func(r *rigRun) { r.overlaps(false) },
}

var sharedPatchRule = Rule{
	Name:     "shared-patch",
	Summary:  "two devices share slots, as declared",
	Reason:   "A declared clone or shared arm slot moves both devices with every command. It is printed so that nobody is surprised.",
	Scope:    WholeSet,
	Severity: Note,
	rig:      func(r *rigRun) { r.overlaps(true) },
}

var patchEndRule = Rule{
	Name:     "patch-end",
	Summary:  "a block of a device runs past the last slot of its universe",
	Reason:   "A block [a, a+f-1] fits if a is 1 or more and a+f-1 is the last slot or less. It never goes on in the next universe.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{lastSlot()},
	rig:      checkPatchEnd,
}

var patchStartRule = Rule{
	Name:     "patch-start",
	Summary:  "a block of a device has no start address",
	Reason:   "A device listens only at its addresses; without one nothing it carries can be commanded.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{lastSlot()},
	rig:      checkPatchStart,
}

var firstSlotRule = Rule{
	Name:    "first-slot",
	Summary: "a hazardous device listens at the first slot of its universe",
	Reason: "Slot 1 is where a device listens that was never addressed, and where the first value goes of a console that has just been started. " +
		"A device that can hurt should not stand there.",
	Scope:    WholeSet,
	Severity: Warning,
	Settings: []Setting{{Name: "slot", Default: "1", Mark: timeline.CommonPractice, Source: "common practice, no source", Help: "the first slot that is free of the warning is the one after it"}},
	rig:      checkFirstSlot,
}

// overlaps finds pairs of blocks that share slots and are declared so, or not.
func (r *rigRun) overlaps(declared bool) {
	blocks := blocksOf(r.plan.Show)
	for i := range blocks {
		for k := i + 1; k < len(blocks) && blocks[k].universe == blocks[i].universe; k++ {
			a, b := &blocks[i], &blocks[k]
			if b.first > a.last {
				break // all further ones start later still
			}
			if shares(a.device, b.device) == declared {
				r.overlap(blocks, a, b, declared)
			}
		}
	}
}

// shares reports whether either of two devices declares that it may overlap
// the other.
func shares(a, b *timeline.Device) bool {
	return slices.Contains(a.Shares, b.ID) || slices.Contains(b.Shares, a.ID)
}

func (r *rigRun) overlap(blocks []block, a, b *block, declared bool) {
	f := Finding{Ref: rigRef("device", b.device.ID), Others: []timeline.Ref{rigRef("device", a.device.ID)}}
	from, to := max(a.first, b.first), min(a.last, b.last)
	f.Text = fmt.Sprintf("%s (%s) and %s (%s) share slot %d.%d", b.device.Name, b, a.device.Name, a, a.universe.number, from)
	if to > from {
		f.Text += fmt.Sprintf(" to %d.%d", a.universe.number, to)
	}
	f.Values = []Value{count("universe", a.universe.number), count("first", from), count("last", to)}
	if declared {
		f.Text += ", as declared: each command moves both"
		f.Help = "take the declaration back if they are not meant to move together"
		r.add(r.tune(nil, nil), "", f)
		return
	}
	f.Help = "give one of them another start address, or declare that they share it"
	if a.device == b.device {
		f.Help = "give one of its blocks another start address"
	}
	if slot, ok := nextFree(blocks, b.universe, b.last-b.first+1, int(r.tune(nil, nil).numbers[0].plain)); ok {
		f.Help += fmt.Sprintf("; free from %d.%d", b.universe.number, slot)
		f.Fix = b.move(timeline.Patch{Universe: b.universe.number, Slot: slot})
	}
	r.add(r.tune(nil, nil), "", f)
}

func checkPatchEnd(r *rigRun) {
	t := r.tune(nil, nil)
	end := int(t.numbers[0].plain)
	blocks := blocksOf(r.plan.Show)
	for i := range blocks {
		b := &blocks[i]
		if b.first >= 1 && b.last <= end {
			continue
		}
		size := b.last - b.first + 1
		f := Finding{Ref: rigRef("device", b.device.ID)}
		f.Text = fmt.Sprintf("%s: %s of %s starts at %d.%d and ends at slot %d; a universe ends at slot %d", b.device.Name, b.name(), times(size, "slot"), b.universe.number, b.first, b.last, end)
		f.Grounds = []Ground{ofType(b.typ, "slots", times(size, "slot")), r.rule.fromSetting(0, t)}
		f.Values = []Value{count("start", b.first), count("slots", size), count("end", b.last)}
		f.Help = fmt.Sprintf("start it at slot %d at the latest", end-size+1)
		if slot, ok := nextFree(blocks, b.universe, size, end); ok {
			f.Help += fmt.Sprintf("; free from %d.%d", b.universe.number, slot)
			f.Fix = b.move(timeline.Patch{Universe: b.universe.number, Slot: slot})
		}
		r.add(t, "", f)
	}
}

func checkPatchStart(r *rigRun) {
	t := r.tune(nil, nil)
	blocks := blocksOf(r.plan.Show)
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
			f.Text = fmt.Sprintf("%s: block %d of %s has no start address", v.Name, run.Block, times(size, "slot"))
			f.Values = []Value{count("block", run.Block), count("slots", size)}
			f.Help = "give it a start address"
			u := universeOf(v)
			if slot, ok := nextFree(blocks, u, size, int(t.numbers[0].plain)); ok {
				f.Help += fmt.Sprintf("; free from %d.%d", u.number, slot)
				f.Fix = moveBlock(v, run.Block, timeline.Patch{Universe: u.number, Slot: slot})
			}
			r.add(t, "", f)
		}
	}
}

func checkFirstSlot(r *rigRun) {
	t := r.tune(nil, nil)
	blocks := blocksOf(r.plan.Show)
	for i := range blocks {
		b := &blocks[i]
		if !b.typ.Hazardous || b.moved > 0 && !b.carries() || b.first > int(t.numbers[0].plain) {
			continue
		}
		f := Finding{Ref: rigRef("device", b.device.ID)}
		f.Text = fmt.Sprintf("%s can hurt and starts at slot %d.%d", b.device.Name, b.universe.number, b.first)
		f.Values = []Value{count("slot", b.first)}
		f.Grounds = []Ground{ofType(b.typ, "hazardous", "true"), r.rule.fromSetting(0, t)}
		f.Help = "start it higher up and leave the first slot empty"
		r.add(t, "", f)
	}
}

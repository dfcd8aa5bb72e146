package rule

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "hand-arm",
	Summary: "a key is meant for something that must be armed or cooled first, and nobody is named who does it",
	Reason: "Arm and condition slots of what timecode commands are switched by timecode, in windows around each command. No window covers a key: whoever presses it must know that the arm is " +
		"up and the fan runs. The name stands with the hand cue and is printed beside the key.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "arm-by", Field: "handcue arm-by", Mark: timeline.CommonPractice, Source: "common practice, no source", Help: "who raises the arm and switches on what must run before"},
	},
	set: checkHandArm,
})

var _ = enter(Rule{
	Name:    "hand-shared-arm",
	Summary: "an arm that is raised for a key arms other units as well, or is moved by timecode meanwhile",
	Reason: "Devices may share an arm slot, and heads of one device often do: what is armed by hand for one is armed for all of them. Where timecode moves the same slot in the song " +
		"the key is meant for, it may lower the arm before the press, or leave it up after.",
	Scope:    WholeSet,
	Severity: Warning,
	set:      checkHandSharedArm,
})

// keyNeed is a slot that a key needs on, with the units that need it.
type keyNeed struct {
	need
	units []*timeline.Unit
}

// label names the slot as it is patched: "DMX 1.103".
func (e *env) label(n *need) string {
	if p, ok := n.device.Address(n.slot); ok {
		return "DMX " + p.String()
	}
	return e.name(n.device) + " " + string(n.role)
}

// keyNeeds lists the slots that a key needs on, in the order of its units.
func (r *setRun) keyNeeds(k *timeline.HandKey) []keyNeed {
	var list []keyNeed
	for i := range k.Uses {
		u := k.Uses[i].Unit
		for _, n := range r.units[u.Index].needs {
			at := slices.IndexFunc(list, func(x keyNeed) bool { return sameSlot(&x.need, &n) })
			if at < 0 {
				at = len(list)
				list = append(list, keyNeed{need: n})
			}
			list[at].units = addOnce(list[at].units, u)
		}
	}
	return list
}

// sameSlot reports whether two needs are one slot: of one device, or patched to
// one address.
func sameSlot(a, b *need) bool {
	if a.role != b.role {
		return false
	}
	if a.device == b.device {
		return a.slot.Block == b.slot.Block && a.slot.Number == b.slot.Number
	}
	p, okP := a.device.Address(a.slot)
	q, okQ := b.device.Address(b.slot)
	return okP && okQ && p == q && a.device.Space == b.device.Space
}

func checkHandArm(r *setRun) {
	for i := range r.plan.Keys {
		k := &r.plan.Keys[i]
		needs := r.keyNeeds(k)
		if len(needs) == 0 || strings.TrimSpace(k.Cue.ArmBy) != "" {
			continue
		}
		f := r.ofKey(k)
		var slots, names []string
		for _, n := range needs {
			slots = addOnce(slots, string(n.role)+" "+r.label(&n.need))
			for _, u := range n.units {
				names = addOnce(names, u.Name)
				f.Others = addOnce(f.Others, rigRef("placed", u.Placed.ID))
			}
		}
		f.Text = fmt.Sprintf("%s: %s must be on before (%s), no timecode switches it for a key, and nobody is named who does", k.Cue.Label(), some(slots), some(names))
		f.Values = []Value{word("slots", strings.Join(slots, ", "))}
		f.Help = "write arm-by= with the name or role of whoever raises the arm and switches on what must run before"
		r.addKey(k, f)
	}
}

func checkHandSharedArm(r *setRun) {
	for i := range r.plan.Keys {
		k := &r.plan.Keys[i]
		for _, n := range r.keyNeeds(k) {
			if n.role == timeline.ArmSlot {
				r.sharedArm(k, &n)
			}
		}
	}
}

func (r *setRun) sharedArm(k *timeline.HandKey, n *keyNeed) {
	f := r.ofKey(k)
	var names, parts []string
	for _, u := range r.plan.Units.All {
		if slices.Contains(n.units, u) || u.Out || !slices.ContainsFunc(r.units[u.Index].needs, func(x need) bool { return sameSlot(&x, &n.need) }) {
			continue
		}
		names = append(names, u.Name)
		f.Others = append(f.Others, rigRef("placed", u.Placed.ID))
	}
	if len(names) > 0 {
		parts = append(parts, "arms "+some(names)+" as well")
	}
	windows, where := r.windowsOn(k, &n.need)
	if windows > 0 {
		parts = append(parts, fmt.Sprintf("is moved by timecode in %s, %s", where, timeline.Counted(windows, "window")))
	}
	if len(parts) == 0 {
		return
	}
	f.Text = fmt.Sprintf("%s: the arm raised for it, %s, %s", k.Cue.Label(), r.label(&n.need), strings.Join(parts, ", and "))
	f.Values = []Value{word("slot", r.label(&n.need)), word("also armed", strings.Join(names, ", ")), count("windows", windows)}
	f.Help = "clear what else is armed, and agree who has the arm when; or mean the key for another song"
	r.addKey(k, f)
}

// windowsOn counts the windows in which timecode moves a slot where a key is
// meant, and says where: in its song, or in any for a key of any time.
func (r *setRun) windowsOn(k *timeline.HandKey, n *need) (count int, where string) {
	songs := 0
	for j := range r.plan.Songs {
		if k.Song >= 0 && k.Song != j {
			continue
		}
		before := count
		for i := range r.song(j).Windows {
			w := &r.song(j).Windows[i]
			if slices.ContainsFunc(w.Slots, func(s timeline.Slot) bool { return sameSlot(&need{role: w.Role, device: w.Device, slot: s}, n) }) {
				count++
			}
		}
		if count > before {
			songs++
			where = "song " + songName(r.song(j))
		}
	}
	if songs > 1 {
		where = timeline.Counted(songs, "song")
	}
	return count, where
}

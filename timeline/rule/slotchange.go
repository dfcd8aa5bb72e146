package rule

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:     "slot-change",
	Summary:  "a device changes a slot in a way that its type does not have",
	Reason:   "The show may rename a slot of a device, give it an address of its own, and give it a meaning where the type leaves it open or spare. A change that cannot be changes nothing: the slot is as in the type.",
	Scope:    WholeSet,
	Severity: Error,
	rig:      checkSlotChanges,
})

var _ = enter(Rule{
	Name:     "open-slot",
	Summary:  "a device that drives something has slots that wait for a meaning",
	Reason:   "A type may leave slots open, because what they do is set at the device. Until the show gives them a meaning they are sent nothing and no rule looks at them: an arm among them would not be checked.",
	Scope:    WholeSet,
	Severity: Warning,
	rig:      checkOpenSlots,
})

func checkSlotChanges(r *rigRun) {
	for _, v := range r.plan.Show.Rig.Devices {
		typ := r.plan.Show.Stock.DeviceType(v.Type)
		if typ == nil {
			continue
		}
		for _, err := range v.SlotProblems(typ) {
			f := Finding{Ref: rigRef("device", v.ID)}
			var bad *timeline.ValueError
			errors.As(err, &bad)
			f.Text = fmt.Sprintf("%s: %q: %s", r.name(v), bad.Value, bad.Want)
			f.Values = []Value{word("change", bad.Value), word("problem", bad.Want)}
			f.Help = "correct it, or take it out"
			f.Fix = fixList("take the change out", f.Ref, "slot-changes", without(v.Slots, bad.Value))
			r.add(r.tune(nil, nil), "", f)
		}
	}
}

// without writes slot changes but the last that reads as text.
func without(list []timeline.SlotChange, text string) []string {
	var items []string
	for _, c := range list {
		items = append(items, c.String())
	}
	for i := len(items) - 1; i >= 0; i-- {
		if items[i] == text {
			return slices.Delete(items, i, i+1)
		}
	}
	return items
}

func checkOpenSlots(r *rigRun) {
	open := map[*timeline.Device][]string{}
	for _, u := range r.plan.Units.All {
		for _, d := range u.Drives {
			if d.DeviceType == nil || d.Dead || open[d.Device] != nil {
				continue
			}
			for _, s := range d.DeviceType.Slots {
				if s.Role == timeline.OpenSlot {
					open[d.Device] = append(open[d.Device], fmt.Sprintf("%d.%d", s.Block, s.Number))
				}
			}
		}
	}
	for _, v := range r.plan.Show.Rig.Devices {
		if len(open[v]) == 0 {
			continue
		}
		f := Finding{Ref: rigRef("device", v.ID), Values: []Value{word("slots", strings.Join(open[v], ", "))}}
		f.Text = fmt.Sprintf("%s: %s without a meaning: %s", r.name(v), timeline.Counted(len(open[v]), "slot"), strings.Join(open[v], ", "))
		f.Help = fmt.Sprintf("look at the device's menu and write what they do: slot-changes = [\"%s role=arm on=64..127\"], or role=spare", open[v][0])
		r.add(r.tune(nil, nil), "", f)
	}
}

// carries reports whether a moved slot can do something by itself: open an
// effect, or arm it.
func carries(c *timeline.Claim) bool {
	return slices.ContainsFunc(c.Type.Slots, func(s timeline.Slot) bool {
		return s.Block == c.Run.Block && s.Number == c.Run.Number && (s.Role == timeline.EffectSlot || s.Role == timeline.ArmSlot)
	})
}

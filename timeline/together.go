package timeline

import (
	"cmp"
	"slices"
)

// SharedOutput is an output of a bank, or a head of a device, that opens several
// placed effects: none of them can be opened alone.
type SharedOutput struct {
	Drives   []Drive // in the order of the units, none of them dead
	Units    []*Unit // aligned with Drives; those out of the night's rig are left out
	Declared bool    // the wiring says that they are meant to fire together
}

// opener is what opens effects: an output of a bank, or an effect slot. Slots
// of one address are one, whichever device listens there, and so are the outputs
// of one number of banks that have one address.
type opener struct {
	driver ID
	bank   bankPlace
	output int
	slot   SlotPlace
}

// SlotPlace is where a slot is found: by its address, or in its device where
// it has none. Slots of one place are on and off together.
type SlotPlace struct {
	Space  string
	At     Patch
	Device *Device // nil where the slot has an address
	Block  int
	Number int
}

// PlaceOf gives the place of a slot of DeviceTypeOf.
func (v *Device) PlaceOf(s Slot) SlotPlace {
	if p, ok := v.Address(s); ok {
		return SlotPlace{Space: v.Space, At: p}
	}
	return SlotPlace{Device: v, Block: s.Block, Number: s.Number}
}

// openers lists what opens through a drive.
func (d Drive) openers() []opener {
	if d.Bank != nil && d.Bank.Address > 0 {
		return []opener{{bank: d.Bank.place(), output: d.Wire.Output}}
	}
	if d.DeviceType == nil {
		return []opener{{driver: d.Wire.Driver, output: d.Wire.Output}}
	}
	var list []opener
	for _, s := range d.DeviceType.Find(EffectSlot, d.Wire.Output) {
		list = append(list, opener{slot: d.Device.PlaceOf(s)})
	}
	return list
}

// opensWith reports whether a drive opens whenever another does.
func (d Drive) opensWith(o Drive) bool {
	return slices.ContainsFunc(d.openers(), func(x opener) bool { return slices.Contains(o.openers(), x) })
}

// join notes for each unit which others open when it is commanded, and what
// outputs do not say that they are shared.
func (u *Units) join() {
	users := map[opener][]*Unit{}
	outputs := map[OutputRef]*SharedOutput{}
	var order []OutputRef
	for _, unit := range u.All {
		for _, d := range unit.Drives {
			if d.Dead || unit.Out {
				continue
			}
			for _, o := range d.openers() {
				users[o] = append(users[o], unit)
			}
			at := OutputRef{d.Wire.Driver, d.Wire.Output}
			if outputs[at] == nil {
				outputs[at], order = &SharedOutput{}, append(order, at)
			}
			if s := outputs[at]; !slices.Contains(s.Units, unit) {
				s.Drives, s.Units = append(s.Drives, d), append(s.Units, unit)
			}
		}
	}
	for _, list := range users {
		for _, a := range list {
			for _, b := range list {
				if a != b && !slices.Contains(a.With, b) {
					a.With = append(a.With, b)
				}
			}
		}
	}
	for _, unit := range u.All {
		slices.SortFunc(unit.With, func(a, b *Unit) int { return cmp.Compare(a.Index, b.Index) })
	}
	for _, at := range order {
		if s := outputs[at]; len(s.Units) > 1 {
			alone := 0
			for _, d := range s.Drives {
				if !d.Wire.Together {
					alone++
				}
			}
			s.Declared = alone < 2 // one wire may have been there before the others joined it
			u.Shared = append(u.Shared, *s)
		}
	}
}

// Drives lists the drives that a command opens: all of its unit, or of one that
// is carried those alone that open with the unit its cue aims at.
func (c *Command) Drives() []Drive {
	if c.With == nil {
		return c.Unit.Drives
	}
	return slices.DeleteFunc(slices.Clone(c.Unit.Drives), func(d Drive) bool {
		return d.Dead || !slices.ContainsFunc(c.With.Drives, func(o Drive) bool { return !o.Dead && d.opensWith(o) })
	})
}

// Asked is the open time that a cue gives its command: its own, its lane's or
// the article's. An output that another command holds open longer at the same
// instant stays open for Open.
func (c *Command) Asked() Time { return cmp.Or(c.Cue.Open, c.Lane.Open, c.Article.Open) }

// carry adds a command for every unit that opens with the unit of one, for what
// stands there. It comes when the output opens, whatever lead it has itself, and
// no cut of its own cues keeps it shut. What an igniter fires burns as long as it
// burns; all else stays open with the output.
func (c *songCompiler) carry(cmd Command) {
	for _, u := range cmd.Unit.With {
		if u.Article == nil {
			continue
		}
		also := cmd
		also.With, also.Unit, also.Article = cmd.Unit, u, u.Article
		if u.Article.Control == IgniterControl {
			also.opens(c.plan, u.Article.Open)
		}
		c.plan.Commands = append(c.plan.Commands, also)
		c.carries = true
	}
}

// opens sets how long a command is open.
func (c *Command) opens(p *SongPlan, open Time) {
	c.Open = open
	c.Close = p.FrameAt(c.EndRounded())
}

// goesBefore reports whether of two carried commands of one unit at one instant
// this one stands for both: that which is open longer, else by what carries it
// and what its cue aims at. Ids of cues do not count, since the same cues may be
// put down again under others.
func (c *Command) goesBefore(o *Command) bool {
	aim := func(c *Command) string { return string(cmp.Or(c.Cue.Target, c.Lane.Target)) }
	return cmp.Or(cmp.Compare(o.Open, c.Open), cmp.Compare(c.With.Index, o.With.Index), cmp.Compare(aim(c), aim(o))) < 0
}

// together takes out carried commands of units that are commanded at the same
// instant anyhow, so that each opening counts once and lasts as long as the
// longest of them.
func (c *songCompiler) together() {
	type instant struct {
		unit *Unit
		at   Time
	}
	own, longest := map[instant]bool{}, map[instant]int{}
	list := c.plan.Commands
	for i := range list {
		at := instant{list[i].Unit, list[i].At}
		if list[i].With == nil {
			own[at] = own[at] || len(list[i].Unit.With) > 0
		} else if k, ok := longest[at]; !ok || list[i].goesBefore(&list[k]) {
			longest[at] = i
		}
	}
	kept := make([]Command, 0, len(list))
	for i := range list {
		cmd := list[i]
		at := instant{cmd.Unit, cmd.At}
		k, carried := longest[at]
		if cmd.With != nil && (own[at] || k != i) {
			continue
		}
		if carried && list[k].Open > cmd.Open && cmd.Article.Control != IgniterControl {
			cmd.opens(c.plan, list[k].Open)
		}
		kept = append(kept, cmd)
	}
	c.plan.Commands = kept
}

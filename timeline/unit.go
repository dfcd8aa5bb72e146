package timeline

import (
	"fmt"
	"slices"
	"strings"
)

// Unit is a placed effect with everything it needs resolved: its article after
// the night's swaps, its position, and the outputs that drive it.
type Unit struct {
	Index    int // dense number of the unit within its plan's Units
	Placed   *Placed
	Name     string         // what the crew calls it, see Called
	Article  *Article       // nil when the show has lost it
	Position *StagePosition // nil when none is given or it is lost
	End      *StagePosition // where its line ends; nil when it has none
	Drives   []Drive        // dead ones as well, and empty when nothing is wired
	Out      bool           // taken out of the night's rig
	LeftOut  string         // why the night takes it out, or all that drives it, where it says so: what it would play is cut, not lost
	With     []*Unit        // the others that open whenever it is commanded, through an output or slot of both

	names *Names // of the rig and stock that it is of
}

// Drive is one wire resolved: a bank's output or a device's head.
type Drive struct {
	Wire       *Wire
	Bank       *Bank
	BankType   *BankType
	Device     *Device
	DeviceType *DeviceType
	Name       string // what the crew calls the bank or device, see Called
	Dead       bool   // the bank or device is out of service
}

// Latency is what the drive adds to the article's lead.
func (d Drive) Latency() Time {
	switch {
	case d.BankType != nil:
		return d.BankType.Latency
	case d.DeviceType != nil:
		return d.DeviceType.Latency
	}
	return 0
}

// Address is where a slot of a device stands in its universe (a slot of
// DeviceTypeOf, so that the show's own addresses are seen); false when the
// device has no start address for the slot's block, or the slot would lie past
// 512.
func (v *Device) Address(s Slot) (Patch, bool) {
	if s.moved {
		return v.changeOf(s.Block, s.Number).At, true
	}
	if s.Block < 1 || s.Block > len(v.Starts) {
		return Patch{}, false
	}
	p := v.Starts[s.Block-1]
	p.Slot += s.Number - 1
	return p, p.Slot >= 1 && p.Slot+s.Width()-1 <= 512
}

// Label names the output as it is printed: "bank 4 output 7" or "DMX 1.45".
func (d Drive) Label(role SlotRole) string {
	switch {
	case d.Bank != nil:
		return fmt.Sprintf("%s output %d", d.Name, d.Wire.Output)
	case d.Device != nil && d.DeviceType != nil:
		for _, s := range d.DeviceType.Find(role, d.Wire.Output) {
			if p, ok := d.Device.Address(s); ok {
				return fmt.Sprintf("DMX %s", p)
			}
		}
		return fmt.Sprintf("%s head %d", d.Name, d.Wire.Output)
	}
	return "no output"
}

// Latency is what the unit's drives add to the lead: the longest of those that
// are in service, or of all where none is.
func (u *Unit) Latency() Time {
	var live, all Time
	dead := true
	for _, d := range u.Drives {
		all = max(all, d.Latency())
		if !d.Dead {
			live, dead = max(live, d.Latency()), false
		}
	}
	if dead {
		return all
	}
	return live
}

// Dark reports whether the night has put out of service what drives the unit,
// so that nothing commands it though something does on the tour.
func (u *Unit) Dark() bool {
	tour := false // something in service drives it there
	for _, d := range u.Drives {
		if !d.Dead {
			return false
		}
		tour = tour || !(d.Bank != nil && d.Bank.Dead || d.Device != nil && d.Device.Dead)
	}
	return tour
}

// Slots reports whether any device that drives the unit has a slot of the
// role for it.
func (u *Unit) Slots(role SlotRole) bool {
	return slices.ContainsFunc(u.Drives, func(d Drive) bool {
		return d.DeviceType != nil && len(d.DeviceType.Find(role, d.Wire.Output)) > 0
	})
}

// Units is the rig of one night, resolved.
type Units struct {
	All     []*Unit        // sorted by the id of the placed effect
	Shared  []SharedOutput // outputs that open several of them, by their first unit
	names   *Names         // of all rig and stock
	byID    map[ID]*Unit
	targets map[ID][]*Unit
}

// Of gives the unit of a placed effect, or nil.
func (u *Units) Of(placed ID) *Unit { return u.byID[placed] }

// Target gives the units a lane or cue aims at: of a placed effect or a group.
// The second result is false when there is no such target.
func (u *Units) Target(id ID) ([]*Unit, bool) {
	list, ok := u.targets[id]
	return list, ok
}

// resolve joins stock, rig and night.
func resolve(s *Show, night *Night) *Units {
	stock, rig := s.Stock, s.Rig
	u := &Units{names: namesOfRig(s), byID: make(map[ID]*Unit, len(rig.Placed)), targets: make(map[ID][]*Unit, len(rig.Placed)+len(rig.Groups))}
	for i, p := range rig.Placed {
		unit := &Unit{names: u.names, Index: i, Placed: p, Name: u.Called(p), Position: rig.Position(p.Position), End: rig.Position(p.End), Out: night.TakesOut("placed", p.ID)}
		unit.Article = stock.Article(night.swapPlaced(stock, p))
		u.All = append(u.All, unit)
		u.byID[p.ID] = unit
		u.targets[p.ID] = []*Unit{unit}
	}
	types := map[ID]*DeviceType{} // with the show's changes of slots, one for each device
	for _, w := range night.wires(rig) {
		if unit := u.byID[w.Placed]; unit != nil {
			if d, ok := u.resolveWire(s, types, night, w); ok {
				unit.Drives = append(unit.Drives, d)
			}
		}
	}
	u.join()
	for _, unit := range u.All {
		unit.LeftOut = unit.whyLeftOut(night)
	}
	for _, g := range rig.Groups {
		members := []*Unit{}
		for _, id := range g.Members {
			if unit := u.byID[id]; unit != nil && !slices.Contains(members, unit) { // named twice, it still plays once
				members = append(members, unit)
			}
		}
		u.targets[g.ID] = members
	}
	return u
}

func (u *Units) resolveWire(s *Show, types map[ID]*DeviceType, night *Night, w *Wire) (Drive, bool) {
	stock, rig := s.Stock, s.Rig
	if b := rig.Bank(w.Driver); b != nil {
		return Drive{Wire: w, Name: u.Called(b), Bank: b, BankType: stock.BankType(b.Type), Dead: b.Dead || night.TakesOut("bank", b.ID)}, true
	}
	if v := rig.Device(w.Driver); v != nil {
		if types[v.ID] == nil {
			types[v.ID] = stock.DeviceTypeOf(v)
		}
		return Drive{Wire: w, Name: u.Called(v), Device: v, DeviceType: types[v.ID], Dead: v.Dead || night.TakesOut("device", v.ID)}, true
	}
	return Drive{}, false
}

// TakesOut reports whether the night takes a thing out of the rig. A nil night
// takes out nothing.
func (n *Night) TakesOut(kind string, id ID) bool {
	return n != nil && slices.ContainsFunc(n.Rig, func(c RigChange) bool { return c.Kind == kind && c.ID == id && c.Out })
}

// WhyOut gives the reason for which the night takes a thing out of the rig; "" where
// it gives none, or does not take it out.
func (n *Night) WhyOut(kind string, id ID) string {
	if n != nil {
		for _, c := range n.Rig {
			if c.Kind == kind && c.ID == id && c.Out {
				return c.Why
			}
		}
	}
	return ""
}

// whyLeftOut gives the reasons for which nothing commands the unit this night; ""
// where something does, or where somebody may not know that nothing does.
func (u *Unit) whyLeftOut(night *Night) string {
	if u.Out {
		return night.WhyOut("placed", u.Placed.ID)
	}
	if !u.Dark() {
		return ""
	}
	var all []string
	for _, d := range u.Drives {
		why := ""
		switch {
		case d.Bank != nil:
			why = night.WhyOut("bank", d.Bank.ID)
		case d.Device != nil:
			why = night.WhyOut("device", d.Device.ID)
		}
		if why == "" {
			return ""
		}
		if !slices.Contains(all, why) {
			all = append(all, why)
		}
	}
	return strings.Join(all, "; ")
}

// swapPlaced gives the article that stands at a placed effect this night.
func (n *Night) swapPlaced(stock *Stock, p *Placed) ID {
	if n == nil {
		return p.Article
	}
	for _, s := range n.Swaps {
		if s.Touches(stock, p.Article, p.ID, nil, "") {
			return s.To
		}
	}
	return p.Article
}

// Touches reports whether a selector chooses an article at a placed effect, or
// a cue of a song (cue may be nil).
func (s Selector) Touches(stock *Stock, article, placed ID, cue *Cue, songs ...ID) bool {
	switch s.What {
	case "family":
		a := stock.Article(article)
		return a != nil && string(a.Family) == s.ID
	case "article":
		return string(article) == s.ID
	case "placed":
		return string(placed) == s.ID
	case "lane":
		return cue != nil && string(cue.Lane) == s.ID
	case "cue":
		return cue != nil && (string(cue.ID) == s.ID || string(cue.again) == s.ID && s.ID != "")
	case "song":
		return slices.Contains(songs, ID(s.ID))
	}
	return false
}

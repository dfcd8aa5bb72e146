package timeline

import (
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline/field"
)

// Bank is an igniter bank or relay bank in the rig, with its address in a
// named address space.
type Bank struct {
	Base
	Name     string
	Type     ID
	Space    string // address space; banks of one space need different addresses
	Address  int    // 0 = none yet
	Position ID     // where the bank stands
	Dead     bool   // out of service: its wires lead nowhere
	Note     string
}

func init() {
	register("bank", "banks", "an igniter or relay bank in the rig", rigPart,
		func(s *Show, _ ID) []*Bank { return s.Rig.Banks },
		func(d *Draft, _ ID) *[]*Bank { return &d.rig().Banks },
		field.Text("name", "what the crew calls it", func(b *Bank) *string { return &b.Name }),
		refField("type", "its bank type", func(b *Bank) *ID { return &b.Type }, "banktype"),
		field.Text("space", "name of its address space", func(b *Bank) *string { return &b.Space }),
		field.Whole("address", "its address in that space; 0 = none yet", 0, 1_000_000, func(b *Bank) *int { return &b.Address }),
		refField("position", "where the bank stands", func(b *Bank) *ID { return &b.Position }, "position"),
		field.Flag("dead", "out of service: its wires lead nowhere", func(b *Bank) *bool { return &b.Dead }),
		field.Text("note", "", func(b *Bank) *string { return &b.Note }),
	)
}

// Patch is a start address: a slot of a universe, both from 1.
type Patch struct{ Universe, Slot int }

// String writes `universe.slot`.
func (p Patch) String() string { return fmt.Sprintf("%d.%d", p.Universe, p.Slot) }

// Absolute is the running number over all universes: (universe-1)*512+slot.
func (p Patch) Absolute() int { return (p.Universe-1)*512 + p.Slot }

// LastUniverse is the highest number that a universe can have.
const LastUniverse = 63999

// ParsePatch reads `universe.slot` or a running number such as 513 (= 2.1).
func ParsePatch(s string) (Patch, error) {
	bad := fmt.Errorf("must be universe.slot such as 1.45 (slots 1 to 512, universes 1 to 63999), or a running number such as 513")
	u, slot, dotted := strings.Cut(s, ".")
	n, err := strconv.Atoi(u)
	if err != nil || n < 1 || n > LastUniverse*512 {
		return Patch{}, bad
	}
	if !dotted {
		return Patch{(n-1)/512 + 1, (n-1)%512 + 1}, nil
	}
	k, err := strconv.Atoi(slot)
	if err != nil || k < 1 || k > 512 || n > LastUniverse {
		return Patch{}, bad
	}
	return Patch{n, k}, nil
}

// Device is a DMX device in the rig: a device type with a start address for
// each of its blocks.
type Device struct {
	Base
	Name     string
	Type     ID
	Space    string  // name of the network its universes belong to
	Starts   []Patch // one for each block of the type, in order
	Slots    []SlotChange
	Shares   []ID // devices it may overlap: declared clones and shared arm slots
	Position ID
	Dead     bool
	Note     string
}

func init() {
	register("device", "devices", "a DMX device in the rig", rigPart,
		func(s *Show, _ ID) []*Device { return s.Rig.Devices },
		func(d *Draft, _ ID) *[]*Device { return &d.rig().Devices },
		field.Text("name", "what the crew calls it", func(v *Device) *string { return &v.Name }),
		refField("type", "its device type", func(v *Device) *ID { return &v.Type }, "devicetype"),
		field.Text("space", "name of the network its universes belong to", func(v *Device) *string { return &v.Space }),
		field.List("starts", "start address of each block: universe.slot", func(v *Device) *[]Patch { return &v.Starts }, Patch.String, ParsePatch),
		field.List("slot-changes", "single slots renamed, moved or given a meaning: "+slotChangeWords, func(v *Device) *[]SlotChange { return &v.Slots }, SlotChange.String, ParseSlotChange),
		refListField("shares", "devices it may overlap: clones and shared arm slots", func(v *Device) *[]ID { return &v.Shares }, "device"),
		refField("position", "where the device stands", func(v *Device) *ID { return &v.Position }, "position"),
		field.Flag("dead", "out of service: its wires lead nowhere", func(v *Device) *bool { return &v.Dead }),
		field.Text("note", "", func(v *Device) *string { return &v.Note }),
	)
}

// Wire joins a placed effect to an output of a bank or a head of a device. An
// effect with several wires is driven by all of them.
type Wire struct {
	Base
	Placed  ID
	Driver  ID  // bank or device
	Output  int // output of the bank, or head of the device; from 1
	Circuit ID  // igniter circuit it belongs to, or none

	Together bool // meant to fire with all else on the output
	Note     string
}

func (w *Wire) defaults() { w.Output = 1 }

func init() {
	register("wire", "wiring", "joins a placed effect to an output or a device", rigPart,
		func(s *Show, _ ID) []*Wire { return s.Rig.Wires },
		func(d *Draft, _ ID) *[]*Wire { return &d.rig().Wires },
		refField("placed", "the placed effect", func(w *Wire) *ID { return &w.Placed }, "placed"),
		refField("unit", "the bank or device", func(w *Wire) *ID { return &w.Driver }, "bank", "device"),
		field.Whole("output", "output of the bank or head of the device", 1, 10000, func(w *Wire) *int { return &w.Output }),
		refField("circuit", "igniter circuit it belongs to", func(w *Wire) *ID { return &w.Circuit }, "circuit"),
		field.Flag("together", "meant to fire with all else on that output", func(w *Wire) *bool { return &w.Together }),
		field.Text("note", "", func(w *Wire) *string { return &w.Note }),
	)
}

// Joining says how the igniters of a circuit are joined.
type Joining string

// The joinings.
const (
	InSeries   Joining = "series"
	InParallel Joining = "parallel"
)

// Circuit is what hangs on one igniter output: igniters in series or parallel
// at the end of a cable.
type Circuit struct {
	Base
	Name     string
	Joining  Joining
	Igniters int
	Ohms     float64 // of one igniter
	AllFire  float64 // A, current each igniter needs
	Cable    float64 // m, one way
	Section  float64 // mm², cross-section of a core
	Note     string
}

func (c *Circuit) defaults() { c.Joining, c.Igniters = InSeries, 1 }

func init() {
	register("circuit", "circuits", "igniters and cable on one output", rigPart,
		func(s *Show, _ ID) []*Circuit { return s.Rig.Circuits },
		func(d *Draft, _ ID) *[]*Circuit { return &d.rig().Circuits },
		field.Text("name", "what the crew calls it", func(c *Circuit) *string { return &c.Name }),
		field.Choice("joining", "how the igniters are joined", func(c *Circuit) *Joining { return &c.Joining }, []Joining{InSeries, InParallel}),
		field.Whole("igniters", "how many", 1, 1000, func(c *Circuit) *int { return &c.Igniters }),
		field.Number("ohms", "ohm", "resistance of one igniter", 0, 1000, func(c *Circuit) *float64 { return &c.Ohms }),
		field.Number("all-fire", "A", "current each igniter needs", 0, 100, func(c *Circuit) *float64 { return &c.AllFire }),
		field.Number("cable", "m", "length of the cable, one way", 0, 10000, func(c *Circuit) *float64 { return &c.Cable }),
		field.Number("section", "mm²", "cross-section of a core", 0, 100, func(c *Circuit) *float64 { return &c.Section }),
		field.Text("note", "", func(c *Circuit) *string { return &c.Note }),
	)
}

// Supply is a cylinder, tank or hopper, or several alike, and what it feeds.
type Supply struct {
	Base
	Name      string
	Medium    string  // CO2, propane, fluid, paper …
	Fill      float64 // kg in one full unit
	Units     int     // how many are joined
	Usable    float64 // part of the fill that can be drawn, 0..1
	Reserve   float64 // warn below this part of the usable fill, 0..1
	Feeds     []ID    // placed effects
	At        ID      // position where it stands
	Spare     int     // full units on site beside those joined
	Transport string  // transport category of ADR 1.1.3.6, "0" to "4"; "" = by the medium
	Note      string
}

func (s *Supply) defaults() { s.Units, s.Usable, s.Reserve = 1, 1, 0.15 }

func init() {
	register("supply", "supplies", "a cylinder, tank or hopper and what it feeds", rigPart,
		func(s *Show, _ ID) []*Supply { return s.Rig.Supplies },
		func(d *Draft, _ ID) *[]*Supply { return &d.rig().Supplies },
		field.Text("name", "what the crew calls it", func(s *Supply) *string { return &s.Name }),
		field.Text("medium", "what it holds: CO2, propane, fluid, paper", func(s *Supply) *string { return &s.Medium }),
		field.Number("fill", "kg", "in one full unit", 0, 1e6, func(s *Supply) *float64 { return &s.Fill }),
		field.Whole("units", "how many are joined", 1, 1000, func(s *Supply) *int { return &s.Units }),
		field.Number("usable", "", "part of the fill that can be drawn", 0, 1, func(s *Supply) *float64 { return &s.Usable }),
		field.Number("reserve", "", "warn below this part of the usable fill (our judgement: 0.15)", 0, 1, func(s *Supply) *float64 { return &s.Reserve }),
		refListField("feeds", "placed effects it feeds", func(s *Supply) *[]ID { return &s.Feeds }, "placed"),
		field.Whole("spare-units", "full ones on site beside those joined", 0, 1000, func(s *Supply) *int { return &s.Spare }),
		field.Choice("transport", "transport category of ADR 1.1.3.6; empty = by the medium", func(s *Supply) *string { return &s.Transport }, transportCategories),
		refField("position", "where it stands, and is refilled", func(s *Supply) *ID { return &s.At }, "position"),
		field.Text("note", "", func(s *Supply) *string { return &s.Note }),
	)
}

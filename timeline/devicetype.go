package timeline

import (
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline/field"
)

// SlotRole says what a slot of a device does.
type SlotRole string

// The slot roles.
const (
	EffectSlot    SlotRole = "effect"    // opens the effect
	LevelSlot     SlotRole = "level"     // height or intensity
	ArmSlot       SlotRole = "arm"       // must be in its value window first
	ConditionSlot SlotRole = "condition" // must be on before and during: cooling, fan
	WarmUpSlot    SlotRole = "warm-up"   // heats the device
	SpareSlot     SlotRole = "spare"     // present, unused
	OpenSlot      SlotRole = "open"      // waits for a show to give it a meaning
)

// SlotRoles lists the slot roles.
func SlotRoles() []SlotRole {
	return []SlotRole{EffectSlot, LevelSlot, ArmSlot, ConditionSlot, WarmUpSlot, SpareSlot, OpenSlot}
}

// Slot is one slot (or one coarse and fine pair) of a device type.
type Slot struct {
	Block  int // which block of addresses, from 1
	Number int // place in the block, from 1
	Role   SlotRole
	Head   int // which effect of the device it serves, from 1; 0 = all
	From   int // value window in which the role is on; arm and condition need it
	To     int
	Off    int  // value that is off
	Wide   bool // takes two slots, coarse then fine
	Name   string

	moved bool // the show gives it an address of its own
}

// Width is the number of DMX slots it takes: 1, or 2 when Wide.
func (s Slot) Width() int {
	if s.Wide {
		return 2
	}
	return 1
}

// On is the value to send when the role is on: the middle of the window.
func (s Slot) On() int { return (s.From + s.To) / 2 }

// String writes the item form: `1.3 role=arm on=64..127`.
func (s Slot) String() string {
	var w itemWriter
	w.head(fmt.Sprintf("%d.%d", s.Block, s.Number))
	w.pair("role", string(s.Role))
	if s.Head != 0 {
		w.pair("head", strconv.Itoa(s.Head))
	}
	w.pair("on", fmt.Sprintf("%d..%d", s.From, s.To))
	if s.Off != 0 {
		w.pair("off", strconv.Itoa(s.Off))
	}
	w.pair("name", s.Name)
	w.flag("wide", s.Wide)
	return w.String()
}

// ParseSlot reads the item form of a slot.
func ParseSlot(text string) (Slot, error) {
	r := readItem(text)
	s := Slot{Role: EffectSlot}
	s.Block, s.Number = r.slotNumber(r.head("block.number, such as 1.3"))
	if role := take(r, "role", parseRole); role != "" {
		s.Role = role
	}
	s.Head = take(r, "head", intWithin(0, 512))
	on := take(r, "on", parseWindow)
	s.Off = take(r, "off", intWithin(0, 65535))
	s.Name = r.value("name")
	s.Wide = r.flag("wide")
	switch {
	case on != nil:
		s.From, s.To = on[0], on[1]
	case s.Wide:
		s.From, s.To = 65535, 65535
	default:
		s.From, s.To = 255, 255
	}
	if err := r.done("role= head= on= off= name= wide"); err != nil {
		return Slot{}, err
	}
	return s, s.check()
}

// slotNumber reads block.number.
func (r *itemReader) slotNumber(text string) (block, number int) {
	b, n, ok := strings.Cut(text, ".")
	block, errB := strconv.Atoi(b)
	number, errN := strconv.Atoi(n)
	if r.err == nil && (!ok || errB != nil || errN != nil || block < 1 || block > 64 || number < 1 || number > 512) {
		r.err = fmt.Errorf("must start with block.number, such as 1.3; blocks 1 to 64, numbers 1 to 512")
	}
	return block, number
}

func parseRole(t string) (SlotRole, error) {
	for _, w := range SlotRoles() {
		if string(w) == t {
			return w, nil
		}
	}
	return "", fmt.Errorf("is not one of: %s", field.Listed(SlotRoles()))
}

func (s Slot) check() error {
	top := 255
	if s.Wide {
		top = 65535
	}
	switch {
	case s.To > top || s.Off > top:
		return fmt.Errorf("a value is above %d, the most this slot can carry", top)
	case s.Off >= s.From && s.Off <= s.To:
		return fmt.Errorf("off=%d lies inside on=%d..%d; off must be outside", s.Off, s.From, s.To)
	case s.Number+s.Width()-1 > 512:
		return fmt.Errorf("runs past slot 512 of its block")
	}
	return nil
}

func intWithin(min, max int) func(string) (int, error) {
	return func(s string) (int, error) {
		n, err := strconv.Atoi(s)
		if err != nil || n < min || n > max {
			return 0, fmt.Errorf("must be a whole number from %d to %d", min, max)
		}
		return n, nil
	}
}

func parseWindow(s string) (*[2]int, error) {
	from, to, found := strings.Cut(s, "..")
	if !found {
		to = from
	}
	a, err1 := strconv.Atoi(from)
	b, err2 := strconv.Atoi(to)
	if err1 != nil || err2 != nil || a < 0 || b < a || b > 65535 {
		return nil, fmt.Errorf("must be a value window, such as 64..127")
	}
	return &[2]int{a, b}, nil
}

// DeviceType is a kind of DMX device: its slots in their blocks, and what it
// adds to the lead.
type DeviceType struct {
	Base
	Name      string
	Slots     []Slot
	Latency   Time // added to the lead of every effect it carries
	ArmLead   Time // how long before a command the arm slot must be up
	ArmHold   Time // arm up longer than this after the last effect is "left up"; 0 = 30 s
	Condition Time // how long before a command the condition slots must be on
	Hazardous bool // a warning at address 1
	Mark      Mark
	Note      string
}

// Blocks gives the number of slots of each block, in order of block number;
// slots that a show has moved elsewhere are not part of them.
func (t *DeviceType) Blocks() []int {
	var sizes []int
	for _, s := range t.Slots {
		for len(sizes) < s.Block {
			sizes = append(sizes, 0)
		}
		if !s.moved {
			sizes[s.Block-1] = max(sizes[s.Block-1], s.Number+s.Width()-1)
		}
	}
	return sizes
}

// Find gives the slots of a role that serve a head (those of head 0 serve all).
func (t *DeviceType) Find(role SlotRole, head int) []Slot {
	var found []Slot
	for _, s := range t.Slots {
		if s.Role == role && (s.Head == 0 || s.Head == head) {
			found = append(found, s)
		}
	}
	return found
}

// Heads gives the number of effects the device carries: the highest head named
// by an effect slot, at least 1.
func (t *DeviceType) Heads() int {
	heads := 1
	for _, s := range t.Slots {
		if s.Role == EffectSlot {
			heads = max(heads, s.Head)
		}
	}
	return heads
}

func init() {
	register("devicetype", "devicetypes", "a kind of DMX device", stockPart,
		func(s *Show, _ ID) []*DeviceType { return s.Stock.DeviceTypes },
		func(d *Draft, _ ID) *[]*DeviceType { return &d.stock().DeviceTypes },
		field.Text("name", "what the crew calls it", func(t *DeviceType) *string { return &t.Name }),
		field.List("slots", "its slots: block.number role= head= on= off= name= wide", func(t *DeviceType) *[]Slot { return &t.Slots }, Slot.String, ParseSlot),
		spanField("latency", "added to the lead of every effect it carries", func(t *DeviceType) *Time { return &t.Latency }),
		spanField("arm-lead", "how long before a command the arm slot must be up", func(t *DeviceType) *Time { return &t.ArmLead }),
		spanField("arm-hold", "how long the arm slot may stay up without an effect; 0 = 30 s", func(t *DeviceType) *Time { return &t.ArmHold }),
		spanField("condition-lead", "how long before a command the condition slots must be on", func(t *DeviceType) *Time { return &t.Condition }),
		field.Flag("hazardous", "can hurt: warned about at address 1", func(t *DeviceType) *bool { return &t.Hazardous }),
		field.Choice("mark", "how well its numbers are known", func(t *DeviceType) *Mark { return &t.Mark },
			[]Mark{"", Published, FromMemory, CommonPractice, Judgement, Derived, Measured, Label, Invented}),
		field.Text("note", "", func(t *DeviceType) *string { return &t.Note }),
	)
}

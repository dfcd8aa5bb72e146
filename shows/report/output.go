package report

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// Output is one output or slot with what is put on it.
type Output struct {
	Label string `json:"label"` // "bank 4 output 7", "DMX 1.45"
	Value string `json:"value"` // "pulse", "on", or the number of a slot
	Dead  bool   `json:"dead,omitempty"`

	At    Address `json:"-"` // the zero value of a slot that has none
	Level bool    `json:"-"` // it says how high the effect is, and opens nothing
}

// Address is where an output is reached. Two outputs of one address open together.
type Address struct {
	Space  string         // of banks or of universes, as the rig names it
	Number int            // of a bank that has one
	Bank   timeline.ID    // a bank that has none
	Output int            // of the bank, from 1; 0 = it is a slot
	Slot   timeline.Patch // of a universe
}

// BankAddress gives the address of an output of a bank.
func BankAddress(b *timeline.Bank, output int) Address {
	if b.Address == 0 {
		return Address{Bank: b.ID, Output: output}
	}
	return Address{Space: b.Space, Number: b.Address, Output: output}
}

// slotAddress gives the address of a slot of a device; the zero value where it has
// none.
func slotAddress(v *timeline.Device, s timeline.Slot) Address {
	p, ok := v.Address(s)
	if !ok {
		return Address{}
	}
	return Address{Space: v.Space, Slot: p}
}

// Labeller names outputs. Where a rig has several networks, each of which has a
// universe 1, a slot's label names its network.
type Labeller struct {
	show     *timeline.Show
	networks bool
}

// NewLabeller makes a labeller for the outputs of a show's rig.
func NewLabeller(s *timeline.Show) Labeller {
	for _, v := range s.Rig.Devices {
		if v.Space != s.Rig.Devices[0].Space {
			return Labeller{s, true}
		}
	}
	return Labeller{show: s}
}

// Hit gives every output that a command drives; of what only opens with another
// unit, those of both.
func (l Labeller) Hit(c *timeline.Command) []Output {
	all := []Output{}
	for _, d := range c.Drives() {
		switch {
		case d.Bank != nil:
			all = append(all, Output{Label: d.Label(timeline.EffectSlot), Value: bankValue(d), Dead: d.Dead, At: BankAddress(d.Bank, d.Wire.Output)})
		case d.DeviceType != nil:
			for _, s := range d.DeviceType.Find(timeline.EffectSlot, d.Wire.Output) {
				all = append(all, Output{Label: l.slot(d.Device, s), Value: strconv.Itoa(s.On()), Dead: d.Dead, At: slotAddress(d.Device, s)})
			}
			for _, s := range d.DeviceType.Find(timeline.LevelSlot, d.Wire.Output) {
				all = append(all, Output{Label: l.slot(d.Device, s), Value: strconv.Itoa(levelValue(s, c.Level)), Dead: d.Dead, At: slotAddress(d.Device, s), Level: true})
			}
		}
	}
	return all
}

// bankValue is what an output of a bank does: an igniter gets its pulse, a
// relay closes.
func bankValue(d timeline.Drive) string {
	if d.BankType != nil && d.BankType.Kind == timeline.IgniterBank {
		return "pulse"
	}
	return "on"
}

// levelValue spreads percent over the slot's value window: 100 is its upper
// end, 0 its lower end. A window of one value runs up from 0.
func levelValue(s timeline.Slot, percent int) int {
	from := s.From
	if from == s.To {
		from = 0
	}
	return from + ((s.To-from)*percent+50)/100
}

// slot names a slot by its address, or by its place in the device where it has
// none yet.
func (l Labeller) slot(v *timeline.Device, s timeline.Slot) string {
	p, ok := v.Address(s)
	if !ok {
		return fmt.Sprintf("%s slot %d.%d, no address", l.show.Called(v), s.Block, s.Number)
	}
	label := "DMX " + p.String()
	if s.Wide {
		label += fmt.Sprintf("+%d", p.Slot+1)
	}
	if l.networks && v.Space != "" {
		label += " of " + v.Space
	}
	return label
}

// Window gives the slots of an arm, condition or warm-up window, when it goes
// up or when it goes down.
func (l Labeller) Window(w *timeline.Window, up bool) []Output {
	all := []Output{}
	for _, s := range w.Slots {
		value := s.Off
		if up {
			value = s.On()
		}
		all = append(all, Output{Label: l.slot(w.Device, s), Value: strconv.Itoa(value), Dead: w.Device.Dead, At: slotAddress(w.Device, s)})
	}
	return all
}

// LabelsOf and ValuesOf join what stands in two columns of a sheet.
func LabelsOf(outputs []Output) string {
	if len(outputs) == 0 {
		return "no output"
	}
	return joinOutputs(outputs, func(o Output) string {
		if o.Dead {
			return o.Label + " (dead)"
		}
		return o.Label
	})
}

// ValuesOf joins the values of outputs.
func ValuesOf(outputs []Output) string {
	return joinOutputs(outputs, func(o Output) string { return o.Value })
}

func joinOutputs(outputs []Output, text func(Output) string) string {
	parts := make([]string, len(outputs))
	for i, o := range outputs {
		parts[i] = text(o)
	}
	return strings.Join(parts, " + ")
}

// ShortLabels joins the names of outputs in as few letters as they are read by:
// "bank A · 3", and what slots share at their heads once, "DMX 1.104+105".
func ShortLabels(outputs []Output) string {
	text, last := "", ""
	for i, o := range outputs {
		label := strings.Replace(o.Label, " output ", " · ", 1)
		head := strings.TrimRight(label, "0123456789")
		switch {
		case i > 0 && head != "" && head == last:
			text += "+" + label[len(head):]
		case i > 0:
			text += " + " + label
		default:
			text = label
		}
		if last = head; o.Dead {
			text, last = text+" (dead)", ""
		}
	}
	return cmp.Or(text, "no output")
}

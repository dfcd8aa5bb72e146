package timeline

import "emberbeat/timeline/field"

// BankKind says what the outputs of a bank are.
type BankKind string

// The bank kinds.
const (
	IgniterBank BankKind = "igniter"
	RelayBank   BankKind = "relay"
)

// BankType is a kind of igniter bank or relay bank.
type BankType struct {
	Base
	Name     string
	Kind     BankKind
	Outputs  int
	Latency  Time    // added to the lead of every effect on it
	Volts    float64 // output voltage; 0 = not given
	Ohms     float64 // inner resistance of an output
	Amps     float64 // most current of an output; 0 = not given
	Most     float64 // A, most current of the whole bank; 0 = not given
	Inner    float64 // ohm, inner resistance of the whole bank, behind which all outputs share; 0 = not given
	Pulse    Time    // how long an igniter output is on; 0 = not given
	Capacity float64 // capacity that is discharged into an output, in µF; 0 = none
	Mark     Mark
	Note     string
}

func (t *BankType) defaults() { t.Kind, t.Outputs = IgniterBank, 1 }

func init() {
	register("banktype", "banktypes", "a kind of igniter or relay bank", stockPart,
		func(s *Show, _ ID) []*BankType { return s.Stock.BankTypes },
		func(d *Draft, _ ID) *[]*BankType { return &d.stock().BankTypes },
		field.Text("name", "what the crew calls it", func(t *BankType) *string { return &t.Name }),
		field.Choice("kind", "what its outputs are", func(t *BankType) *BankKind { return &t.Kind }, []BankKind{IgniterBank, RelayBank}),
		field.Whole("outputs", "how many outputs it has", 1, 10000, func(t *BankType) *int { return &t.Outputs }),
		spanField("latency", "added to the lead of every effect on it", func(t *BankType) *Time { return &t.Latency }),
		field.Number("volts", "V", "output voltage; 0 = not given", 0, 1000, func(t *BankType) *float64 { return &t.Volts }),
		field.Number("ohms", "ohm", "inner resistance of an output", 0, 1000, func(t *BankType) *float64 { return &t.Ohms }),
		field.Number("amps", "A", "most current of an output; 0 = not given", 0, 1000, func(t *BankType) *float64 { return &t.Amps }),
		field.Number("bank-amps", "A", "most current of the whole bank at once; 0 = not given", 0, 10000, func(t *BankType) *float64 { return &t.Most }),
		field.Number("bank-ohms", "ohm", "inner resistance of the whole bank, which all outputs share; 0 = not given", 0, 1000, func(t *BankType) *float64 { return &t.Inner }),
		spanField("pulse", "how long an igniter output is on; 0 = not given", func(t *BankType) *Time { return &t.Pulse }),
		field.Number("capacity", "µF", "capacity that is discharged into an output; 0 = none", 0, 1e6, func(t *BankType) *float64 { return &t.Capacity }),
		field.Choice("mark", "how well its numbers are known", func(t *BankType) *Mark { return &t.Mark },
			[]Mark{"", Published, FromMemory, CommonPractice, Judgement, Derived, Measured, Label, Invented}),
		field.Text("note", "", func(t *BankType) *string { return &t.Note }),
	)
}

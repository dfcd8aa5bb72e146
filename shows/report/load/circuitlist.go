package load

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// CircuitList is the igniter circuits of a rig worked out on their outputs.
type CircuitList struct {
	Celsius float64
	Lines   []CircuitLine
	records *report.Records
	told    units.System
}

// CircuitLine is one circuit on one output, or not wired at all. Figures that
// rest on something not given are 0.
type CircuitLine struct {
	Circuit  string   `json:"circuit"`
	Name     string   `json:"name"`
	Bank     string   `json:"bank"` // "" = not wired
	BankName string   `json:"bank_name"`
	Output   int      `json:"output"`
	Joining  string   `json:"joining"`
	Igniters int      `json:"igniters"`
	Cable    float64  `json:"cable_ohms"`
	Expected float64  `json:"expected_ohms"` // what a meter shows at the output
	Total    float64  `json:"total_ohms"`    // with the output's own
	Volts    float64  `json:"volts"`
	Each     float64  `json:"amps_each"`
	AllFire  float64  `json:"all_fire_amps"`
	Margin   float64  `json:"margin"` // amps_each over all_fire_amps
	Energy   float64  `json:"joules_stored"`
	EachJ    float64  `json:"joules_each"`
	Decay    float64  `json:"time_constant"` // s
	Missing  []string `json:"not_given"`
	Warnings []string `json:"warnings"`

	reading string
	called  string // in words; so is the bank
	bank    string
}

// NewCircuitList works out every circuit with its cable at a temperature in °C;
// nil = as warm as the show has it.
func NewCircuitList(s *timeline.Show, celsius *float64) (*CircuitList, error) {
	warm := s.CableCelsius(nil)
	if celsius != nil {
		warm = *celsius
	}
	l := &CircuitList{told: s.Told(), Celsius: warm, Lines: []CircuitLine{}, records: report.NewRecords(s, timeline.KindOf("circuit"), report.Filter{})}
	names := s.Names()
	for _, c := range s.Rig.Circuits {
		outputs := circuitOutputs(s, c.ID)
		if len(outputs) == 0 {
			outputs = []timeline.OutputRef{{}}
		}
		for _, o := range outputs {
			line, err := circuitLine(s, c, o, celsius)
			if err != nil {
				return nil, fmt.Errorf("circuit:%s: %w", c.ID, err)
			}
			line.called = names.Called("", c)
			if b := s.Rig.Bank(o.Driver); b != nil {
				line.bank = names.Called("", b)
			}
			l.Lines = append(l.Lines, line)
		}
	}
	return l, nil
}

// circuitOutputs gives the outputs on which a circuit's wires stand.
func circuitOutputs(s *timeline.Show, circuit timeline.ID) []timeline.OutputRef {
	var list []timeline.OutputRef
	for _, w := range s.Rig.Wires {
		if o := (timeline.OutputRef{Driver: w.Driver, Output: w.Output}); w.Circuit == circuit && !slices.Contains(list, o) {
			list = append(list, o)
		}
	}
	slices.SortFunc(list, func(a, b timeline.OutputRef) int {
		return cmp.Or(strings.Compare(string(a.Driver), string(b.Driver)), cmp.Compare(a.Output, b.Output))
	})
	return list
}

func circuitLine(s *timeline.Show, c *timeline.Circuit, o timeline.OutputRef, celsius *float64) (CircuitLine, error) {
	line := CircuitLine{Circuit: string(c.ID), Name: c.Name, Output: o.Output, Joining: string(c.Joining), Igniters: c.Igniters, AllFire: c.AllFire, Missing: []string{}}
	var t *timeline.BankType
	if b := s.Rig.Bank(o.Driver); b != nil {
		line.Bank, line.BankName = string(b.ID), b.Name
		t = s.Stock.BankType(b.Type)
	}
	load, err := s.CircuitLoad(c, t)
	if celsius != nil {
		load, err = c.Load(t, *celsius)
	}
	if err != nil {
		return line, err
	}
	if t != nil {
		line.Volts = t.Volts
	}
	line.reading = load.Reading()
	line.Cable, line.Expected, line.Total, line.Each, line.Margin = load.Cable, load.Expected, load.Total, load.Each, load.Margin
	line.Energy, line.EachJ, line.Decay = load.Energy, load.EachJ, load.Decay
	line.Missing = append(line.Missing, load.Missing...)
	line.Warnings = append([]string{}, load.Warnings(c, t)...)
	return line, nil
}

// wording.WriteJSON writes the circuits' records and what they come to on their
// outputs.
func (l *CircuitList) WriteJSON(w io.Writer) error {
	var o report.Object
	o.Add("circuits", l.records)
	o.Add("outputs", l.Lines)
	o.Add("celsius", l.Celsius)
	o.Add("caution", CircuitCaution+" "+report.Caution)
	return wording.WriteJSON(w, o)
}

// WriteText writes the circuits as a table with what is missing or beyond
// limits, and the caution.
func (l *CircuitList) WriteText(w io.Writer) error {
	out := bufio.NewWriter(w)
	if len(l.Lines) == 0 {
		fmt.Fprintln(out, "no circuits")
		return out.Flush()
	}
	if err := l.table().Write(out); err != nil {
		return err
	}
	for i := range l.Lines {
		c := &l.Lines[i]
		for _, text := range c.Warnings {
			fmt.Fprintf(out, "warning: %s, %s: %s\n", c.called, c.place(), text)
		}
		if len(c.Missing) > 0 {
			fmt.Fprintf(out, "not given: %s, %s: %s\n", c.called, c.place(), strings.Join(c.Missing, ", "))
		}
	}
	fmt.Fprintf(out, "cable at %s\n\n%s %s\n", l.told.Say("°C", l.Celsius, -1), CircuitCaution, report.Caution)
	return out.Flush()
}

func (l *CircuitList) table() *wording.Table {
	t := &wording.Table{Columns: []wording.Column{{Name: "circuit", Right: false}, {Name: "output", Right: false}, {Name: "joined", Right: false}, {Name: "igniters", Right: true}, {Name: "cable ohm", Right: true}, {Name: "expected ohm", Right: true},
		{Name: "V", Right: true}, {Name: "A each", Right: true}, {Name: "all-fire A", Right: true}, {Name: "margin", Right: true}}}
	for i := range l.Lines {
		c := &l.Lines[i]
		t.Rows = append(t.Rows, []string{c.called, c.place(), c.Joining, strconv.Itoa(c.Igniters), wording.Ohms(c.Cable), c.reading,
			figure(c.Volts), figure(c.Each), figure(c.AllFire), figure(c.Margin)})
	}
	return t
}

func (c *CircuitLine) place() string {
	if c.Bank == "" {
		return "not wired"
	}
	return fmt.Sprintf("%s output %d", c.bank, c.Output)
}

// figure writes a number with three digits; 0 is not given.
func figure(x float64) string {
	if x == 0 {
		return "not given"
	}
	return strconv.FormatFloat(x, 'g', 3, 64)
}

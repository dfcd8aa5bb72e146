package load

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// CircuitCaution stands wherever circuits are worked out.
const CircuitCaution = "Circuit figures are for planning and take the bank's, igniter's and cable's figures as given. " +
	"Measure every circuit with a tester made for igniters before it is connected; the maker's limits, the label, the permit and the authority come first."

// cableNote says for how warm a cable the expected ohms are.
func cableNote(s *timeline.Show) string {
	all := []float64{s.CableCelsius(nil)}
	for i, c := range s.Rig.Circuits {
		x := s.CableCelsius(c)
		if i == 0 {
			all = nil
		}
		if !slices.Contains(all, x) {
			all = append(all, x)
		}
	}
	texts := make([]string, len(all))
	for i, x := range all {
		texts[i] = s.Told().Say("°C", x, -1)
	}
	if len(texts) > 1 {
		return "Expected ohms are for cables at " + wording.JoinNames(texts) + ", as the rule circuit is set for what hangs on them."
	}
	return "Expected ohms are for cables at " + texts[0] + "."
}

// Rewire is what to move when one bank takes another's place, and what to test
// again.
type Rewire struct {
	Old      string       `json:"old"` // bank id
	OldName  string       `json:"old_name"`
	New      string       `json:"new"`
	NewName  string       `json:"new_name"`
	Moves    []RewireLine `json:"moves"`
	Homeless []RewireLine `json:"no_place"`
	Warnings []string     `json:"warnings"`
	Retest   []RetestLine `json:"retest"`
	Caution  string       `json:"caution"`
}

// RewireLine is one output's move; To is 0 where it finds no place.
type RewireLine struct {
	From    int    `json:"from"`
	To      int    `json:"to"`
	Effects string `json:"effects"`
	Why     string `json:"why,omitempty"`
}

// RetestLine is one output to measure again.
type RetestLine struct {
	Output  int     `json:"output"`
	Effects string  `json:"effects"`
	Circuit string  `json:"circuit"`       // "" = none is given
	Expect  float64 `json:"expected_ohms"` // 0 = not known

	reading string
}

// NewRewire puts a bank swap into words.
func NewRewire(s *timeline.Show, p *timeline.BankSwap) *Rewire {
	r := &Rewire{Old: string(p.Old.ID), OldName: p.Old.Name, New: string(p.New.ID), NewName: p.New.Name, Caution: CircuitCaution + " " + report.Caution,
		Moves: []RewireLine{}, Homeless: []RewireLine{}, Warnings: append([]string{}, p.Warnings...), Retest: []RetestLine{}}
	for i := range p.Moves {
		m := &p.Moves[i]
		r.Moves = append(r.Moves, RewireLine{From: m.From, To: m.To, Effects: m.Effects(s)})
		line := RetestLine{Output: m.To, Effects: m.Effects(s)}
		if m.Circuit != nil {
			line.Circuit = m.Circuit.Name
			if load, err := s.CircuitLoad(m.Circuit, p.NewType); err == nil {
				line.Expect, line.reading = load.Expected, load.Reading()
			}
		}
		r.Retest = append(r.Retest, line)
	}
	slices.SortFunc(r.Retest, func(a, b RetestLine) int { return cmp.Compare(a.Output, b.Output) })
	for i := range p.Homeless {
		m := &p.Homeless[i]
		r.Homeless = append(r.Homeless, RewireLine{From: m.From, Effects: m.Effects(s), Why: m.Why})
	}
	return r
}

// WriteText writes the rewire sheet and the retest list.
func (r *Rewire) WriteText(w io.Writer) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "rewire: from %s to %s\n", r.OldName, r.NewName)
	moves := &wording.Table{Columns: []wording.Column{{Name: "from", Right: true}, {Name: "to", Right: true}, {Name: "effects", Right: false}, {Name: "done", Right: false}}}
	for _, m := range r.Moves {
		moves.Rows = append(moves.Rows, []string{strconv.Itoa(m.From), strconv.Itoa(m.To), m.Effects, "____"})
	}
	if err := moves.Write(out); err != nil {
		return err
	}
	for _, m := range r.Homeless {
		fmt.Fprintf(out, "no place: output %d, %s: %s\n", m.From, m.Effects, m.Why)
	}
	for _, text := range r.Warnings {
		fmt.Fprintf(out, "warning: %s\n", text)
	}
	fmt.Fprintf(out, "\ntest again: %s\n", r.NewName)
	tests := &wording.Table{Columns: []wording.Column{{Name: "output", Right: true}, {Name: "effects", Right: false}, {Name: "circuit", Right: false}, {Name: "expected ohm", Right: true}, {Name: "measured", Right: false}}}
	for _, x := range r.Retest {
		tests.Rows = append(tests.Rows, []string{strconv.Itoa(x.Output), x.Effects, wording.Given(x.Circuit), cmp.Or(x.reading, "not given"), "____"})
	}
	if err := tests.Write(out); err != nil {
		return err
	}
	fmt.Fprintf(out, "\n%s\n", r.Caution)
	return out.Flush()
}

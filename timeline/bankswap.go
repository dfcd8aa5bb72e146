package timeline

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// BankSwap is what taking one bank's place by another comes to: which output
// goes where, what finds no place, and what is different there. Cues aim at
// placed effects, so that none of them changes.
type BankSwap struct {
	Old, New         *Bank
	OldType, NewType *BankType
	Moves            []OutputMove // by old output
	Homeless         []OutputMove // To is 0
	Warnings         []string
}

// OutputMove is one output's wires going from the old bank to the new.
type OutputMove struct {
	From, To int
	Wires    []*Wire
	Circuit  *Circuit // first that hangs on it, or nil
	Why      string   // it finds no place
}

// ProposeBankSwap works out how one bank takes over from another. Each output
// keeps its number where the new bank has it free, else it takes the lowest free
// one; wires that share an output stay together. What an output drives must be
// of the new bank's kind.
func (s *Show) ProposeBankSwap(oldID, newID ID) (*BankSwap, error) {
	p := &BankSwap{Old: s.Rig.Bank(oldID), New: s.Rig.Bank(newID)}
	switch {
	case p.Old == nil:
		return nil, &ValueError{Kind: "bank", Field: "id", Value: string(oldID), Want: "names no bank of this show"}
	case p.New == nil:
		return nil, &ValueError{Kind: "bank", Field: "id", Value: string(newID), Want: "names no bank of this show; add it first"}
	case oldID == newID:
		return nil, &ValueError{Kind: "bank", Field: "id", Value: s.Called(p.New), Want: "is the bank that is to be replaced; name another one"}
	case p.New.Dead:
		return nil, &ValueError{Kind: "bank", Field: "dead", Value: "true", Want: s.Called(p.New) + " is out of service itself; name another bank"}
	}
	p.OldType, p.NewType = s.Stock.BankType(p.Old.Type), s.Stock.BankType(p.New.Type)
	if p.NewType == nil {
		return nil, &ValueError{Kind: "bank", Field: "type", Value: string(p.New.Type), Want: "names no banktype of this show, so that nothing says how many outputs " + s.Called(p.New) + " has"}
	}
	p.assign(s, s.outputMoves(oldID))
	p.warn(s)
	return p, nil
}

// outputMoves gathers the wires of a bank by output.
func (s *Show) outputMoves(bank ID) []OutputMove {
	byOutput := map[int]*OutputMove{}
	for _, w := range s.Rig.Wires {
		if w.Driver != bank {
			continue
		}
		m := byOutput[w.Output]
		if m == nil {
			m = &OutputMove{From: w.Output}
			byOutput[w.Output] = m
		}
		m.Wires = append(m.Wires, w)
		if m.Circuit == nil {
			m.Circuit = s.Rig.Circuit(w.Circuit)
		}
	}
	var moves []OutputMove
	for _, m := range byOutput {
		moves = append(moves, *m)
	}
	slices.SortFunc(moves, func(a, b OutputMove) int { return cmp.Compare(a.From, b.From) })
	return moves
}

// assign gives each output its new one: first those that can keep their number,
// then the others.
func (p *BankSwap) assign(s *Show, moves []OutputMove) {
	used := map[int]bool{}
	for _, w := range s.Rig.Wires {
		if w.Driver == p.New.ID {
			used[w.Output] = true
		}
	}
	for i := range moves {
		m := &moves[i]
		m.Why = s.unfit(m, p.New)
		if m.Why == "" && m.From <= p.NewType.Outputs && !used[m.From] {
			m.To, used[m.From] = m.From, true
		}
	}
	free := 1
	for i := range moves {
		m := &moves[i]
		for m.To == 0 && m.Why == "" && free <= p.NewType.Outputs {
			if !used[free] {
				m.To, used[free] = free, true
			}
			free++
		}
		if m.To != 0 {
			p.Moves = append(p.Moves, *m)
			continue
		}
		m.Why = cmp.Or(m.Why, fmt.Sprintf("%s has no free output left of %d", s.Called(p.New), p.NewType.Outputs))
		p.Homeless = append(p.Homeless, *m)
	}
}

// unfit says why what hangs on an output cannot be driven by a bank.
func (s *Show) unfit(m *OutputMove, bank *Bank) string {
	for _, w := range m.Wires {
		if e := s.Rig.PlacedEffect(w.Placed); e != nil {
			if err := s.controls(e, bank.ID); err != nil {
				if ve := (*ValueError)(nil); errors.As(err, &ve) {
					return ve.Value + " " + ve.Want // which output it is, the caller says
				}
				return err.Error()
			}
		}
	}
	return ""
}

// warn compares lead and currents of the two banks.
func (p *BankSwap) warn(s *Show) {
	switch {
	case p.OldType == nil:
		p.Warnings = append(p.Warnings, "the type of "+s.Called(p.Old)+" is lost: leads and currents cannot be compared")
	case p.OldType.Latency != p.NewType.Latency:
		by := p.NewType.Latency - p.OldType.Latency
		word := "earlier"
		if by < 0 {
			by, word = -by, "later"
		}
		p.Warnings = append(p.Warnings, fmt.Sprintf("lead: latency %s s becomes %s s, so that every command on it goes out %s s %s", p.OldType.Latency, p.NewType.Latency, by, word))
	}
	for i := range p.Moves {
		p.warnCurrent(s, &p.Moves[i])
	}
}

func (p *BankSwap) warnCurrent(s *Show, m *OutputMove) {
	if m.Circuit == nil {
		return
	}
	was, err := s.CircuitLoad(m.Circuit, p.OldType)
	if err != nil {
		p.Warnings = append(p.Warnings, err.Error())
		return
	}
	is, _ := s.CircuitLoad(m.Circuit, p.NewType) // fails only where was does
	where := fmt.Sprintf("output %d, circuit %s: ", m.To, s.Called(m.Circuit))
	if !sameCurrent(was.Each, is.Each) {
		p.Warnings = append(p.Warnings, where+fmt.Sprintf("current through each igniter was %s and becomes %s", amps(was.Each), amps(is.Each)))
	}
	for _, w := range is.Warnings(m.Circuit, p.NewType) {
		p.Warnings = append(p.Warnings, where+w)
	}
}

func amps(x float64) string {
	if x == 0 {
		return "not known"
	}
	return fmt.Sprintf("%.3g A", x)
}

// sameCurrent takes currents for alike that print alike.
func sameCurrent(a, b float64) bool { return amps(a) == amps(b) }

// Edit gives the edit that moves the wires and takes the old bank out of
// service. What finds no place stays on the old bank, where the rules find it.
func (p *BankSwap) Edit() Edit {
	return func(d *Draft) error {
		for _, m := range p.Moves {
			for _, w := range m.Wires {
				c := *w
				c.Driver, c.Output = p.New.ID, m.To
				d.Put("", &c)
			}
		}
		dead := *p.Old
		dead.Dead = true
		d.Put("", &dead)
		return nil
	}
}

// Effects names what hangs on an output.
func (m *OutputMove) Effects(s *Show) string {
	var names []string
	for _, w := range m.Wires {
		names = append(names, s.CalledBy(w.Placed, "placed"))
	}
	return strings.Join(names, ", ")
}

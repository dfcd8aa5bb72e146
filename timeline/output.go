package timeline

import (
	"fmt"
	"slices"
	"strings"
)

// OutputRef names one output of a bank or one head of a device.
type OutputRef struct {
	Driver ID
	Output int
}

// freeOutputs lists the outputs that can be used, in the order of the pattern.
func (s *Show) freeOutputs(run WireRun, gone []*Wire) ([]OutputRef, error) {
	used := map[OutputRef]bool{}
	for _, w := range s.Rig.Wires {
		if !slices.Contains(gone, w) {
			used[OutputRef{w.Driver, w.Output}] = true
		}
	}
	var list []OutputRef
	if len(run.Units) == 0 {
		return nil, &ValueError{Kind: "wire", Field: "unit", Value: "", Want: "is empty; name a bank or device"}
	}
	for i, id := range run.Units {
		n, dead, ok := s.outputsOf(id)
		from := max(run.From, 1)
		switch {
		case !ok:
			return nil, &ValueError{Kind: "wire", Field: "unit", Value: string(id), Want: "names no bank or device of this show, or one whose type is lost"}
		case slices.Contains(run.Units[:i], id):
			return nil, &ValueError{Kind: "wire", Field: "unit", Value: s.unitName(id), Want: "is named twice; name it once"}
		case run.From < 0 || from > n:
			return nil, &ValueError{Kind: "wire", Field: "output", Value: fmt.Sprint(run.From), Want: fmt.Sprintf("must be from 1 to %d, the outputs of %s", n, s.unitName(id))}
		}
		for o := from; o <= n && !dead; o++ {
			if !used[OutputRef{id, o}] {
				list = append(list, OutputRef{id, o})
			}
		}
	}
	if run.Pattern == WireAlternate {
		list = turnByTurn(list, run.Units)
	}
	return list, nil
}

// outputsFor lists the outputs that a wiring takes, in the order of its pattern:
// free ones, or for what fires together one output as often as it is taken.
func (s *Show) outputsFor(run WireRun, gone []*Wire) ([]OutputRef, error) {
	if !run.Together {
		return s.freeOutputs(run, gone)
	}
	if len(run.Units) != 1 {
		return nil, &ValueError{Kind: "wire", Field: "unit", Value: s.unitNames(run.Units), Want: "must be one bank or device: what fires together hangs on one output"}
	}
	n, dead, ok := s.outputsOf(run.Units[0])
	at := OutputRef{run.Units[0], max(run.From, 1)}
	switch {
	case !ok:
		return nil, &ValueError{Kind: "wire", Field: "unit", Value: string(at.Driver), Want: "names no bank or device of this show, or one whose type is lost"}
	case dead:
		return nil, &ValueError{Kind: "wire", Field: "unit", Value: s.unitName(at.Driver), Want: "is out of service"}
	case run.From < 0 || at.Output > n:
		return nil, &ValueError{Kind: "wire", Field: "output", Value: fmt.Sprint(run.From), Want: fmt.Sprintf("must be from 1 to %d, the outputs of %s", n, s.unitName(at.Driver))}
	}
	return slices.Repeat([]OutputRef{at}, len(run.Placed)), nil
}

// on lists the wires of an output, without those that are taken away.
func (s *Show) on(at OutputRef, gone []*Wire) []*Wire {
	var list []*Wire
	for _, w := range s.Rig.Wires {
		if w.Driver == at.Driver && w.Output == at.Output && !slices.Contains(gone, w) {
			list = append(list, w)
		}
	}
	return list
}

// turnByTurn takes the first output of each unit, then the second of each.
func turnByTurn(list []OutputRef, units []ID) []OutputRef {
	var mixed []OutputRef
	for round := 0; len(mixed) < len(list); round++ {
		for _, id := range units {
			n := 0
			for _, o := range list {
				if o.Driver == id {
					if n == round {
						mixed = append(mixed, o)
						break
					}
					n++
				}
			}
		}
	}
	return mixed
}

// outputsOf gives how many outputs a bank or heads a device has, and whether
// it is out of service.
func (s *Show) outputsOf(id ID) (n int, dead, ok bool) {
	if b := s.Rig.Bank(id); b != nil {
		if t := s.Stock.BankType(b.Type); t != nil {
			return t.Outputs, b.Dead, true
		}
	}
	if v := s.Rig.Device(id); v != nil {
		if t := s.Stock.DeviceTypeOf(v); t != nil {
			return t.Heads(), v.Dead, true
		}
	}
	return 0, false, false
}

// controls returns an error when a unit cannot drive what stands at a place.
func (s *Show) controls(e *Placed, unit ID) error {
	a := s.Stock.Article(e.Article)
	is := s.controlOf(unit)
	if a == nil || a.Control == is {
		return nil
	}
	return &ValueError{Kind: "wire", Field: "unit", Value: s.unitName(unit), Want: fmt.Sprintf("has %s outputs, and %s (%s) needs %s", is, s.Called(e), s.Called(a), a.Control)}
}

func (s *Show) controlOf(unit ID) Control {
	b := s.Rig.Bank(unit)
	if b == nil {
		return SlotControl
	}
	if t := s.Stock.BankType(b.Type); t != nil && t.Kind == RelayBank {
		return RelayControl
	}
	return IgniterControl
}

func (s *Show) unitName(id ID) string { return s.CalledBy(id, "bank", "device") }

func (s *Show) unitNames(ids []ID) string {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = s.unitName(id)
	}
	return strings.Join(names, " and ")
}

package operation

import (
	"fmt"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// swapBankOperations let a spare take over.
func swapBankOperations() []*Operation { return []*Operation{swapBank()} }

// SwapBank are the arguments of a bank that takes another one's place.
type SwapBank struct {
	Old, New timeline.ID
	Tonight  bool // for the night that the plan is of, whose rig alone changes
}

// Propose works out the swap: in the rig of the tour, or as the night has it.
func (a *SwapBank) Propose(p *timeline.Plan) (*timeline.BankSwap, error) {
	s := p.Show
	if a.Tonight {
		s = s.Tonight(p.Night)
	}
	return s.ProposeBankSwap(a.Old, a.New)
}

func swapBank() *Operation {
	type A = SwapBank
	return does(Operation{Verb: "swap-bank", Menu: "Swap bank…", Title: "Swap a bank", Button: "Swap", Plays: true,
		Tip:  "lets another bank take a dead bank's place: wiring proposed, rewire and retest lists; no cue changes",
		Help: "moves every wire of a bank to another one and takes it out of service",
		Args: []Argument{
			{Field: id("old", "the bank whose wires move; it is taken out of service", func(a *A) *timeline.ID { return &a.Old }, "bank"), Word: "OLD", Label: "Dead bank", Need: "no bank is chosen", read: readOneOf("bank")},
			{Field: id("new", "the bank that they move to; outputs keep their number where it is free there", func(a *A) *timeline.ID { return &a.New }, "bank"), Word: "NEW", Label: "Takes over", Need: "no bank is chosen", About: []string{"id", "dead", "type"}, read: readOneOf("bank")},
			{Field: field.Flag("tonight", "for the night in view alone: the tour keeps its wiring, and the old bank is out of that night's rig", func(a *A) *bool { return &a.Tonight }), Label: "Only tonight", NoVerb: true},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			swap, err := a.Propose(at.Plan)
			if err != nil {
				return nil, err
			}
			if a.Tonight && at.Night != nil {
				return swap.EditTonight(at.Night.ID, "instead of "+swap.Old.Name), nil
			}
			return swap.Edit(), nil
		},
		func(s *timeline.Show, a *A) string {
			return fmt.Sprintf("swap %s for %s", s.Named("bank", a.Old), s.Named("bank", a.New))
		})
}

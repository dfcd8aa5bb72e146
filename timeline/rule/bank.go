package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var bankAddressRule = Rule{
	Name:     "bank-address",
	Summary:  "two banks of one address space have the same address",
	Reason:   "Banks of one space answer to their address; two with the same one both fire what is meant for either. Banks without an address yet are no clash.",
	Scope:    WholeSet,
	Severity: Error,
	rig:      checkBankAddresses,
}

func checkBankAddresses(r *rigRun) {
	type place struct {
		space   string
		address int
	}
	taken := map[place]*timeline.Bank{}
	for _, b := range r.plan.Show.Rig.Banks {
		if b.Address != 0 && taken[place{b.Space, b.Address}] == nil {
			taken[place{b.Space, b.Address}] = b
		}
	}
	for _, b := range r.plan.Show.Rig.Banks {
		first := taken[place{b.Space, b.Address}]
		if first == nil || first == b {
			continue
		}
		free := b.Address
		for taken[place{b.Space, free}] != nil {
			free++
		}
		f := Finding{Ref: rigRef("bank", b.ID), Others: []timeline.Ref{rigRef("bank", first.ID)}}
		f.Text = fmt.Sprintf("%s and %s both have address %d", b.Name, first.Name, b.Address)
		if b.Space != "" {
			f.Text += " in " + b.Space
		}
		f.Values = []Value{word("space", b.Space), count("address", b.Address)}
		f.Help = fmt.Sprintf("give one of them another address; the next free one is %d", free)
		f.Fix = &Fix{Label: fmt.Sprintf("give %s address %d", b.Name, free), Edits: []timeline.Edit{setField(rigRef("bank", b.ID), "address", fmt.Sprint(free))}}
		r.add(r.tune(nil, nil), "", f)
	}
}

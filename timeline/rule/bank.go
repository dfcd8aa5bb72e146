package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:     "bank-address",
	Summary:  "two banks of one address space have the same address",
	Reason:   "Banks of one space answer to their address; two with the same one both fire what is meant for either. Banks without an address yet are no clash.",
	Scope:    WholeSet,
	Severity: Error,
	rig:      checkBankAddresses,
})

func checkBankAddresses(r *rigRun) {
	show := r.plan.Show
	for _, c := range timeline.BankClashes(show.Rig) {
		b, free := c.B, c.B.Address
		for use := show.AddressUse(b.Space); use.By(free) != nil; {
			free++
		}
		f := Finding{Ref: rigRef("bank", b.ID), Others: []timeline.Ref{rigRef("bank", c.A.ID)}}
		f.Text = fmt.Sprintf("%s and %s both have address %d", r.name(b), r.name(c.A), b.Address)
		if b.Space != "" {
			f.Text += " in " + b.Space
		}
		f.Values = []Value{word("space", b.Space), count("address", b.Address)}
		f.Help = fmt.Sprintf("give one of them another address; the next free one is %d", free)
		f.Fix = fixField(fmt.Sprintf("give %s address %d", r.name(b), free), rigRef("bank", b.ID), "address", fmt.Sprint(free))
		r.add(r.tune(nil, nil), "", f)
	}
}

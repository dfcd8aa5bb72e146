package timeline

import (
	"fmt"
	"slices"
)

// StockCopy says what copying stock from one show to another comes to, record
// by record.
type StockCopy struct {
	New       []Record        // not there yet
	Same      []Ref           // there already, alike
	Conflicts []StockConflict // there already, and different
}

// StockConflict is one record of the stock that two shows hold differently.
type StockConflict struct {
	Ref          Ref
	Theirs, Ours Record // in the show copied from, and in the one copied to
}

// Change gives the conflict as the change that taking theirs would be.
func (c StockConflict) Change() Change { return Change{c.Ref, c.Ours, c.Theirs} }

// StockRefs lists every record of a show's stock.
func (s *Show) StockRefs() []Ref {
	var refs []Ref
	for _, k := range Kinds() {
		if k.Part == StockPart {
			for _, r := range k.List(s, "") {
				refs = append(refs, k.ref("", r.RecordID()))
			}
		}
	}
	return refs
}

// CompareStock says what copying the named records of from into to comes to.
// Records are the same thing when they have the same id; names may be taken
// twice. A record that is not in from, or is no stock, is an error.
func CompareStock(from, to *Show, refs []Ref) (*StockCopy, error) {
	c := &StockCopy{}
	for _, ref := range refs {
		k := KindOf(ref.Kind)
		if k == nil || k.Part != StockPart {
			return nil, fmt.Errorf("%s is no stock; stock is articles, device types and bank types", ref)
		}
		theirs, ours := k.Find(from, "", ref.ID), k.Find(to, "", ref.ID)
		switch {
		case theirs == nil:
			return nil, fmt.Errorf("%s: there is no such record to copy", ref)
		case ours == nil:
			c.New = append(c.New, theirs)
		case k.Equal(ours, theirs):
			c.Same = append(c.Same, ref)
		default:
			c.Conflicts = append(c.Conflicts, StockConflict{ref, theirs, ours})
		}
	}
	return c, nil
}

// Edit gives the edit that brings in what is new and, with replace, theirs for
// each conflict. Without replace conflicts stay as they are.
func (c *StockCopy) Edit(replace bool) Edit {
	return func(d *Draft) error {
		recs := slices.Clone(c.New)
		if replace {
			for _, conflict := range c.Conflicts {
				recs = append(recs, conflict.Theirs)
			}
		}
		d.Put("", recs...)
		return nil
	}
}

// AddStock gives the edit that brings in every record of a stock; those whose
// id is taken are replaced.
func AddStock(stock *Stock) Edit {
	return func(d *Draft) error {
		d.Put("", records(stock.Articles)...)
		d.Put("", records(stock.DeviceTypes)...)
		d.Put("", records(stock.BankTypes)...)
		return nil
	}
}

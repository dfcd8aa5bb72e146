package timeline

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline/field"
)

// EditNight gives the edit that changes one night. The change is made in a copy
// of its own, and may write into the copy's lists; the show beside it is only
// to be read.
func EditNight(id ID, change func(s *Show, n *Night) error) Edit {
	return func(d *Draft) error {
		old := d.show.Night(id)
		if old == nil {
			return fmt.Errorf("night:%s: there is no such record", id)
		}
		n := *old
		ownLists(&n)
		if err := change(d.show, &n); err != nil {
			return err
		}
		return d.putRead(&n)
	}
}

// AddNight adds a night. Without a name it is called after its venue and date;
// its file's name is made of the name where none is given.
func AddNight(n Night) Edit {
	return func(d *Draft) error {
		if d.show.Night(n.ID) != nil {
			return fmt.Errorf("night:%s is there already; choose another id, or change that record", n.ID)
		}
		if n.Name == "" {
			n.Name = d.show.nightName(&n)
		}
		if n.Name == "" {
			return &ValueError{Kind: "night", Field: "name", Want: "is empty; a new night needs a name, a date or a venue"}
		}
		if n.Slug == "" {
			n.Slug = d.show.FreeSlug(KindOf("night"), n.Name)
		}
		return d.putRead(&n)
	}
}

// nightName calls a night after its venue and date.
func (s *Show) nightName(n *Night) string {
	name := n.Date
	if v := s.Venue(n.Venue); v != nil {
		name = strings.TrimSpace(v.Name + " " + n.Date)
	}
	return name
}

// Like gives a new night that does all that this one does: the same set, venue,
// cuts, swaps, rig, shifts and refills. What was weighed, accepted, demanded and
// fired on that one date, and its revision, do not come along.
func (n *Night) Like() Night {
	return Night{Set: n.Set, Venue: n.Venue, Cuts: slices.Clone(n.Cuts), Swaps: slices.Clone(n.Swaps), Rig: slices.Clone(n.Rig),
		Shifts: slices.Clone(n.Shifts), Versions: slices.Clone(n.Versions), Refills: slices.Clone(n.Refills), Note: n.Note}
}

// FindSelector finds what a cut or swap chooses, as a user writes it:
// `family=comet`, or `article=`, `placed=`, `lane=`, `cue=`, `song=` with a name
// or id. The error says what would be valid.
func (p *Plan) FindSelector(text string) (Selector, error) {
	what, name, ok := strings.Cut(text, "=")
	if !ok || name == "" || !slices.Contains(selectorWords, what) {
		return Selector{}, fmt.Errorf("%s chooses nothing; write one of family= article= placed= lane= cue= song= with a name", quoted(text))
	}
	if what == "family" {
		if !slices.Contains(Families(), Family(name)) {
			return Selector{}, fmt.Errorf("family %s is not one of: %s", quoted(name), field.Listed(Families()))
		}
		return Selector{what, name}, nil
	}
	ref, err := p.FindRecord(what + ":" + name)
	return Selector{what, string(ref.ID)}, err
}

// CutTonight takes cues out of a night. A cut of the same choice is replaced.
func CutTonight(night ID, c Cut) Edit {
	return EditNight(night, func(_ *Show, n *Night) error {
		n.Cuts = replace(n.Cuts, c, func(x Cut) bool { return x.Selector == c.Selector })
		return nil
	})
}

// SwapTonight puts another article on the same hits for a night. A swap of the
// same choice is replaced. The article must be in the stock, and another than
// the one it is to replace.
func SwapTonight(night ID, w Swap) Edit {
	return EditNight(night, func(s *Show, n *Night) error {
		to := s.Stock.Article(w.To)
		if to == nil {
			return &ValueError{Kind: "night", Field: "swaps", Value: string(w.To), Want: "names no article of this show"}
		}
		if w.What == "article" && w.ID == string(w.To) || w.What == "family" && w.ID == string(to.Family) {
			return &ValueError{Kind: "night", Field: "swaps", Value: s.itemSaid("swaps", w.String()), Want: "swaps for what is there already; choose an article of another kind"}
		}
		n.Swaps = replace(n.Swaps, w, func(x Swap) bool { return x.Selector == w.Selector })
		return nil
	})
}

// TakeOutTonight takes a placed effect, bank or device out of a night's rig.
func TakeOutTonight(night ID, c RigChange) Edit {
	c.Out = true
	return EditNight(night, func(s *Show, n *Night) error {
		if k := KindOf(c.Kind); k == nil || c.Kind != "placed" && c.Kind != "bank" && c.Kind != "device" || k.Find(s, "", c.ID) == nil {
			return &ValueError{Kind: "night", Field: "rig-changes", Value: c.Kind + ":" + string(c.ID), Want: "names no placed effect, bank or device of this show"}
		}
		n.Rig = replace(n.Rig, c, func(x RigChange) bool { return x.Out && x.Kind == c.Kind && x.ID == c.ID })
		return nil
	})
}

// ShiftTonight moves a song of a night, in place of what moved it before; one
// that moves nothing takes that away. A start that is no label of the rate, and
// a range that crosses midnight, are refused.
func ShiftTonight(night ID, h Shift) Edit {
	h.By = h.By.RoundTo(EntryStep)
	return EditNight(night, func(s *Show, n *Night) error {
		if err := h.fits(s); err != nil {
			return err
		}
		same := func(x Shift) bool { return x.Song == h.Song }
		if h.By == 0 && h.Start == nil {
			n.Shifts = slices.DeleteFunc(n.Shifts, same)
			return nil
		}
		n.Shifts = replace(slices.DeleteFunc(n.Shifts, same), h, same)
		return nil
	})
}

// fits checks that the song exists and starts at a label. Whether it stays
// within one day is looked at when the edit is done.
func (h Shift) fits(s *Show) error {
	song := s.Song(h.Song)
	if song == nil {
		return &ValueError{Kind: "night", Field: "shifts", Value: string(h.Song), Want: "names no song of this show"}
	}
	if h.Start == nil {
		return nil
	}
	if _, err := s.Head.Rate.Frame(*h.Start); err != nil {
		return &ValueError{Kind: "night", Field: "shifts", Value: h.Start.String(), Want: "is no start at this rate: " + err.Error()}
	}
	return nil
}

// FillTonight keeps what was weighed in a supply, in place of an earlier figure.
func FillTonight(night ID, f Fill) Edit {
	return EditNight(night, func(s *Show, n *Night) error {
		if s.Rig.Supply(f.Supply) == nil {
			return &ValueError{Kind: "night", Field: "fills", Value: string(f.Supply), Want: "names no supply of this show"}
		}
		if err := s.Rig.Supply(f.Supply).holds(s.CalledBy(f.Supply, "supply"), f.Kg); err != nil {
			return err
		}
		n.Fills = replace(n.Fills, f, func(x Fill) bool { return x.Supply == f.Supply })
		return nil
	})
}

// ConditionTonight enters a condition of the authority, once.
func ConditionTonight(night ID, text string) Edit {
	return EditNight(night, func(_ *Show, n *Night) error {
		if text = strings.TrimSpace(text); text == "" {
			return &ValueError{Kind: "night", Field: "conditions", Value: text, Want: "says nothing; write what was demanded"}
		}
		n.Conditions = replace(n.Conditions, text, func(x string) bool { return x == text })
		return nil
	})
}

// AcceptTonight accepts what a rule has found about a record: the finding whose
// values have the digest a.Values, or all of them where that is empty. Found are
// the digests of all that the rule finds about the record now. What was accepted
// with the same values stays as it is; what was accepted with values that are
// found no more is over and goes.
func AcceptTonight(night ID, a Acceptance, found ...string) Edit {
	return EditNight(night, func(_ *Show, n *Night) error {
		if a.Rule == "" || strings.TrimSpace(a.By) == "" || strings.TrimSpace(a.Reason) == "" {
			return &ValueError{Kind: "night", Field: "accepted", Value: a.String(), Want: "needs a rule, the name of who accepts, and a reason"}
		}
		take := found
		if a.Values != "" {
			take = []string{a.Values}
		}
		same := func(x Acceptance) bool { return x.Rule == a.Rule && x.Record == a.Record }
		n.Accepted = slices.DeleteFunc(n.Accepted, func(x Acceptance) bool {
			return same(x) && !slices.Contains(found, x.Values) && !slices.Contains(take, x.Values)
		})
		for _, d := range take {
			if a.Values = d; !slices.ContainsFunc(n.Accepted, func(x Acceptance) bool { return same(x) && x.Values == d }) {
				n.Accepted = append(n.Accepted, a)
			}
		}
		return nil
	})
}

// DistanceTonight enters a distance that the authority asks for, in place of
// one to the same people from the same effects.
func DistanceTonight(night ID, asked Distance) Edit {
	return EditNight(night, func(s *Show, n *Night) error {
		if err := asked.fits(s); err != nil {
			return err
		}
		n.Distances = replace(n.Distances, asked, asked.sameScope)
		return nil
	})
}

// fits checks that a distance names articles of the show.
func (d Distance) fits(s *Show) error {
	for _, id := range d.Articles {
		if s.Stock.Article(id) == nil {
			return &ValueError{Kind: "distance", Field: "articles", Value: string(id), Want: "names no article of this show"}
		}
	}
	return nil
}

// sameScope reports whether two distances keep the same effects from the same
// people.
func (d Distance) sameScope(x Distance) bool {
	return x.To == d.To && slices.Equal(x.Families, d.Families) && slices.Equal(x.Articles, d.Articles)
}

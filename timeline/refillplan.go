package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// PlannedRefill is a refill with its place in a plan.
type PlannedRefill struct {
	Refill
	Of     *Supply // nil when the show has lost it
	Song   int     // index into Plan.Songs: it starts at this one's end; -1 = it is not played
	From   Ref     // the set or night that plans it
	Counts bool    // it surely happens, so that levels rely on it
}

// refills places the refills of set and night. A night's takes the place of the
// set's for the same supply and song.
func (p *Plan) refills() {
	if p.Set != nil {
		p.addRefills(p.Set.Refills, Ref{Kind: "set", ID: p.Set.ID})
	}
	if p.Night != nil {
		p.addRefills(p.Night.Refills, Ref{Kind: "night", ID: p.Night.ID})
	}
	p.Refills = slices.DeleteFunc(p.Refills, func(f PlannedRefill) bool { return f.Out })
	slices.SortStableFunc(p.Refills, func(a, b PlannedRefill) int {
		return cmp.Or(cmp.Compare(a.Song, b.Song), strings.Compare(string(a.Supply), string(b.Supply)))
	})
}

func (p *Plan) addRefills(list []Refill, from Ref) {
	choices := p.Choices()
	for _, f := range list {
		r := PlannedRefill{Refill: f, Of: p.Show.Rig.Supply(f.Supply), From: from}
		r.Song = p.place(f.After)
		r.Counts = r.Of != nil && r.Song >= 0 && choices[r.Song] == ""
		same := func(o PlannedRefill) bool {
			return o.Supply == f.Supply && (o.After == f.After || o.Song == r.Song && r.Song >= 0)
		}
		if i := slices.IndexFunc(p.Refills, same); i >= 0 {
			p.Refills[i] = r
		} else {
			p.Refills = append(p.Refills, r)
		}
	}
}

// Holds is what the supply holds after the refill, in kg.
func (f *PlannedRefill) Holds() float64 {
	if f.Kg > 0 || f.Of == nil {
		return f.Kg
	}
	return f.Of.Fill * float64(f.Of.Units)
}

// Start is the set time at which a refill that is placed starts.
func (p *Plan) Start(f *PlannedRefill) Time { return p.Songs[f.Song].At + p.Songs[f.Song].Duration }

// refillBefore gives the last refill of a supply that surely happens before
// song j is played, or nil.
func (p *Plan) refillBefore(s *Supply, j int) *PlannedRefill {
	var last *PlannedRefill
	for i := range p.Refills {
		if f := &p.Refills[i]; f.Counts && f.Of == s && f.Song < j {
			last = f
		}
	}
	return last
}

// ProposeRefill gives the refill that fills a supply in the gap before song j,
// with nothing said of minutes and names; false where there is no such supply
// (nil, as one that was removed is looked up), no song before, where that may
// not be played, or where a refill is planned there already.
func (p *Plan) ProposeRefill(s *Supply, j int) (Refill, bool) {
	if s == nil || j <= 0 || j > len(p.Songs) || p.Set == nil || p.Choices()[j-1] != "" {
		return Refill{}, false
	}
	f := Refill{Supply: s.ID, After: p.Songs[j-1].Entry.Song}
	planned := slices.ContainsFunc(p.Refills, func(o PlannedRefill) bool { return o.Supply == f.Supply && o.After == f.After })
	return f, !planned
}

// RefillsOf names the record that refills of the plan are planned in: the night's,
// or the set's on tour.
func (p *Plan) RefillsOf() Ref {
	if p.Night != nil {
		return Ref{Kind: "night", ID: p.Night.ID}
	}
	if p.Set != nil {
		return Ref{Kind: "set", ID: p.Set.ID}
	}
	return Ref{}
}

// PlanRefill gives the edit that plans a refill: for the plan's night, or in
// its set on tour. A refill of the same supply after the same song is replaced.
func (p *Plan) PlanRefill(f Refill) Edit {
	return func(d *Draft) error {
		if p.Night == nil && p.Set == nil {
			return fmt.Errorf("the show has no set, so it has no gaps to refill in; add one: edit SHOW --add set")
		}
		if p.Show.Rig.Supply(f.Supply) == nil {
			return fmt.Errorf("supply %q is not in the rig: %s", f.Supply, KindOf("supply").choices(p.Show.Names(), []ID{""}, string(f.Supply)))
		}
		if p.place(f.After) < 0 {
			return fmt.Errorf("song %q is not played; a refill follows a song of the running order", f.After)
		}
		if p.Night != nil {
			n := *p.Night
			n.Refills = putRefill(n.Refills, f)
			d.Put("", &n)
			return nil
		}
		s := *p.Set
		s.Refills = putRefill(s.Refills, f)
		d.Put("", &s)
		return nil
	}
}

func putRefill(list []Refill, f Refill) []Refill {
	list = slices.Clone(list)
	if i := slices.IndexFunc(list, func(o Refill) bool { return o.Supply == f.Supply && o.After == f.After }); i >= 0 {
		list[i] = f
		return list
	}
	return append(list, f)
}

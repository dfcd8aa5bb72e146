package load

import (
	"cmp"
	"io"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// OrderList is what has to be bought or brought for a plan: pieces against what
// is on hand, igniters, gas and cylinders, with what every song uses.
type OrderList struct {
	report.Head
	Used     report.Totals  `json:"totals"`
	Articles []OrderArticle `json:"articles"`
	Igniters OrderIgniters  `json:"igniters"`
	Media    []Medium       `json:"media"`
	Supplies []OrderSupply  `json:"supplies"`
	Songs    []OrderSong    `json:"songs"`
	Swaps    []SupplyLine   `json:"swap_points"`
}

// OrderArticle is one article: what the plan needs of it and what is on hand.
type OrderArticle struct {
	Article  string  `json:"article"` // id
	Name     string  `json:"name"`
	Family   string  `json:"family"`
	Division string  `json:"division"`
	UN       string  `json:"un"`
	UsedUp   bool    `json:"used_up"`
	Needed   int     `json:"needed"` // pieces, or units of what is used again
	Pieces   int     `json:"pieces"` // of Needed: what is used up
	Spares   int     `json:"spares"` // of Needed
	Commands int     `json:"commands"`
	NEC      float64 `json:"nec_grams"`
	OnHand   *int    `json:"on_hand"` // null = not given
	Short    int     `json:"short"`   // of what is given on hand
	Expires  string  `json:"expires"` // yyyy-mm-dd, of the article's approval or shelf life
	Late     bool    `json:"late"`    // the night comes after it
}

// OrderIgniters counts igniters: those of circuits, and one for each igniter
// output of a piece that has no circuit.
type OrderIgniters struct {
	Circuits int `json:"in_circuits"`
	Single   int `json:"single"`
	Unwired  int `json:"unwired_pieces"` // pieces for igniter outputs that nothing is wired to
}

// OrderSupply is one supply with the cylinders or tanks it takes.
type OrderSupply struct {
	Supply string  `json:"supply"` // id
	Name   string  `json:"name"`
	Medium string  `json:"medium"`
	Fill   float64 `json:"fill_kg"` // of a full unit
	Joined int     `json:"joined"`  // units at once
	Swaps  int     `json:"swaps"`
	Needed int     `json:"needed"` // joined, and as many again for every swap
	Spare  int     `json:"spare"`  // full ones beside
	Short  int     `json:"short"`
	Uses   float64 `json:"uses_kg"`
}

// OrderSong is what one song uses, in the order it is played.
type OrderSong struct {
	Number   int         `json:"number"` // 0 = keys pressed at any time
	Title    string      `json:"title"`
	Alt      string      `json:"alt,omitempty"`
	Commands int         `json:"commands"`
	Pieces   int         `json:"pieces"` // fired first in it
	Media    []OrderUsed `json:"media"`  // in the order of OrderList.Media
}

// OrderUsed is a mass of one medium.
type OrderUsed struct {
	Medium string  `json:"medium"`
	Kg     float64 `json:"kg"`
}

// NewOrderList gives the order list of a plan.
func NewOrderList(p *timeline.Plan) (*OrderList, error) {
	if err := report.StartsRight(p, report.Filter{}); err != nil {
		return nil, err
	}
	site := p.OnSite()
	l := &OrderList{Head: report.HeadOf(p), Used: report.TotalsOn(site), Articles: orderArticles(p, site), Igniters: orderIgniters(p, site), Media: Media(p), Supplies: orderSupplies(p), Swaps: SuppliesOf(p)}
	l.songs(p, site)
	return l, nil
}

func orderArticles(p *timeline.Plan, site *timeline.OnSite) []OrderArticle {
	list := []OrderArticle{}
	for i := range site.Articles {
		on := &site.Articles[i]
		a := on.Article
		line := OrderArticle{Article: string(a.ID), Name: p.Called(a), Family: string(a.Family), Division: a.Division, UN: a.UN, UsedUp: a.UsedUp(), Needed: on.Needed(), Pieces: on.Pieces,
			Spares: on.Spares, Commands: on.Commands, NEC: on.NEC, Expires: a.Expires}
		if stock, given := p.Show.OnHand(a, p.Night); given {
			line.OnHand, line.Short = &stock, max(0, line.Needed-stock)
		}
		line.Late = p.Night != nil && a.Expires != "" && p.Night.Date > a.Expires
		list = append(list, line)
	}
	slices.SortStableFunc(list, func(a, b OrderArticle) int { // what is used up first
		return cmp.Or(cmp.Compare(wording.OneIf(!a.UsedUp), wording.OneIf(!b.UsedUp)), strings.Compare(a.Name, b.Name))
	})
	return list
}

func orderIgniters(p *timeline.Plan, site *timeline.OnSite) OrderIgniters {
	var n OrderIgniters
	type hung struct { // a circuit on an output: a record that is used on many stands for so many circuits
		circuit, driver timeline.ID
		output          int
	}
	circuits := map[hung]bool{}
	for i := range site.Loads {
		l := &site.Loads[i]
		if l.Pieces == 0 || l.Article.Control != timeline.IgniterControl {
			continue
		}
		single, circuit := 0, false
		for _, d := range l.Unit.Drives {
			switch {
			case d.BankType == nil || d.BankType.Kind != timeline.IgniterBank:
			case d.Wire.Circuit != "":
				circuits[hung{d.Wire.Circuit, d.Wire.Driver, d.Wire.Output}], circuit = true, true
			default:
				single++
			}
		}
		n.Single += single * l.Pieces
		if single == 0 && !circuit {
			n.Unwired += l.Pieces
		}
	}
	for at := range circuits {
		if c := p.Show.Rig.Circuit(at.circuit); c != nil {
			n.Circuits += c.Igniters
		}
	}
	return n
}

func orderSupplies(p *timeline.Plan) []OrderSupply {
	list := []OrderSupply{}
	for _, s := range p.SwapPoints() {
		line := OrderSupply{Supply: string(s.Supply.ID), Name: p.Called(s.Supply), Medium: s.Supply.Medium, Fill: s.Supply.Fill, Joined: s.Supply.Units, Swaps: len(s.Points),
			Spare: s.Supply.Spare, Uses: wording.RoundGrams(s.Used)}
		line.Needed = line.Joined * (1 + line.Swaps)
		line.Short = max(0, line.Needed-line.Joined-line.Spare)
		list = append(list, line)
	}
	return list
}

// songs says what each song uses, and what keys use at any time.
func (l *OrderList) songs(p *timeline.Plan, site *timeline.OnSite) {
	fired := make([]int, len(p.Songs))
	for i := range site.Loads {
		if ld := &site.Loads[i]; ld.First != nil {
			fired[ld.Song] += ld.Pieces
		}
	}
	l.Songs = []OrderSong{}
	keys := keyDraws(p)
	for i := range p.Songs {
		ps := &p.Songs[i]
		used := keys[i]
		for k := range ps.Commands {
			c := &ps.Commands[k]
			used[strings.ToLower(c.Article.Medium)] += c.Draw()
		}
		l.Songs = append(l.Songs, OrderSong{Number: ps.Number, Title: ps.Song.FullTitle(), Alt: ps.Entry.Alt, Commands: len(ps.Commands), Pieces: fired[i], Media: l.used(used)})
	}
	if any := keys[-1]; len(any) > 0 {
		l.Songs = append(l.Songs, OrderSong{Title: "keys pressed at any time", Media: l.used(any)})
	}
}

// used puts milligrams by medium into the order of the media.
func (l *OrderList) used(mg map[string]int64) []OrderUsed {
	list := []OrderUsed{}
	for _, m := range l.Media {
		list = append(list, OrderUsed{m.Medium, wording.RoundGrams(float64(mg[strings.ToLower(m.Medium)]) / 1e6)})
	}
	return list
}

// keyDraws gives what the keys of the operator's plan use at most, in milligrams
// by song (-1 = at any time) and medium.
func keyDraws(p *timeline.Plan) map[int]map[string]int64 {
	draws := map[int]map[string]int64{-1: {}}
	for i := range p.Songs {
		draws[i] = map[string]int64{}
	}
	for i := range p.Keys {
		k := &p.Keys[i]
		for j := range k.Uses {
			u := &k.Uses[j]
			draws[k.Song][strings.ToLower(u.Article.Medium)] += u.Draw() * int64(k.Cue.Presses)
		}
	}
	return draws
}

// wording.WriteJSON writes the order list as one JSON object.
func (l *OrderList) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, l) }

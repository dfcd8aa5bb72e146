package sheet

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// PermitArticle is one article with all of it that is on site.
type PermitArticle struct {
	Article  string  `json:"article"` // id
	Name     string  `json:"name"`
	Family   string  `json:"family"`
	Size     string  `json:"size"` // height, or what else it is known by
	Category string  `json:"category"`
	UN       string  `json:"un"`
	Division string  `json:"division"`
	Units    int     `json:"units"`  // placed effects
	Pieces   int     `json:"pieces"` // of what is used up
	Spares   int     `json:"spares"` // of units
	Commands int     `json:"commands"`
	Each     float64 `json:"nec_grams_each"`
	NEC      float64 `json:"nec_grams"`
	Mark     string  `json:"mark"`
}

func permitArticles(site *timeline.OnSite) []PermitArticle {
	list := []PermitArticle{}
	for _, on := range site.Articles {
		a := on.Article
		line := PermitArticle{Article: string(a.ID), Name: nameOr(a.Name, a.ID), Family: string(a.Family), Category: a.Category, UN: a.UN, Division: a.Division,
			Units: on.Units, Pieces: on.Pieces, Spares: on.Spares, Commands: on.Commands, Each: a.NEC, NEC: on.NEC, Mark: string(a.MarkOf("nec"))}
		if a.Height > 0 {
			line.Size = plain(a.Height) + " m high"
		}
		list = append(list, line)
	}
	slices.SortStableFunc(list, func(a, b PermitArticle) int { // what is used up first
		return cmp.Or(cmp.Compare(b2i(a.Pieces == 0), b2i(b.Pieces == 0)), strings.Compare(a.Name, b.Name))
	})
	return list
}

// PermitDay is what one night brings to its venue.
type PermitDay struct {
	Date      string          `json:"date"`
	Night     string          `json:"night"`
	Pieces    int             `json:"pieces"`
	NEC       float64         `json:"nec_grams"`
	Divisions []DivisionTotal `json:"divisions"`
	This      bool            `json:"this_night"`
}

// permitDays counts every night of the show at the plan's venue, by date: what
// is stored there adds up over them. A plan without a night is one day of no
// date.
func permitDays(p *timeline.Plan, site *timeline.OnSite) []PermitDay {
	if p.Night == nil || p.Venue == nil {
		return []PermitDay{permitDay(p, site)}
	}
	days := []PermitDay{}
	for _, n := range p.Show.Nights {
		switch {
		case n.ID == p.Night.ID:
			days = append(days, permitDay(p, site))
		case n.Venue == p.Venue.ID:
			other := timeline.Compile(p.Show, n)
			day := permitDay(other, other.OnSite())
			day.This = false
			days = append(days, day)
		}
	}
	slices.SortStableFunc(days, func(a, b PermitDay) int { return strings.Compare(a.Date, b.Date) })
	return days
}

func permitDay(p *timeline.Plan, site *timeline.OnSite) PermitDay {
	h, used := HeadOf(p), totalsOn(site)
	return PermitDay{Date: h.Date, Night: h.Night, Pieces: used.Pieces, NEC: used.NEC, Divisions: used.Divisions, This: true}
}

// PermitMedium is a gas, fluid or paper: what is on site in supplies, and what
// the plan uses of it in the worst case.
type PermitMedium struct {
	Medium   string  `json:"medium"`
	Supplies int     `json:"supplies"`
	Units    int     `json:"cylinders"` // joined in them
	Filled   float64 `json:"filled_kg"` // all together, as filled or weighed
	Uses     float64 `json:"uses_kg"`
	Unfed    float64 `json:"unfed_kg"` // of that, what no supply feeds
	Swaps    int     `json:"swaps"`
}

func permitMedia(p *timeline.Plan) []PermitMedium {
	list := []PermitMedium{}
	of := func(medium string) *PermitMedium {
		i := slices.IndexFunc(list, func(m PermitMedium) bool { return strings.EqualFold(m.Medium, medium) })
		if i < 0 {
			i, list = len(list), append(list, PermitMedium{Medium: medium})
		}
		return &list[i]
	}
	for _, use := range p.Media() {
		m := of(use.Medium)
		m.Uses, m.Unfed = use.Kg, roundGrams(use.Kg-use.Fed)
	}
	for _, s := range p.SwapPoints() {
		m := of(s.Supply.Medium)
		m.Supplies, m.Units, m.Swaps = m.Supplies+1, m.Units+s.Supply.Units, m.Swaps+len(s.Points)
		m.Filled = roundGrams(m.Filled + fillOf(p, s.Supply))
	}
	slices.SortFunc(list, func(a, b PermitMedium) int { return strings.Compare(a.Medium, b.Medium) })
	return list
}

// fillOf gives the mass in a supply before the show: weighed, or all its units
// full.
func fillOf(p *timeline.Plan, s *timeline.Supply) float64 {
	if p.Night != nil {
		for _, f := range p.Night.Fills {
			if f.Supply == s.ID {
				return f.Kg
			}
		}
	}
	return s.Fill * float64(s.Units)
}

// plain writes a number without zeros at its end.
func plain(x float64) string { return strconv.FormatFloat(roundGrams(x), 'f', -1, 64) }

package sheet

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
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

// PermitDay is what one day brings to the venue.
type PermitDay struct {
	Date      string          `json:"date"`
	Nights    []string        `json:"nights"`
	Pieces    int             `json:"pieces"`
	NEC       float64         `json:"nec_grams"`
	Divisions []DivisionTotal `json:"divisions"`
}

// permitDays counts every day of the show at the plan's venue. A plan without a
// night, or whose night has no date, is a day of its own.
func permitDays(p *timeline.Plan, site *timeline.OnSite) []PermitDay {
	days := []PermitDay{}
	if n := p.Night; n == nil || n.Date == "" {
		used := totalsOn(site)
		days = append(days, PermitDay{Nights: []string{HeadOf(p).Night}, Pieces: used.Pieces, NEC: used.NEC, Divisions: used.Divisions})
	}
	if p.Night == nil {
		return days
	}
	for _, d := range timeline.SiteDays(p.Show) {
		if d.Venue != p.Night.Venue {
			continue
		}
		day := PermitDay{Date: d.Date, Nights: []string{}, Pieces: d.Pieces, NEC: d.NEC, Divisions: divisionTotals(d.Divisions)}
		for _, n := range d.Nights {
			day.Nights = append(day.Nights, nameOr(n.Name, n.ID))
		}
		days = append(days, day)
	}
	return days
}

func divisionTotals(list []timeline.DivisionNEC) []DivisionTotal {
	out := []DivisionTotal{}
	for _, d := range list {
		out = append(out, DivisionTotal{d.Division, d.Pieces, d.NEC})
	}
	return out
}

// PermitMedium is a gas, fluid or paper: what is on site in supplies, and what
// the plan uses of it in the worst case.
type PermitMedium struct {
	Medium   string  `json:"medium"`
	Supplies int     `json:"supplies"`
	Units    int     `json:"cylinders"` // joined in them
	Spare    int     `json:"spare_cylinders"`
	Filled   float64 `json:"on_site_kg"` // all together, as filled or weighed
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
		m.Spare, m.Filled = m.Spare+s.Supply.Spare, roundGrams(m.Filled+p.SupplyOnSite(s.Supply))
	}
	slices.SortFunc(list, func(a, b PermitMedium) int { return strings.Compare(a.Medium, b.Medium) })
	return list
}

// PermitTransport is the points of what is on site, as if it all came in one
// vehicle.
type PermitTransport struct {
	Lines  []TransportRow `json:"lines"`
	Points float64        `json:"points"`
	Limit  float64        `json:"limit"`
}

// TransportRow is one kind of dangerous goods.
type TransportRow struct {
	What     string  `json:"what"` // hazard division or medium
	Category string  `json:"category"`
	Kg       float64 `json:"kg"`
	Points   float64 `json:"points"`
	Counted  bool    `json:"counted"` // false: no category is known, or it is 0
}

func permitTransport(p *timeline.Plan) PermitTransport {
	sum, limit := rule.TransportOf(p)
	t := PermitTransport{Lines: []TransportRow{}, Points: sum.Points, Limit: limit}
	for _, l := range sum.Lines {
		t.Lines = append(t.Lines, TransportRow{l.What, l.Category, l.Kg, l.Points, !slices.Contains(sum.Open, l)})
	}
	return t
}

// plain writes a number without zeros at its end.
func plain(x float64) string { return strconv.FormatFloat(roundGrams(x), 'f', -1, 64) }

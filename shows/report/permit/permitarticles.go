package permit

import (
	"cmp"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Article is one article with all of it that is on site.
type Article struct {
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

func permitArticles(p *timeline.Plan, site *timeline.OnSite) []Article {
	list := []Article{}
	for _, on := range site.Articles {
		a := on.Article
		line := Article{Article: string(a.ID), Name: p.Called(a), Family: string(a.Family), Category: a.Category, UN: a.UN, Division: a.Division,
			Units: on.Units, Pieces: on.Pieces, Spares: on.Spares, Commands: on.Commands, Each: a.NEC, NEC: on.NEC, Mark: string(a.MarkOf("nec"))}
		if a.Height > 0 {
			line.Size = wording.Length(p.Show.Told(), a.Height) + " high"
		}
		list = append(list, line)
	}
	slices.SortStableFunc(list, func(a, b Article) int { // what is used up first
		return cmp.Or(cmp.Compare(wording.OneIf(a.Pieces == 0), wording.OneIf(b.Pieces == 0)), strings.Compare(a.Name, b.Name))
	})
	return list
}

// Day is what one day brings to the venue.
type Day struct {
	Date      string                 `json:"date"`
	Nights    []string               `json:"nights"`
	Pieces    int                    `json:"pieces"`
	NEC       float64                `json:"nec_grams"`
	Divisions []report.DivisionTotal `json:"divisions"`
}

// permitDays counts every day of the show at the plan's venue. A plan without a
// night, or whose night has no date, is a day of its own.
func permitDays(p *timeline.Plan, site *timeline.OnSite) []Day {
	days := []Day{}
	if n := p.Night; n == nil || n.Date == "" {
		used := report.TotalsOn(site)
		days = append(days, Day{Nights: []string{report.HeadOf(p).Night}, Pieces: used.Pieces, NEC: used.NEC, Divisions: used.Divisions})
	}
	if p.Night == nil {
		return days
	}
	for _, d := range timeline.SiteDays(p.Show) {
		if d.Venue != p.Night.Venue {
			continue
		}
		day := Day{Date: d.Date, Nights: []string{}, Pieces: d.Pieces, NEC: d.NEC, Divisions: divisionTotals(d.Divisions)}
		for _, n := range d.Nights {
			day.Nights = append(day.Nights, p.Called(n))
		}
		days = append(days, day)
	}
	return days
}

func divisionTotals(list []timeline.DivisionNEC) []report.DivisionTotal {
	out := []report.DivisionTotal{}
	for _, d := range list {
		out = append(out, report.DivisionTotal{Division: d.Division, Pieces: d.Pieces, NEC: d.NEC})
	}
	return out
}

// Transport is the points of what is on site, as if it all came in one
// vehicle.
type Transport struct {
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

func permitTransport(p *timeline.Plan) Transport {
	sum, limit := rule.TransportOf(p)
	t := Transport{Lines: []TransportRow{}, Points: sum.Points, Limit: limit}
	for _, l := range sum.Lines {
		t.Lines = append(t.Lines, TransportRow{l.What, l.Category, l.Kg, l.Points, !slices.Contains(sum.Open, l)})
	}
	return t
}

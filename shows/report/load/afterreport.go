package load

import (
	"fmt"
	"io"
	"slices"
	"strconv"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// AfterReport is what has been entered after a night's show, and what it did to
// the stock.
type AfterReport struct {
	Night      string        `json:"night"`
	Date       string        `json:"date"`
	Stock      []AfterStock  `json:"stock"`
	Weights    []AfterWeight `json:"weights"`
	Open       []MisfireLine `json:"open_misfires"` // of this night
	NotEntered []ReturnLoad  `json:"not_entered"`

	told units.System
}

// AfterStock is one article: before - fired - misfired = after. What is still
// loaded is on hand.
type AfterStock struct {
	Article  string `json:"article"` // id
	Name     string `json:"name"`
	Counted  bool   `json:"counted"` // the stock gives a count that this night is taken off
	Before   int    `json:"before"`
	Fired    int    `json:"fired"`
	Misfired int    `json:"misfired"`
	Loaded   int    `json:"still_loaded"`
	TakenOut int    `json:"taken_out"`
	After    int    `json:"after"`
}

// AfterWeight is what was left in a supply.
type AfterWeight struct {
	Supply string  `json:"supply"` // id
	Name   string  `json:"name"`
	Kg     float64 `json:"kg"`
}

// NewAfterReport gives the report of a plan, which is a night's.
func NewAfterReport(p *timeline.Plan) *AfterReport {
	r := &AfterReport{Night: p.Called(p.Night), Date: p.Night.Date, Stock: []AfterStock{}, Weights: []AfterWeight{}, Open: []MisfireLine{}, NotEntered: []ReturnLoad{}, told: p.Show.Told()}
	for _, l := range p.Show.StockOver(p.Night) {
		r.Stock = append(r.Stock, AfterStock{string(l.Article.ID), p.Called(l.Article), l.Given, l.Before, l.Fired, l.Misfired, l.Unfired, l.TakenOut, l.After})
	}
	for _, w := range p.Night.Weights {
		r.Weights = append(r.Weights, AfterWeight{string(w.Supply), p.Show.CalledBy(w.Supply, "supply"), w.Kg})
	}
	for _, m := range misfires(p) {
		if m.Open && !m.Earlier {
			r.Open = append(r.Open, m)
		}
	}
	for _, l := range NewReturnSheet(p).Loads {
		if l.State == "" {
			r.NotEntered = append(r.NotEntered, l)
		}
	}
	return r
}

// WriteText writes the report for people.
func (r *AfterReport) WriteText(w io.Writer) error {
	t := &wording.Table{Columns: []wording.Column{{Name: "article", Right: false}, {Name: "before", Right: true}, {Name: "fired", Right: true}, {Name: "misfired", Right: true}, {Name: "still loaded", Right: true}, {Name: "taken out", Right: true}, {Name: "after", Right: true}}}
	n := strconv.Itoa
	for _, a := range r.Stock {
		before, after := n(a.Before), n(a.After)
		if !a.Counted {
			before, after = "not counted", "not counted"
		}
		t.Rows = append(t.Rows, []string{a.Name, before, n(a.Fired), n(a.Misfired), n(a.Loaded), n(a.TakenOut), after})
	}
	if len(t.Rows) == 0 {
		fmt.Fprintf(w, "%s: nothing has been entered\n", r.Night)
	} else if err := t.Write(w); err != nil {
		return err
	}
	for _, x := range r.Weights {
		fmt.Fprintf(w, "left in %s: %s, the next night's fill\n", x.Name, wording.Mass(r.told, x.Kg))
	}
	for _, m := range r.Open {
		fmt.Fprintf(w, "OPEN MISFIRE: %s, %s (%s)\n", m.Output, m.PlacedName, m.ArticleName)
	}
	for i := range r.NotEntered {
		a := r.NotEntered[i].ArticleName
		if i > 0 && slices.ContainsFunc(r.NotEntered[:i], func(l ReturnLoad) bool { return l.ArticleName == a }) {
			continue
		}
		var names []string
		for k := range r.NotEntered {
			if l := &r.NotEntered[k]; l.ArticleName == a {
				names = append(names, l.SpareText())
			}
		}
		fmt.Fprintf(w, "not entered: %d of %s: %s\n", len(names), a, wording.JoinNames(names))
	}
	_, err := fmt.Fprintln(w, report.Caution)
	return err
}

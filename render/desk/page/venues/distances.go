package venues

import (
	"image"
	"strconv"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
	"emberbeat/timeline/rule"
)

// Ask is a distance that rule set or permit ask for at a venue.
type Ask struct {
	by, text, clause string
	Source           string
	n                int // place in the venue's own list, from 1; 0 for the rule set's
}

// List gives what is asked for at the venue shown.
func (p *Venues) List() []Ask { return asksOf(p.h.Show(), p.Shown()) }

// asksOf gives what is asked for at a venue.
func asksOf(s *timeline.Show, v *timeline.Venue) []Ask {
	var list []Ask
	if set := rule.RuleSetOf(s, v); set != nil {
		source := set.Source
		if set.Edition != "" {
			source = set.Edition + "; " + source
		}
		for _, d := range set.Distances {
			list = append(list, Ask{"rule set", distanceText(s, d), d.Clause, source, 0})
		}
		if set.Wind > 0 {
			list = append(list, Ask{"rule set", "nothing above " + s.Told().Say("m/s", set.Wind, -1) + " of wind", "", source, 0})
		}
	}
	for i, d := range v.Distances {
		list = append(list, Ask{"permit", distanceText(s, d), d.Clause, "written with the venue", i + 1})
	}
	return list
}

// distanceText says what a distance asks for.
func distanceText(s *timeline.Show, d timeline.Distance) string {
	var parts []string
	if d.AtLeast > 0 {
		parts = append(parts, s.Told().Say("m", d.AtLeast, -1))
	}
	if d.Fallout > 0 {
		parts = append(parts, strconv.FormatFloat(d.Fallout, 'f', -1, 64)+" times the fallout radius")
	}
	text := "at least " + strings.Join(parts, " or ") + " to " + string(d.To)
	var whose []string
	for _, f := range d.Families {
		whose = append(whose, string(f))
	}
	for _, id := range d.Articles {
		whose = append(whose, page.NameOf(s, []string{"article"}, "", id))
	}
	if len(whose) == 0 {
		return text + ", from every effect"
	}
	return text + ", from " + strings.Join(whose, ", ")
}

// asks lists the distances that are asked for, with their sources.
func (p *Venues) asks(r image.Rectangle, v *timeline.Venue) {
	u := p.h.UI()
	k := u.Stack(r, 4)
	title := "Distances asked for here: no rule set is chosen"
	if set := rule.RuleSetOf(p.h.Show(), v); set != nil {
		title = "Distances asked for here: " + set.Name + ", " + set.Place
		if set.Note != "" {
			title += ". " + set.Note
		}
	}
	u.Label(k.Top(20), render.TypeStrong, render.InkText, title)
	list := asksOf(p.h.Show(), v)
	spec := widget.TableSpec{Rows: len(list), Empty: "Neither a rule set nor the permit asks for a distance, as far as given: what labels ask for is checked alone. Choose a rule set, or enter the permit's distances.",
		Columns: []widget.Column{{Title: "", Width: 74}, {Title: "What"}, {Title: "Clause", Width: 150}, {Title: "Source", Width: 260}},
		Cell: func(b []byte, row, col int) []byte {
			x := &list[row]
			return append(b, []string{x.by, x.text, x.clause, x.Source}[col]...)
		}}
	u.Table("asks", k.Rest(), &p.Asks, &spec)
}

// needPermitAsk says why no distance of the permit can be taken back.
func (p *Venues) needPermitAsk() string {
	if why := p.needVenue(); why != "" {
		return why
	}
	list := asksOf(p.h.Show(), p.Shown())
	if i := p.Asks.Cursor; p.h.InView() != ID || !p.Asks.Has(i) || i >= len(list) || list[i].n == 0 {
		return "choose a distance of the permit on the page Venues first; a rule set's are changed with the rule set"
	}
	return ""
}

func (p *Venues) dropAsk() {
	v := p.Shown()
	n := asksOf(p.h.Show(), v)[p.Asks.Cursor].n
	p.h.Carry(operation.Find("venue", "back"), timeline.Ref{Kind: "venue", ID: v.ID}, &operation.Back{Name: "distance", N: &n})
}

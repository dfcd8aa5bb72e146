package sheet

import (
	"io"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/wording"
)

// nightsOrder makes pages of a NightsOrder.
type nightsOrder struct{ *load.NightsOrder }

// NightsOrder makes a sheet of what several nights use and order.
func NightsOrder(o *load.NightsOrder) Sheet { return nightsOrder{o} }

// Printed gives it as pages: the nights, what each delivery brings, and article by
// article what each night needs, uses and is short of.
func (o nightsOrder) Printed() *paper.Sheet {
	sh := titled(&o.Head, "Order list of nights")
	sh.Parts = append(sh.Parts, o.nightsPart())
	for i := range o.Deliveries {
		sh.Parts = append(sh.Parts, deliveryPart(&o.Deliveries[i]))
	}
	sh.Parts = append(sh.Parts,
		o.stockPart("Articles", o.Articles, "Needed is all that must stand on site, spares included. Used is what cues and keys use up, or what was entered; the rest comes back. On hand is what was counted, less what earlier nights have entered or will use, with what is ordered for them."),
		o.stockPart("Cylinders and tanks", o.Supplies, "Estimates: a cylinder or tank that a night joins counts as used, however much is left in it. On hand are those joined and the spare ones of the rig; nobody fills any between the nights."),
		o.mediaPart())
	return sh
}

// known writes a number that may not be known.
func known(n *int) string {
	if n == nil {
		return "not known"
	}
	return strconv.Itoa(*n)
}

func (o nightsOrder) nightsPart() paper.Part {
	p := paper.Part{Heading: "Nights", Columns: columns("date", "night", "revision", "ordered with the delivery of", ">igniters")}
	for i, n := range o.Nights {
		with := n.Delivery
		switch {
		case n.Over:
			with = "over: what was used is entered"
		case with == "":
			with = "none: it comes before the first"
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{n.Date, n.Name, wording.Given(n.Revision), with, strconv.Itoa(o.Igniters[i])}})
	}
	p.Notes = []string{"How many igniters are on hand is not known."}
	if len(o.Beside) > 0 {
		p.Notes = append(p.Notes, "Not taken off, since these nights are not chosen and nothing of them is entered: "+strings.Join(o.Beside, ", ")+".")
	}
	return p
}

func deliveryPart(d *load.Delivery) paper.Part {
	p := paper.Part{Heading: "To come by " + d.By, Notes: []string{"For " + strings.Join(d.Nights, ", ") + "."}}
	if d.By == "" {
		p.Heading = "Needed before the first delivery"
	}
	if len(d.Lines) == 0 {
		p.Notes = append(p.Notes, "Nothing is short, as far as the show gives a stock.")
		return p
	}
	p.Columns = columns("what", ">order", ">needed in all, where the order is not known", "[ordered", "[came")
	for _, l := range d.Lines {
		needs := ""
		if l.Order == nil {
			needs = strconv.Itoa(l.Needs)
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{l.Name, known(l.Order), needs, "", ""}})
	}
	return p
}

func (o nightsOrder) stockPart(heading string, list []load.NightsStock, note string) paper.Part {
	if len(list) == 0 {
		return paper.Part{Heading: heading, Notes: []string{"The plans of these nights need none."}}
	}
	p := paper.Part{Heading: heading, Notes: []string{note}, Columns: columns("what", "date", "night", ">needed", ">used", ">on hand before", ">to order", "note")}
	n := strconv.Itoa
	for i := range list {
		s := &list[i]
		name := s.Name
		for k, x := range s.Nights {
			said := ""
			switch {
			case x.Late && x.Needed > 0:
				said = "MAY NOT BE USED ANY MORE that night: order new ones"
			case o.Nights[k].Over:
				said = "over"
			}
			p.Rows = append(p.Rows, paper.Row{Cells: []string{name, o.Nights[k].Date, o.Nights[k].Name, n(x.Needed), n(x.Uses), known(x.OnHand), known(x.Order), said}})
			name = ""
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{"", "", "all", "", n(s.Uses), "", known(s.Order), "after them on hand: " + known(s.After)}, Strong: true})
	}
	return p
}

func (o nightsOrder) mediaPart() paper.Part {
	p := paper.Part{Heading: "Gases, fluids and paper", Columns: columns("medium", "date", "night", ">plan uses kg"), Notes: []string{"Estimates, of alternatives the most. What is on hand is not known."}}
	for _, m := range o.Media {
		name := wording.Given(m.Medium)
		for k, kg := range m.Kg {
			p.Rows = append(p.Rows, paper.Row{Cells: []string{name, o.Nights[k].Date, o.Nights[k].Name, wording.Plain(kg)}})
			name = ""
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{"", "", "all", wording.Plain(m.All)}, Strong: true})
	}
	if len(o.Media) == 0 {
		return paper.Part{Heading: p.Heading, Notes: []string{"The plans use none."}}
	}
	return p
}

// WriteCSV writes it after RFC 4180, part by part as it is printed.
func (o nightsOrder) WriteCSV(w io.Writer) error {
	return writeParts(w, "order list of nights", o.Head, o.Printed().Parts)
}

package sheet

import (
	"fmt"
	"io"
	"strconv"

	"emberbeat/render/paper"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// orderList makes pages of a OrderList.
type orderList struct{ *load.OrderList }

// Printed gives the order list as pages: the numbers that are missing, articles
// against what is on hand, igniters, gas and cylinders, use by song, swap points.
func (l orderList) Printed() *paper.Sheet {
	sh := titled(&l.Head, "Order list")
	sh.Parts = []paper.Part{l.glance(), l.articlesPart(), l.ignitersPart(), l.suppliesPart(), l.mediaPart(), l.songsPart(), l.swapsPart()}
	return sh
}

func (l orderList) glance() paper.Part {
	short, unknown, late, cylinders := 0, 0, 0, 0
	for i := range l.Articles {
		a := &l.Articles[i]
		short += a.Short
		unknown += wording.OneIf(a.OnHand == nil)
		late += wording.OneIf(a.Late)
	}
	for i := range l.Supplies {
		cylinders += l.Supplies[i].Short
	}
	n := strconv.Itoa
	missing := n(short)
	if unknown > 0 && short == 0 {
		missing = "not known"
	}
	return paper.Part{Heading: "At a glance", Figures: []paper.Fact{{Label: "pieces needed", Text: n(l.Used.Pieces)}, {Label: "short of articles", Text: missing}, {Label: "articles without a stock", Text: n(unknown)},
		{Label: "igniters", Text: n(l.Igniters.Circuits + l.Igniters.Single + l.Igniters.Unwired)}, {Label: "short of cylinders and tanks", Text: n(cylinders)},
		{Label: "NEC", Text: wording.Grams(l.Used.NEC) + " g"}, {Label: "articles out of date that day", Text: n(late)}}}
}

func (l orderList) articlesPart() paper.Part {
	p := paper.Part{Heading: "Articles", Notes: []string{"Needed is all that stands on site, spares included, and one more of what is used up for each placed effect that is asked for it as well. Short is against the stock that the show gives."},
		Columns: columns("article", "type", "division", "UN", ">needed", ">spares among them", ">on hand", ">short", ">pieces", ">commands", ">NEC g", "expires", "[counted", "[ordered")}
	needed, spares := 0, 0
	for i := range l.Articles {
		a := &l.Articles[i]
		onHand, expires, missing := "not given", a.Expires, "not known"
		if a.OnHand != nil {
			onHand, missing = strconv.Itoa(*a.OnHand), strconv.Itoa(a.Short)
		}
		if a.Late {
			expires += " BEFORE THE NIGHT"
		}
		pieces, nec := "", ""
		if a.UsedUp {
			pieces, nec = strconv.Itoa(a.Pieces), wording.Grams(a.NEC)
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{a.Name, a.Family, a.Division, a.UN, strconv.Itoa(a.Needed), strconv.Itoa(a.Spares), onHand, missing, pieces, strconv.Itoa(a.Commands), nec, expires, "", ""}})
		needed, spares = needed+a.Needed, spares+a.Spares
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"all", "", "", "", strconv.Itoa(needed), strconv.Itoa(spares), "", "", strconv.Itoa(l.Used.Pieces), strconv.Itoa(l.Used.Commands), wording.Grams(l.Used.NEC), "", "", ""}, Strong: true})
	return p
}

func (l orderList) ignitersPart() paper.Part {
	p := paper.Part{Heading: "Igniters", Notes: []string{load.CircuitCaution}, Columns: columns("for", ">igniters", "[on hand", "[ordered")}
	all := 0
	for _, r := range []struct {
		what string
		n    int
	}{{"circuits", l.Igniters.Circuits}, {"igniter outputs without a circuit, one each", l.Igniters.Single}, {"pieces that nothing is wired to, one each", l.Igniters.Unwired}} {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{r.what, strconv.Itoa(r.n), "", ""}})
		all += r.n
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"all", strconv.Itoa(all), "", ""}, Strong: true})
	return p
}

func (l orderList) suppliesPart() paper.Part {
	kg := l.Told.Unit("kg")
	p := paper.Part{Heading: "Cylinders and tanks", Notes: []string{"Estimates: joined ones, and as many full ones again for every swap. Planned refills are taken as done."},
		Columns: columns("supply", "medium", ">full one "+kg, ">plan uses "+kg, ">joined", ">swaps", ">needed", ">spare on site", ">short", "[counted", "[ordered")}
	for i := range l.Supplies {
		s := &l.Supplies[i]
		n := strconv.Itoa
		p.Rows = append(p.Rows, paper.Row{Cells: []string{s.Name, wording.Given(s.Medium), l.mass(s.Fill), l.mass(s.Uses), n(s.Joined), n(s.Swaps), n(s.Needed), n(s.Spare), n(s.Short), "", ""}})
	}
	if len(p.Rows) == 0 {
		return paper.Part{Heading: p.Heading, Notes: []string{"The rig has none."}}
	}
	return p
}

// mass writes a mass without its unit.
func (l orderList) mass(kg float64) string { return wording.Amount(l.Told, "kg", kg) }

func (l orderList) mediaPart() paper.Part {
	kg := l.Told.Unit("kg")
	p := paper.Part{Heading: "Gases, fluids and paper", Notes: []string{"What the plan uses in the worst case of its alternatives, with all presses of keys; masses are estimates."},
		Columns: columns("medium", ">plan uses "+kg, ">on site "+kg, ">of what it uses, without a supply "+kg, "[on hand "+kg, "[ordered "+kg)}
	for _, m := range l.Media {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{wording.Given(m.Medium), l.mass(m.Uses), l.mass(m.Filled), l.mass(m.Unfed), "", ""}})
	}
	if len(p.Rows) == 0 {
		return paper.Part{Heading: p.Heading, Notes: []string{"The plan uses none."}}
	}
	return p
}

func (l orderList) songsPart() paper.Part {
	names := []string{">no", "song", ">commands", ">pieces"}
	for _, m := range l.Media {
		names = append(names, ">"+wording.Given(m.Medium)+" "+l.Told.Unit("kg"))
	}
	p := paper.Part{Heading: "Consumption song by song", Notes: []string{"A piece counts in the song that fires it first; spares and what nothing commands are in no song. Of alternatives one is played: the last line is the worst case, not the sum."}, Columns: columns(names...)}
	commands, pieces := 0, 0
	for i := range l.Songs {
		s := &l.Songs[i]
		no, title := strconv.Itoa(s.Number), s.Title
		if s.Number == 0 {
			no = "–"
		}
		if s.Alt != "" {
			title += " (alternative " + s.Alt + ")"
		}
		cells := []string{no, title, strconv.Itoa(s.Commands), strconv.Itoa(s.Pieces)}
		for _, m := range s.Media {
			cells = append(cells, l.mass(m.Kg))
		}
		p.Rows = append(p.Rows, paper.Row{Cells: cells})
		commands, pieces = commands+s.Commands, pieces+s.Pieces
	}
	all := []string{"", "all", strconv.Itoa(commands), strconv.Itoa(pieces)}
	for _, m := range l.Media {
		all = append(all, l.mass(m.Uses))
	}
	p.Rows = append(p.Rows, paper.Row{Cells: all, Strong: true})
	return p
}

func (l orderList) swapsPart() paper.Part {
	p := paper.Part{Heading: "Swap points", Notes: []string{"Where the next hit would take a supply below its reserve (15 % of what is usable, our judgement, unless the supply gives another)."},
		Columns: columns("supply", "after hit", "timecode", ">left "+l.Told.Unit("kg"), "next draw", ">time for it s", "[done")}
	for i := range l.Swaps {
		s := &l.Swaps[i]
		for _, x := range s.Swaps {
			after := fmt.Sprintf("%d of song %d %s", x.Hit, x.SongNumber, x.SongTitle)
			if x.SongNumber == 0 {
				after = "before the first hit"
			}
			p.Rows = append(p.Rows, paper.Row{Cells: []string{s.Name, after, x.Timecode, l.mass(x.Left), fmt.Sprintf("%s, song %d %s", x.NextAt, x.NextNumber, x.NextTitle), timeline.Time(x.Free).Text(1), ""}})
		}
	}
	if len(p.Rows) == 0 {
		return paper.Part{Heading: p.Heading, Notes: []string{"No supply has to be swapped, as filled and as planned."}}
	}
	return p
}

// WriteCSV writes it after RFC 4180, part by part as it is printed.
func (l orderList) WriteCSV(w io.Writer) error {
	return writeParts(w, "order list", l.Head, l.Printed().Parts)
}

package sheet

import (
	"io"
	"strconv"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/wording"
)

// returnSheet makes pages of a ReturnSheet.
type returnSheet struct{ *load.ReturnSheet }

// Printed gives the return sheet as pages: articles, every load with boxes where
// nothing has been entered, cylinders and tanks, open misfires, signatures.
func (r returnSheet) Printed() *paper.Sheet {
	sh := titled(&r.Head, "Return sheet")
	sh.Parts = []paper.Part{r.articlesPart(), r.loadsPart(), r.suppliesPart()}
	if len(r.Open) > 0 {
		sh.Parts = append(sh.Parts, misfirePart("Open misfires: nothing of them goes back", r.Open))
	}
	sh.Parts = append(sh.Parts, signPart([]report.Signer{{Role: "operator", For: "counted and entered"}, {Role: "assistant", For: "counted a second time"}, {Role: "store or carrier", For: "taken over"}}))
	return sh
}

func (r returnSheet) articlesPart() paper.Part {
	p := paper.Part{Heading: "Articles", Notes: []string{"On site = fired + misfired + still loaded + taken out + not entered. Back is what was taken out, and what nobody has entered as anything else. A misfire goes nowhere before it is cleared."},
		Columns: columns("article", "division", ">on site", ">NEC g", ">fired", ">misfired", ">still loaded", ">taken out", ">not entered", ">back", ">stock after", "[counted")}
	var all load.ReturnArticle
	n := strconv.Itoa
	for i := range r.Articles {
		a := &r.Articles[i]
		stock := "not given"
		if a.Stock != nil {
			stock = n(*a.Stock)
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{a.Name, a.Division, n(a.OnSite), wording.Grams(a.NEC), n(a.Fired), n(a.Misfired), n(a.Loaded), n(a.TakenOut), n(a.NotEntered), n(a.Back), stock, ""}})
		all.OnSite, all.Fired, all.Misfired, all.Loaded = all.OnSite+a.OnSite, all.Fired+a.Fired, all.Misfired+a.Misfired, all.Loaded+a.Loaded
		all.TakenOut, all.NotEntered, all.Back, all.NEC = all.TakenOut+a.TakenOut, all.NotEntered+a.NotEntered, all.Back+a.Back, all.NEC+a.NEC
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"all", "", n(all.OnSite), wording.Grams(all.NEC), n(all.Fired), n(all.Misfired), n(all.Loaded), n(all.TakenOut), n(all.NotEntered), n(all.Back), "", ""}, Strong: true})
	return p
}

func (r returnSheet) loadsPart() paper.Part {
	p := paper.Part{Heading: "Output by output", Columns: columns("output", "placed effect", "position", "article", ">pieces", "entered", "[fired", "[not fired", "[misfired", "[seen by")}
	for i := range r.Loads {
		l := &r.Loads[i]
		p.Rows = append(p.Rows, paper.Row{Cells: []string{l.Outputs, l.SpareText(), l.Position, l.ArticleName, strconv.Itoa(l.Pieces), l.StateText(), "", "", "", ""}})
	}
	if len(p.Rows) == 0 {
		return paper.Part{Heading: p.Heading, Notes: []string{"Nothing that is used up stands in the rig."}}
	}
	return p
}

func (r returnSheet) suppliesPart() paper.Part {
	kg := r.Told.Unit("kg")
	p := paper.Part{Heading: "Cylinders and tanks", Notes: []string{"Left is an estimate, with what cannot be drawn: weigh them. What is weighed becomes the next night's fill."},
		Columns: columns("supply", "medium", ">joined", ">left "+kg+", about", ">weighed "+kg, "[weight after "+kg, ">empties", ">full spares", "[back")}
	for i := range r.Supplies {
		s := &r.Supplies[i]
		weighed := "not entered"
		if s.Weighed != nil {
			weighed = wording.Amount(r.Told, "kg", *s.Weighed)
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{s.Name, wording.Given(s.Medium), strconv.Itoa(s.Joined), wording.Amount(r.Told, "kg", s.Left), weighed, "", strconv.Itoa(s.Empties), strconv.Itoa(s.Full), ""}})
	}
	if len(p.Rows) == 0 {
		return paper.Part{Heading: p.Heading, Notes: []string{"The rig has none."}}
	}
	return p
}

// WriteCSV writes the return sheet after RFC 4180, part by part as it is
// printed.
func (r returnSheet) WriteCSV(w io.Writer) error {
	return writeParts(w, "return sheet", r.Head, r.Printed().Parts)
}

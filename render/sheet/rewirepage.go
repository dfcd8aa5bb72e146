package sheet

import (
	"cmp"
	"io"
	"strconv"

	"emberbeat/render/paper"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/wording"
)

// rewireSheet makes pages of a RewireSheet.
type rewireSheet struct{ *load.RewireSheet }

// Printed gives the rewire sheet as pages: what to plug where, then what to test.
func (r rewireSheet) Printed() *paper.Sheet {
	sh := titled(&r.Head, "Rewire sheet")
	moves := paper.Part{Heading: "From → to", Notes: []string{"was: " + r.Was, "is: " + r.Is}, Large: true}
	if len(r.Moves) == 0 {
		moves.Notes = append(moves.Notes, "Nothing is plugged elsewhere.")
	} else {
		moves.Columns = columns(">no.", "effect", "position", "points", "from", "to", "[done")
	}
	for i, m := range r.Moves {
		moves.Rows = append(moves.Rows, paper.Row{Cells: []string{strconv.Itoa(i + 1), m.Effect, m.Where, m.Points, cmp.Or(m.From, "– (plug in)"), cmp.Or(m.To, "– (unplug, insulate)"), ""}})
	}
	if len(r.OutOf) > 0 {
		moves.Notes = append(moves.Notes, "Out of service: "+wording.JoinNames(r.OutOf)+". Tag it and take its key.")
	}
	if len(r.Stranded) > 0 {
		moves.Notes = append(moves.Notes, "NO PLACE: nothing in service drives "+wording.JoinNames(r.Stranded)+".")
	}
	moves.Notes = append(moves.Notes, "Arms off, keys out, nobody in the zones while anything is plugged.") // common practice, no source
	sh.Parts = append(sh.Parts, moves)
	if len(r.Tests) > 0 {
		sh.Parts = append(sh.Parts, r.testPart())
	}
	return sh
}

func (r rewireSheet) testPart() paper.Part {
	p := paper.Part{Heading: "Test again", Notes: []string{r.Celsius + " " + r.Circuits},
		Columns: columns("output", "effects", "circuit", ">expected ohm", "[measured ohm", "[tested by")}
	for _, t := range r.Tests {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{t.Output, t.Effects, cmp.Or(t.Circuit, "–"), cmp.Or(t.Expected, "–"), "", ""}})
	}
	return p
}

// WriteCSV writes the rewire sheet after RFC 4180.
func (r rewireSheet) WriteCSV(w io.Writer) error {
	return writeParts(w, "rewire sheet", r.Head, r.Printed().Parts)
}

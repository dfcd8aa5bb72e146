package sheet

import (
	"fmt"
	"io"
	"strconv"

	"emberbeat/render/paper"
	"emberbeat/shows/report/held"
	"emberbeat/shows/report/wording"
)

// heldList makes pages of a list that was held against the plan.
type heldList struct{ *held.Report }

// Held makes a sheet of a list that was held against the plan.
func Held(r *held.Report) Sheet { return heldList{r} }

// Printed gives it as pages: the counts, what was not compared, each song, and worst
// first each difference with a box for whoever has mended it.
func (r heldList) Printed() *paper.Sheet {
	sh := titled(&r.Head, "List against plan")
	n := strconv.Itoa
	glance := paper.Part{Heading: "At a glance", Notes: append(r.Whole(), r.Counts()[1:]...),
		Figures: []paper.Fact{{Label: "rows compared", Text: n(r.Compared)}, {Label: "commands compared", Text: n(r.Commands)}}}
	for _, k := range held.Kinds() {
		glance.Figures = append(glance.Figures, paper.Fact{Label: string(k), Text: n(len(r.Of(k)))})
	}
	songs := paper.Part{Heading: "Songs", Columns: columns(">no", "song", ">commands compared", ">found as planned")}
	for _, s := range r.Songs {
		songs.Rows = append(songs.Rows, paper.Row{Cells: []string{n(s.Number), s.Title, n(s.Commands), n(s.Found)}})
	}
	sh.Parts = append(sh.Parts, glance, songs)
	if len(r.Differences) == 0 {
		sh.Parts = append(sh.Parts, paper.Part{Heading: "Differences", Notes: []string{r.Counts()[0]}})
		return sh
	}
	p := paper.Part{Heading: "Differences", Columns: columns("what", ">line", ">plan no.", ">song", "planned", "in the list", ">frames", "output planned", "address in the list", "said", "[mended")}
	for i := range r.Differences {
		d := &r.Differences[i]
		late := wording.BlankZero(int(max(d.Late, -d.Late)))
		if late != "" {
			late += map[bool]string{true: " early", false: " late"}[d.Late < 0]
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{string(d.Kind), wording.BlankZero(d.Line), wording.BlankZero(d.Number), wording.BlankZero(d.SongNumber), d.Planned, d.Listed, late, d.Output, d.Address, d.Says(), ""}})
	}
	p.Notes = []string{fmt.Sprintf("Lines are those of %s. Nothing was written into it.", r.List)}
	sh.Parts = append(sh.Parts, p)
	return sh
}

// WriteCSV writes it after RFC 4180, part by part as it is printed.
func (r heldList) WriteCSV(w io.Writer) error {
	return writeParts(w, "list against plan", r.Head, r.Printed().Parts)
}

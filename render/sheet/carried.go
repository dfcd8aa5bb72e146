package sheet

import (
	"io"
	"path/filepath"
	"strconv"

	"emberbeat/render/paper"
	"emberbeat/shows/report/carried"
	"emberbeat/shows/report/wording"
)

// carriedList makes pages of what carrying songs over comes to.
type carriedList struct{ *carried.Report }

// Carried makes a sheet of what carrying songs over to new recordings comes to.
func Carried(r *carried.Report) Sheet { return carriedList{r} }

// Printed gives the list as pages: the counts, each recording, and worst first each
// thing that somebody has to look at, with a box to tick.
func (r carriedList) Printed() *paper.Sheet {
	sh := titled(&r.Head, "Carry-over list")
	n := strconv.Itoa
	c := r.Counts
	glance := paper.Part{Heading: "At a glance", Figures: []paper.Fact{{Label: "cues sure", Text: n(c.Sure)}, {Label: "cues to look at", Text: n(c.Look)}, {Label: "cues set aside", Text: n(c.Lost)},
		{Label: "further places of cues", Text: n(c.Copies)}, {Label: "of them taken", Text: n(c.Taken)}, {Label: "recordings", Text: n(len(r.Files))}}}
	if r.Dry {
		glance.Notes = append(glance.Notes, "Nothing is carried over yet: this is what would become of it.")
	}
	sh.Parts = append(sh.Parts, glance, r.filesPart(), r.linesPart())
	if r.Findings != nil {
		sh.Parts = append(sh.Parts, newsPart(r.Findings))
	}
	if r.Evening != nil {
		if lines := r.Evening.Lines(); len(lines) > 0 {
			p := paper.Part{Heading: "What the evening comes to", Columns: columns("what")}
			for _, line := range lines {
				p.Rows = append(p.Rows, paper.Row{Cells: []string{line}})
			}
			sh.Parts = append(sh.Parts, p)
		}
	}
	return sh
}

func (r carriedList) filesPart() paper.Part {
	p := paper.Part{Heading: "Recordings", Columns: columns("recording", "song", ">cues", ">sure", ">to look at", ">set aside", "start", "what is to be known")}
	for i := range r.Files {
		f := &r.Files[i]
		n := strconv.Itoa
		cells := []string{filepath.Base(f.File), wording.Given(f.Title), n(f.Counts.Sure + f.Counts.Look + f.Counts.Lost), n(f.Counts.Sure), n(f.Counts.Look), n(f.Counts.Lost), wording.Given(f.Start), ""}
		lines := f.More()
		if f.Why != "" {
			lines = append([]string{f.Why}, lines...)
		}
		cells[7] = wording.JoinGiven("; ", lines...)
		p.Rows = append(p.Rows, paper.Row{Cells: cells})
	}
	return p
}

func (r carriedList) linesPart() paper.Part {
	p := paper.Part{Heading: "Worst first", Notes: []string{"What is set aside is neither played nor deleted. What is sure, to the sample or beat by beat, is not listed."}}
	heads := carried.Heads()
	for _, l := range r.Worth() {
		p.Rows = append(p.Rows, paper.Row{Cells: append(l.Cells(), "")})
	}
	if len(p.Rows) > 0 {
		p.Columns = columns(append(heads, "[looked")...)
	} else {
		p.Notes = []string{"Nothing wants a look, and nothing is set aside."}
	}
	return p
}

// WriteCSV writes it after RFC 4180, part by part as it is printed.
func (r carriedList) WriteCSV(w io.Writer) error {
	return writeParts(w, "carry-over list", r.Head, r.Printed().Parts)
}

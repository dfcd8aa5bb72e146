package sheet

import (
	"fmt"
	"io"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// dryList makes pages of a DryList.
type dryList struct{ *report.DryList }

// Printed gives the dry list as pages.
func (l dryList) Printed() *paper.Sheet {
	sh := titled(&l.Head, "Dry list")
	for i := range l.Songs {
		s := &l.Songs[i]
		p := paper.Part{Heading: fmt.Sprintf("%d  %s", s.Number, s.Title), NewPage: i > 0, Dense: true, Notes: append([]string{"audio starts " + s.Start + " · " + timeline.Counted(len(s.Steps), "step")}, report.DryBefore...)}
		if len(s.Steps) > 0 {
			p.Columns = columns("command", "»bar", "where", "what", "at", "do", "☐said", "☐clear")
		}
		for _, x := range s.Steps {
			p.Rows = append(p.Rows, paper.Row{Cells: []string{x.Timecode, x.Bar, x.Place, strings.Join(x.What, "; "), strings.Join(x.Positions, ", "), strings.Join(x.Do, "; "), "", ""}})
		}
		sh.Parts = append(sh.Parts, p)
	}
	return sh
}

// WriteCSV writes the dry list after RFC 4180.
func (l dryList) WriteCSV(w io.Writer) error {
	return writeParts(w, "dry list", l.Head, l.Printed().Parts)
}

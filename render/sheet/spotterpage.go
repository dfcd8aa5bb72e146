package sheet

import (
	"cmp"
	"fmt"
	"io"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// spotterSheet makes pages of a SpotterSheet.
type spotterSheet struct{ *report.SpotterSheet }

// Printed gives the spotter sheets as pages, each position on its own.
func (s spotterSheet) Printed() *paper.Sheet {
	sh := titled(&s.Head, "Spotter sheet")
	for i := range s.Positions {
		p := &s.Positions[i]
		about := spotterPositionAbout(p)
		about.NewPage, about.Notes = i > 0, s.Words
		sh.Parts = append(sh.Parts, about, spotterPositionMoments(p))
	}
	if len(sh.Parts) == 0 {
		sh.Parts = []paper.Part{{Notes: append([]string{"Nothing is commanded."}, s.Words...)}}
	}
	return sh
}

func spotterPositionTitle(p *report.SpotterPosition) string {
	return cmp.Or(p.Name, "No position given")
}

func spotterPositionAbout(p *report.SpotterPosition) paper.Part {
	part := paper.Part{Heading: spotterPositionTitle(p), Columns: columns("effects here", "article", "points", ">height", ">fallout radius", ">clear zone"),
		Entries: []paper.Fact{{Label: "spotter", Text: ""}, {Label: "talk-back", Text: ""}}}
	if p.ID != "" {
		part.Heading += fmt.Sprintf(" · x %s, y %s, z %s", metresSigned(p.X), metresSigned(p.Y), metresSigned(p.Z))
	}
	for _, e := range p.Effects {
		part.Rows = append(part.Rows, paper.Row{Cells: []string{wording.JoinNames(e.Effects), e.Article, e.Points, wording.MetresOr(e.Height), wording.MetresOr(e.Fallout), wording.MetresOr(e.Clear)}})
	}
	return part
}

func spotterPositionMoments(p *report.SpotterPosition) paper.Part {
	part := paper.Part{Heading: spotterPositionTitle(p) + ": " + timeline.Counted(len(p.Moments), "moment"), Large: true,
		Columns: columns(">song", "timecode", "»bar", "what goes", ">open s", ">zone", "who is near")}
	for i := range p.Moments {
		m := &p.Moments[i]
		part.Rows = append(part.Rows, paper.Row{Cells: []string{strconv.Itoa(m.SongNumber), m.Timecode, m.Bar, strings.Join(m.What, "; "), wording.Short(m.Open), wording.MetresOr(m.Zone), wording.Listed(m.Near)}})
	}
	return part
}

// WriteCSV writes the spotter sheets after RFC 4180.
func (s spotterSheet) WriteCSV(w io.Writer) error {
	return writeParts(w, "spotter sheet", s.Head, s.Printed().Parts)
}

// metresSigned writes a coordinate, which may be 0.
func metresSigned(m float64) string {
	if m == 0 {
		return "0 m"
	}
	return wording.MetresOr(m)
}

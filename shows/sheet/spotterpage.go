package sheet

import (
	"cmp"
	"fmt"
	"io"
	"strconv"
	"strings"

	"emberbeat/render/paper"
)

// Sheet gives the spotter sheets as pages, each position on its own.
func (s *SpotterSheet) Sheet() *paper.Sheet {
	sh := s.Head.sheet("Spotter sheet")
	for i := range s.Positions {
		p := &s.Positions[i]
		about := p.about()
		about.NewPage, about.Notes = i > 0, s.Words
		sh.Parts = append(sh.Parts, about, p.moments())
	}
	if len(sh.Parts) == 0 {
		sh.Parts = []paper.Part{{Notes: append([]string{"Nothing is commanded."}, s.Words...)}}
	}
	return sh
}

func (p *SpotterPosition) title() string { return cmp.Or(p.Name, "No position given") }

func (p *SpotterPosition) about() paper.Part {
	part := paper.Part{Heading: p.title(), Columns: columns("effects here", "article", ">height", ">fallout radius", ">clear zone"),
		Entries: []paper.Fact{{Label: "spotter", Text: ""}, {Label: "talk-back", Text: ""}}}
	if p.id != "" {
		part.Heading += fmt.Sprintf(" · x %s, y %s, z %s", metresSigned(p.X), metresSigned(p.Y), metresSigned(p.Z))
	}
	for _, e := range p.Effects {
		part.Rows = append(part.Rows, paper.Row{Cells: []string{joinNames(e.Effects), e.Article, metresOr(e.Height), metresOr(e.Fallout), metresOr(e.Clear)}})
	}
	return part
}

func (p *SpotterPosition) moments() paper.Part {
	part := paper.Part{Heading: p.title() + ": " + counted(len(p.Moments), "moment"), Large: true,
		Columns: columns(">song", "timecode", ">bar", "what goes", ">open s", ">zone", "who is near")}
	for i := range p.Moments {
		m := &p.Moments[i]
		part.Rows = append(part.Rows, paper.Row{Cells: []string{strconv.Itoa(m.SongNumber), m.Timecode, m.Bar, strings.Join(m.What, "; "), short(m.Open), metresOr(m.Zone), listed(m.Near)}})
	}
	return part
}

// WriteCSV writes the spotter sheets after RFC 4180.
func (s *SpotterSheet) WriteCSV(w io.Writer) error {
	return writeParts(w, "spotter sheet", s.Head, s.Sheet().Parts)
}

// metresSigned writes a coordinate, which may be 0.
func metresSigned(m float64) string {
	if m == 0 {
		return "0 m"
	}
	return metresOr(m)
}

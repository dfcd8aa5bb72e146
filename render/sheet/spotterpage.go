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
	"emberbeat/timeline/units"
)

// spotterSheet makes pages of a SpotterSheet.
type spotterSheet struct{ *report.SpotterSheet }

// Printed gives the spotter sheets as pages, each position on its own.
func (s spotterSheet) Printed() *paper.Sheet {
	sh := titled(&s.Head, "Spotter sheet")
	for i := range s.Positions {
		p := &s.Positions[i]
		about := spotterPositionAbout(s.Told, p)
		about.NewPage, about.Notes = i > 0, s.Words
		sh.Parts = append(sh.Parts, about, spotterPositionMoments(s.Told, p))
	}
	if len(sh.Parts) == 0 {
		sh.Parts = []paper.Part{{Notes: append([]string{"Nothing is commanded."}, s.Words...)}}
	}
	return sh
}

func spotterPositionTitle(p *report.SpotterPosition) string {
	return cmp.Or(p.Name, "No position given")
}

func spotterPositionAbout(told units.System, p *report.SpotterPosition) paper.Part {
	part := paper.Part{Heading: spotterPositionTitle(p), Columns: columns("effects here", "article", "points", ">height", ">fallout radius", ">clear zone"),
		Entries: []paper.Fact{{Label: "spotter", Text: ""}, {Label: "talk-back", Text: ""}}}
	if p.ID != "" {
		part.Heading += fmt.Sprintf(" · x %s, y %s, z %s", told.Say("m", p.X, 2), told.Say("m", p.Y, 2), told.Say("m", p.Z, 2))
	}
	for _, e := range p.Effects {
		part.Rows = append(part.Rows, paper.Row{Cells: []string{wording.JoinNames(e.Effects), e.Article, e.Points, wording.LengthOr(told, e.Height), wording.LengthOr(told, e.Fallout), wording.LengthOr(told, e.Clear)}})
	}
	return part
}

func spotterPositionMoments(told units.System, p *report.SpotterPosition) paper.Part {
	part := paper.Part{Heading: spotterPositionTitle(p) + ": " + timeline.Counted(len(p.Moments), "moment"), Large: true,
		Columns: columns(">song", "timecode", ">bar", "what goes", ">open s", ">zone", "who is near")}
	for i := range p.Moments {
		m := &p.Moments[i]
		part.Rows = append(part.Rows, paper.Row{Cells: []string{strconv.Itoa(m.SongNumber), m.Timecode, m.Bar, strings.Join(m.What, "; "), wording.Short(m.Open), wording.LengthOr(told, m.Zone), wording.Listed(m.Near)}})
	}
	return part
}

// WriteCSV writes the spotter sheets after RFC 4180.
func (s spotterSheet) WriteCSV(w io.Writer) error {
	return writeParts(w, "spotter sheet", s.Head, s.Printed().Parts)
}

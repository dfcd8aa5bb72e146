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

// inspectorSheet makes pages of a InspectorSheet.
type inspectorSheet struct{ *report.InspectorSheet }

// Printed gives the inspector's sheet as pages, songs behind each other, each whole
// where a page holds it and with its signatures.
func (s inspectorSheet) Printed() *paper.Sheet {
	sh := titled(&s.Head, "Inspector sheet")
	sh.Foot = s.Distances + " " + sh.Foot
	for i := range s.Songs {
		p := inspectorSongPart(s.Told, &s.Songs[i])
		p.Whole = true
		sh.Parts = append(sh.Parts, p)
		if len(p.Rows) > 0 {
			sh.Parts = append(sh.Parts, signatures())
		}
	}
	sh.Parts = append(sh.Parts, totalsPart(&s.Used))
	sh.Parts = append(sh.Parts, checkedParts(&s.Head)...)
	return sh
}

func inspectorSongPart(told units.System, g *report.InspectorSong) paper.Part {
	p := paper.Part{Heading: fmt.Sprintf("%d  %s", g.Number, g.Title), Notes: []string{inspectorSongAbout(g)}}
	if len(g.Lines) == 0 {
		p.Notes = append(p.Notes, "Nothing is commanded in this song.")
		return p
	}
	p.Notes = append(p.Notes, lengths(told)+": how high it reaches, the trim it needs of the venue's, to people needed / planned. – is not given, or cannot be measured on the plan.")
	p.Dense = true
	p.Columns = columns("position", "effects", "article", ">uses", ">NEC g", "in the song", ">top", ">trim", ">audience", "[measured "+told.Unit("m"), ">performers", "asked by, remarks")
	under := ""
	for i := range g.Lines {
		next := "No pyrotechnic article: nothing says NEC, UN number or category, nor does the rule set"
		if g.Lines[i].Pyro != "" {
			next = "Pyrotechnic articles: by NEC, UN number or category, or by the rule set"
		}
		if next != under {
			p.Rows = append(p.Rows, paper.Row{Strong: true, Across: true, Cells: append([]string{next}, make([]string, len(p.Columns)-1)...)})
		}
		p.Rows = append(p.Rows, paper.Row{With: next != under, Cells: inspectorLinePrinted(told, &g.Lines[i])})
		under = next
	}
	p.Rows = append(p.Rows, paper.Row{Cells: []string{"all", "", timeline.Counted(g.Used.Pieces, "piece"), strconv.Itoa(g.Used.Commands), wording.Grams(g.Used.NEC), "", "", "", "", "", "", ""}, Strong: true})
	return p
}

func inspectorSongAbout(g *report.InspectorSong) string {
	text := fmt.Sprintf("audio starts %s · %s long", g.Start, wording.Clock(g.Duration))
	if g.First != "" {
		text += fmt.Sprintf(" · first command %s · last output closes %s", g.First, g.Last)
	}
	return text
}

func inspectorLinePrinted(told units.System, l *report.InspectorLine) []string {
	article := strings.Join(wording.NonEmpty(l.Article, l.Category, l.Division, wording.Prefixed("UN ", l.UN)), " · ")
	nec := ""
	if l.NEC > 0 {
		nec = wording.Grams(l.NEC)
	}
	top, trim := "–", "–"
	if l.Top > 0 {
		top, trim = lengthCell(told.UpNumber, l.Top), lengthCell(told.UpNumber, l.Needs)+" of "+lengthCell(told.DownNumber, l.Trim)
	}
	return []string{cmp.Or(l.Position, "–"), wording.JoinNames(l.Effects), article, strconv.Itoa(l.Commands), nec, wording.Clock(l.From) + " – " + wording.Clock(l.To),
		top, trim, inspectorSpacePrinted(told, &l.Audience), "", inspectorSpacePrinted(told, &l.Performers), inspectorLineRemarks(l)}
}

// inspectorLineRemarks says what does not fit, what asks for the distances, and how well the
// article is known.
func inspectorLineRemarks(l *report.InspectorLine) string {
	var parts []string
	short := strings.NewReplacer("performer's mark ", "", "audience line ", "")
	if l.Trim > 0 && l.Needs > l.Trim+1e-9 {
		parts = append(parts, "TOO HIGH")
	}
	if l.Audience.Short {
		parts = append(parts, "TOO NEAR to "+short.Replace(l.Audience.Nearest))
	}
	if l.Performers.Short {
		parts = append(parts, "TOO NEAR to "+short.Replace(l.Performers.Nearest))
	}
	for _, aim := range l.Aim {
		if aim != "upright" {
			parts = append(parts, aim)
		}
	}
	parts = append(parts, wording.NonEmpty(l.Audience.Governs)...)
	if l.Performers.Governs != l.Audience.Governs {
		parts = append(parts, wording.NonEmpty(wording.Prefixed("performers: ", l.Performers.Governs))...)
	}
	return strings.Join(append(parts, l.Mark), "; ")
}

// inspectorSpacePrinted says what is needed and what is planned.
func inspectorSpacePrinted(told units.System, s *report.InspectorSpace) string {
	planned := "–"
	if s.Planned != nil {
		planned = told.DownNumber("m", *s.Planned, 2)
	}
	return lengthCell(told.UpNumber, s.Required) + " / " + planned
}

// lengthCell writes a length that is judged without its unit; 0 is not given.
func lengthCell(number func(unit string, m float64, digits int) string, m float64) string {
	if m == 0 {
		return "–"
	}
	return number("m", m, 2)
}

// seenBy heads the boxes of those who sign for having seen a sheet.
const seenBy = "seen: name, date, signature"

func signatures() paper.Part {
	return paper.Part{Tall: true, With: true, Columns: columns(seenBy, "[operator", "[inspector or authority", "[local crew chief"),
		Rows: []paper.Row{{Cells: []string{"", "", "", ""}}}}
}

// WriteCSV writes the sheet after RFC 4180.
func (s inspectorSheet) WriteCSV(w io.Writer) error {
	return writeParts(w, "inspector sheet", s.Head, s.Printed().Parts)
}

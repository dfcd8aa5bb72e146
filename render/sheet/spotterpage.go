package sheet

import (
	"cmp"
	"fmt"
	"io"
	"slices"
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
	sh.Wide = false // upright, a page has room for a third more moments
	for i := range s.Positions {
		part := s.position(&s.Positions[i])
		part.NewPage = i > 0
		sh.Parts = append(sh.Parts, part)
	}
	if len(sh.Parts) == 0 {
		sh.Parts = []paper.Part{{Notes: append([]string{"Nothing is commanded."}, s.Words...)}}
	}
	return sh
}

// position is what one spotter holds: what stands there, who must be out, and, to be
// read in the dark, a line for each moment in the order played, songs running on
// under their titles and sections.
func (s spotterSheet) position(p *report.SpotterPosition) paper.Part {
	heads := []string{"time", "»bar", "what", ">" + s.Told.Unit("m"), ">s"}
	part := paper.Part{Heading: cmp.Or(p.Name, "No position given"), Large: true, Dense: true, Beside: 2, Notes: []string{strings.Join(s.Words, " ") + " Below: how high, how many seconds long; a bar with + is between beats."},
		Entries: []paper.Fact{{Label: "spotter", Text: ""}, {Label: "talk-back", Text: ""}}}
	if p.ID != "" {
		part.Heading += fmt.Sprintf(" · x %s, y %s, z %s", s.Told.Say("m", p.X, 2), s.Told.Say("m", p.Y, 2), s.Told.Say("m", p.Z, 2))
	}
	part.Heading += " · " + timeline.Counted(len(p.Moments), "moment")
	for _, e := range p.Effects {
		part.Notes = append(part.Notes, fmt.Sprintf("Here: %s · %s · %s · height %s · fallout radius %s · clear zone %s",
			wording.JoinNames(e.Effects), e.Article, e.Points, wording.LengthOr(s.Told, e.Height), wording.LengthOr(s.Told, e.Fallout), wording.LengthOr(s.Told, e.Clear)))
	}
	if slices.ContainsFunc(p.Effects, func(e report.SpotterEffect) bool { return e.Points != "upright" }) {
		part.Notes = append(part.Notes, "What leans reaches elsewhere: look along it. Distances of people are from the place of the effect.")
	}
	always, same := alwaysOut(p)
	switch {
	case !same:
		part.Beside, heads = 0, append(heads, "people out before")
		part.Notes = append(part.Notes, "People out before: who stands inside the zone, with the distance on the plan. – is nobody on the plan.")
	case always == "":
		part.Notes = append(part.Notes, "People out before: nobody has a mark inside a zone here on the plan.")
	default:
		part.Entries = append([]paper.Fact{{Label: "people out before each of these, distances on the plan", Text: always}}, part.Entries...)
	}
	if near := besideZone(p, always); near != "" {
		part.Notes = append(part.Notes, "Near, outside the zone of some or all: "+near)
	}
	part.Columns = columns(heads...)
	row := func(cells ...string) []string { return append(cells, make([]string, len(heads)-len(cells))...) }
	heading := ""
	for i := range p.Moments {
		m := &p.Moments[i]
		next := fmt.Sprintf("%d  %s · %s", m.SongNumber, m.Song, m.Section)
		if next != heading {
			part.Rows = append(part.Rows, paper.Row{Cells: row(next), Strong: true, Across: true})
		}
		cells := row(withoutFrames(m.Timecode), shortBar(m.Bar), spotterWhat(p, m), lengthCell(s.Told.UpNumber, m.Height), wording.Short(m.Open))
		if !same {
			cells[len(cells)-1] = cmp.Or(strings.Join(m.Inside, ", "), "–")
		}
		part.Rows = append(part.Rows, paper.Row{With: next != heading, Cells: cells})
		heading = next
	}
	return part
}

// alwaysOut names who must be out before every moment of a position; !same = it is
// another at some. A moment that asks for nobody counts as one that asks for the
// same: too many out is never wrong.
func alwaysOut(p *report.SpotterPosition) (always string, same bool) {
	for i := range p.Moments {
		switch text := strings.Join(p.Moments[i].Inside, ", "); {
		case text == "", text == always:
		case always == "":
			always = text
		default:
			return "", false
		}
	}
	return always, true
}

// besideZone names who stands near a position, outside the zone of a moment, and is
// not among those who are out before each.
func besideZone(p *report.SpotterPosition, always string) string {
	var names []string
	for i := range p.Moments {
		for _, name := range p.Moments[i].Outside {
			if always == "" || !slices.Contains(strings.Split(always, ", "), name) {
				names = wording.AddOnce(names, name)
			}
		}
	}
	return strings.Join(names, ", ")
}

// withoutFrames gives a timecode to the second: nobody sees frames.
func withoutFrames(timecode string) string {
	if i := strings.LastIndexAny(timecode, ":;"); i > 0 {
		return timecode[:i]
	}
	return timecode
}

// shortBar gives a bar and its beat, and that there is more to it.
func shortBar(bar string) string {
	if beat, _, more := strings.Cut(bar, "+"); more {
		return beat + "+"
	}
	return bar
}

// spotterWhat names what goes: its effects, and their articles where one of them
// plays several here.
func spotterWhat(p *report.SpotterPosition, m *report.SpotterMoment) string {
	for _, name := range m.Units {
		plays := map[string]bool{}
		for _, e := range p.Effects {
			if slices.Contains(e.Effects, name) {
				plays[e.Article] = true
			}
		}
		if len(plays) > 1 {
			return strings.Join(m.What, "; ")
		}
	}
	return wording.JoinNames(m.Units)
}

// WriteCSV writes the spotter sheets after RFC 4180.
func (s spotterSheet) WriteCSV(w io.Writer) error {
	return writeParts(w, "spotter sheet", s.Head, s.Printed().Parts)
}

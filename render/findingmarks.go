package render

import (
	"fmt"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// MarksOf prepares the findings about one song of a show for its picture.
func MarksOf(show *timeline.Show, ps *timeline.PlanSong, findings []rule.Finding) *Marks {
	var list []Mark
	accepted := 0
	for i := range findings {
		switch f := &findings[i]; {
		case f.Song != ps.Song.ID:
		case f.Accepted != nil:
			accepted++
		default:
			list = append(list, mark(ps, f))
		}
	}
	return NewMarks(list, Looked(show, accepted))
}

// Looked says in a few words what the rules were asked, where none of their
// findings is drawn: how many there were, which are off, and how many findings
// somebody has accepted. It is no clearance.
func Looked(show *timeline.Show, accepted int) string {
	n, off := rule.AskedOf(show)
	text := timeline.Counted(n, "rule") + " asked"
	if len(off) > 0 {
		text += fmt.Sprintf(", %d off", len(off))
	}
	if accepted > 0 {
		text += ", " + timeline.Counted(accepted, "finding") + " accepted"
	}
	return text
}

func mark(ps *timeline.PlanSong, f *rule.Finding) Mark {
	m := Mark{Severity: SeverityOf(f.Severity), Rule: f.Rule, At: Instant{At: f.At, On: f.HasTime}, Text: f.Text}
	switch f.Ref.Kind {
	case "cue":
		m.Cue = f.Ref.ID
		if c := ps.Song.Cue(f.Ref.ID); c != nil {
			m.Lane = c.Lane
		}
	case "lane":
		m.Lane = f.Ref.ID
	}
	m.Where = f.Place()
	if f.HasTime {
		if m.Where != "" {
			m.Where += ", "
		}
		m.Where += ps.Rate.Label(f.Frame)
	}
	return m
}

// SeverityOf gives the severity that a finding is drawn with.
func SeverityOf(s rule.Severity) Severity {
	switch s {
	case rule.Error:
		return SevError
	case rule.Warning:
		return SevWarning
	}
	return SevNote
}

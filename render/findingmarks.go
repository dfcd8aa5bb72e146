package render

import (
	"fmt"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// MarksOf prepares the findings about one song for its picture.
func MarksOf(ps *timeline.PlanSong, findings []rule.Finding) *Marks {
	var list []Mark
	for i := range findings {
		if f := &findings[i]; f.Song == ps.Song.ID && f.Accepted == nil {
			list = append(list, mark(ps, f))
		}
	}
	return NewMarks(list, fmt.Sprintf("no conflict found with %d rules", len(rule.Rules())))
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
	if f.HasBar {
		bar, beat := f.Bar.Spoken()
		m.Where = "bar " + bar + " beat " + beat
	}
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

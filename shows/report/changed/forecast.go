package changed

import (
	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Forecast is what a change comes to, counted in one way for all who ask: the
// window before it makes one, and verbs when they try or make one.
type Forecast struct {
	Changes  timeline.Changes // of records
	Cues     int              // that play otherwise
	Findings *FindingsDiff
	Plan     *PlanDiff
	Moved    []MovedCue    // commanded at another timecode, by song in running order
	Rests    *Consequences // where stock changes that was there before; else nil
}

// Compare says what it comes to when one plan takes the place of another. Each
// plan's findings are those of the same facts.
func Compare(was, is *timeline.Plan, before, after []rule.Finding) *Forecast {
	f := &Forecast{Changes: timeline.Diff(was.Show, is.Show), Cues: len(report.Otherwise(was, is)), Findings: NewFindingsDiff(was, is, before, after), Plan: NewPlanDiff(was, is)}
	for i := range is.Songs {
		if song := is.Songs[i].Song.ID; report.SongIn(is, song) == &is.Songs[i] {
			f.Moved = append(f.Moved, NewMoved(was, is, song)...)
		}
	}
	if refs := StockChanged(f.Changes); len(refs) > 0 {
		f.Rests = newConsequences(was, is, refs, f.Findings)
	}
	return f
}

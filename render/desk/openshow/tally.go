package openshow

import (
	"fmt"
	"slices"
	"strconv"

	"emberbeat/render"
	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// StateWord says in a word what a song needs most, of what the night in view makes of it.
func (w *Work) StateWord(song *timeline.Song, n [3]int) string {
	switch {
	case w.Plan.Night.CutsSong(song.ID):
		return "cut tonight"
	case song.Audio.Path == "" && song.Length == 0:
		return "no audio"
	case song.Beats.Empty():
		return "no beats"
	case n[0] > 0:
		return timeline.Counted(n[0], "error")
	case song.Elsewhere():
		return "new recording"
	case !song.Confirmed:
		return "beats in doubt"
	case len(song.Cues) == 0:
		return "no cues"
	case n[1] > 0:
		return timeline.Counted(n[1], "warning")
	case w.Marks == nil:
		return ""
	}
	return timeline.Counted(len(song.Cues), "cue")
}

// Counts gives the open findings of each song by severity.
func (w *Work) Counts() map[timeline.ID][3]int {
	if w.tally != nil {
		return w.tally
	}
	w.tally = map[timeline.ID][3]int{}
	for i := range w.Findings {
		if f := &w.Findings[i]; f.Accepted == nil {
			n := w.tally[f.Song]
			n[render.SeverityOf(f.Severity)]++
			w.tally[f.Song] = n
		}
	}
	return w.tally
}

// FoundAt gives the findings about some records that nobody has accepted, by their place in Findings.
func (w *Work) FoundAt(refs []timeline.Ref) []int {
	var list []int
	for _, ref := range refs {
		list = append(list, w.foundIn(ref.Song)[ref]...)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// foundIn gives the findings about what is in a song, or about what is in none, by their record.
func (w *Work) foundIn(song timeline.ID) map[timeline.Ref][]int {
	at := w.found[song]
	if at == nil {
		at = map[timeline.Ref][]int{}
		for i := range w.Findings {
			if f := &w.Findings[i]; f.Accepted == nil && f.Ref.Song == song {
				at[f.Ref] = append(at[f.Ref], i)
			}
		}
		if w.found == nil {
			w.found = map[timeline.ID]map[timeline.Ref][]int{}
		}
		w.found[song] = at
	}
	return at
}

// Groups gives the findings by their cause, worst first.
func (w *Work) Groups() []report.FindingGroup {
	if w.groups == nil && w.checks.done != nil {
		w.groups = append([]report.FindingGroup{}, report.GroupFindings(w.checks.done, w.Findings)...)
	}
	return w.groups
}

// Summary says what the rules have found, in a line.
func (w *Work) Summary() string {
	if w.Marks == nil {
		return "not checked yet"
	}
	n, accepted := [3]int{}, 0
	for i := range w.Findings {
		if f := &w.Findings[i]; f.Accepted != nil {
			accepted++
		} else {
			n[render.SeverityOf(f.Severity)]++
		}
	}
	if n == [3]int{} && accepted == 0 {
		return rule.NothingFound(w.Show, w.Findings)
	}
	text := ""
	for v, word := range []string{"error", "warning", "note"} {
		if n[v] > 0 {
			if text != "" {
				text += ", "
			}
			text += timeline.Counted(n[v], word)
		}
	}
	if accepted > 0 {
		text += ", " + strconv.Itoa(accepted) + " accepted"
	}
	return text
}

// DeltaText says what the last change did to the findings.
func (w *Work) DeltaText() string {
	d := w.Delta
	switch {
	case !w.Checked():
		return "Checking…"
	case d == nil:
		return "No change yet since the show was opened or the night was chosen. Now: " + w.Summary() + "."
	}
	return fmt.Sprintf("Findings after the last change: %d new, %d gone, %d as before.", len(d.New), len(d.Gone), d.Stay)
}

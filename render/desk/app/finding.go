package app

import (
	"fmt"

	"emberbeat/render/desk/page/findings"
	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// stepFinding goes to the finding after or before the last one gone to, over all songs.
func (a *App) stepFinding(n int) {
	w := a.work
	if a.song.StepDoubt(n) {
		return
	}
	if len(w.Findings) == 0 {
		a.tell("no findings, and no doubt about the beats")
		return
	}
	at := a.panel.finding
	if a.panel.visited {
		at += n
	}
	a.goFinding((at + len(w.Findings)) % len(w.Findings))
}

// goFinding shows a finding: its song, its time, its record.
func (a *App) goFinding(i int) {
	w := a.work
	f := &w.Findings[i]
	a.panel.finding, a.panel.visited = i, true
	a.listed().Show(i)
	a.panel.list = true
	if f.Song != "" && w.Show.Song(f.Song) != nil {
		a.song.GoSong(f.Song)
	}
	if f.Ref.Kind == "cue" || f.HasTime {
		a.turn("")
	}
	v := w.View()
	if w.Data != nil && f.Song == w.Song && f.HasTime {
		a.song.Seek(f.At)
		a.song.Reveal()
	}
	if f.Ref.Kind == "cue" && w.Data != nil {
		v.Choose(f.Ref.ID)
		if c := w.InView().Cue(f.Ref.ID); c != nil {
			v.Focus = c.Lane
			a.song.RevealLane(w.LaneAt(c.Lane))
		}
		a.panel.records = false
	} else if f.Ref.Kind != "" {
		a.inspect(f.Ref)
	}
	a.note = note{text: fmt.Sprintf("finding %d of %d", i+1, len(w.Findings))} // what it says stands in the list
	a.say("finding %s", f.Rule)
	a.again = true
}

// chosenFinding gives the finding last gone to, or nil.
func (a *App) chosenFinding() *rule.Finding {
	if i := a.panel.finding; a.panel.visited && i < len(a.work.Findings) && a.chosenGroup() == nil {
		return &a.work.Findings[i]
	}
	return nil
}

func needFix(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	f := a.chosenFinding()
	switch {
	case f == nil:
		return "go to a finding first, with F8"
	case f.Fix == nil:
		return "no single edit solves this finding; its help says what would"
	}
	return ""
}

func (a *App) applyFix() {
	f := a.chosenFinding()
	a.do(change{f.Fix.Label, f.Fix.Edits})
}

// chosenGroup gives the group whose row is chosen in the list of findings, nil where a single finding is.
func (a *App) chosenGroup() *report.FindingGroup {
	if !a.panel.list && a.book.at != findings.ID {
		return nil
	}
	return a.listed().Group()
}

func needFixAll(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	g := a.chosenGroup()
	switch {
	case !a.panel.list && a.book.at != findings.ID:
		return "open the list of findings first, with " + a.key("findings")
	case g == nil:
		return "choose the row of a group in the list of findings first"
	case g.Fix == nil:
		return "no single change solves all of this group; open it, and look at each"
	}
	return ""
}

func (a *App) applyFixAll() {
	g := a.chosenGroup()
	a.do(change{g.Fix.Label, g.Fix.Edits})
}

// inspect shows a record in the inspector.
func (a *App) inspect(r timeline.Ref) {
	if a.book.at != "" {
		a.showInBook(r)
	}
	a.panel.record = r
	a.panel.records = false
	if a.work.Data != nil && r.Kind != "cue" {
		a.work.View().Choose()
	}
	a.again = true
}

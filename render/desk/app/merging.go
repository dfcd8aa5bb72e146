package app

import (
	"context"
	"errors"
	"path/filepath"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/page/conflicts"
	"emberbeat/render/widget"
	"emberbeat/shows"
	"emberbeat/shows/report"
	"emberbeat/shows/report/changed"
	"emberbeat/shows/report/merged"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/merge"
)

// askMerge lets the folder be chosen whose edits are to be joined.
func (a *App) askMerge() {
	d := a.browse("show", "Merge a copy of this show", "Merge", a.merge)
	d.b.Empty = "Nothing here. A copy of the show is a folder with show.toml in it."
}

// merge joins the edits of another copy of the show, from what both started from: the save kept here that is nearest to it. It is one step.
// Conflicts stay in the show, and the page of them comes into view.
func (a *App) merge(folder string) {
	s := a.work.Session
	fail := func(err error) {
		text := err.Error()
		if errors.Is(err, session.ErrNoStart) {
			text += ". Name what both started from on the command line: emberbeat merge SHOW THEIRS --base BASE"
		}
		a.dialog = &errorDialog{title: "The copy cannot be merged", text: text + "\n\nNothing was changed."}
	}
	theirs, err := shows.Load(folder)
	if err != nil {
		fail(err)
		return
	}
	base, _, what, err := session.StartedFrom(s.Dir(), s.Show(), theirs.Show)
	if err != nil {
		fail(err)
		return
	}
	joined, err := merge.Shows(base, s.Show(), theirs.Show)
	if err != nil {
		fail(err)
		return
	}
	if _, _, err := s.BringRecordings(context.Background(), joined.Show, folder); err != nil {
		fail(err)
		return
	}
	ours := s.Show()
	show := merge.WithOpen(joined.Show, joined.Conflicts)
	if len(timeline.Diff(s.Show(), show)) == 0 {
		a.tell("%s holds nothing that this show has not", filepath.Base(folder))
		return
	}
	label := "merge " + filepath.Base(folder)
	if !a.Do(label, timeline.Toward(show)) {
		return
	}
	a.joined = joinedFindings{}
	a.Meanwhile("checking what the merge made", func(ctx context.Context, _ func(float64)) (func(), error) {
		made := merged.Made(base, ours, theirs.Show, show)
		return func() {
			a.joined = joinedFindings{a.work, label, filepath.Base(folder), made}
			if len(made) > 0 {
				a.turn(conflicts.ID)
			}
		}, ctx.Err()
	}, func(error) {})
	a.tell("merged %s, from %s: %s to be settled", filepath.Base(folder), what, timeline.Counted(len(joined.Conflicts), "conflict"))
	if len(joined.Conflicts) > 0 {
		a.turn(conflicts.ID)
	}
}

// joinedFindings are what the last merge has made and neither of the two shows had.
type joinedFindings struct {
	of    *openshow.Work
	label string // of the step
	from  string
	list  []report.FindingLine
}

// Joined draws them, as long as the merge was not taken back.
func (a *App) Joined(k *widget.Stack, sel *widget.Selection, rows int) bool {
	j := &a.joined
	if a.work == nil || j.of != a.work || len(j.list) == 0 {
		return false
	}
	if undo, _ := a.work.Session.Labels(); !slices.Contains(undo, j.label) {
		return false
	}
	a.ui.Label(k.Top(20), render.TypeLabel, render.InkText, timeline.Counted(len(j.list), "finding")+" made by the merge with "+j.from+", which neither of the two had:")
	a.diffTable("joined", k.Top(widget.LineHeight*min(len(j.list), rows)+widget.RowHeight), sel, &changed.FindingsDiff{New: j.list}, "")
	return true
}

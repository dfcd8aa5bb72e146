package app

import (
	"context"
	"errors"
	"path/filepath"

	"emberbeat/render/desk/page/conflicts"
	"emberbeat/shows"
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
	show := merge.WithOpen(joined.Show, joined.Conflicts)
	if len(timeline.Diff(s.Show(), show)) == 0 {
		a.tell("%s holds nothing that this show has not", filepath.Base(folder))
		return
	}
	if !a.Do("merge "+filepath.Base(folder), timeline.Toward(show)) {
		return
	}
	a.tell("merged %s, from %s: %s to be settled", filepath.Base(folder), what, timeline.Counted(len(joined.Conflicts), "conflict"))
	if len(joined.Conflicts) > 0 {
		a.turn(conflicts.ID)
	}
}

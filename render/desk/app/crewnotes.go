package app

import (
	"slices"
	"strings"

	"emberbeat/shows/intake"
	"emberbeat/timeline"
)

// askNotes lets the file be chosen that a crew page has saved.
func (a *App) askNotes() {
	d := a.browse("notes", "Take in notes of a crew page", "Take in", a.takeNotes)
	d.b.Empty = "No folder and no json file here."
}

// takeNotes puts the notes of a file at their bars, as one step.
func (a *App) takeNotes(path string) {
	notes, err := intake.ReadNotesFile(path)
	if err != nil {
		a.fail(err)
		return
	}
	edit, taken, err := notes.Take(a.work.Session.Show())
	switch {
	case err != nil:
		a.fail(err)
	case taken.Notes == 0 || a.do(change{"take in " + timeline.Counted(taken.Notes, "note"), []timeline.Edit{edit}}):
		a.tell("%s", strings.Join(slices.Concat([]string{taken.Said()}, taken.Doubts, taken.Refused), "; "))
	}
}

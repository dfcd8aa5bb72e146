package app

import (
	"fmt"
	"path/filepath"
	"strings"

	"emberbeat/audio"
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
	notes, err := readNotes(path)
	if err != nil {
		a.fail(err)
		return
	}
	show := a.work.Session.Show()
	edit, taken, err := notes.Take(show, timeline.Compile(show, show.Night(notes.Night)).Revision())
	if err != nil {
		a.fail(err)
		return
	}
	said := append([]string{fmt.Sprintf("%s taken in, %d known already", timeline.Counted(taken.Notes, "note"), taken.Known)}, taken.Doubts...)
	if taken.Notes > 0 && !a.do(change{"take in " + timeline.Counted(taken.Notes, "note"), []timeline.Edit{edit}}) {
		return
	}
	a.tell("%s", strings.Join(append(said, taken.Refused...), "; "))
}

func readNotes(path string) (*intake.CrewNotes, error) {
	f, err := audio.OpenFile(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	notes, err := intake.ReadNotes(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Base(path), err)
	}
	return notes, nil
}

package main

import (
	"emberbeat/shows/intake"
	"emberbeat/timeline"
)

// importNotes takes what the crew has written on a crew page.
func (t *talk) importNotes(dir, file string, im *importing) error {
	notes, err := intake.ReadNotesFile(file)
	if err != nil {
		return fileFailure(err)
	}
	var taken *intake.NotesTaken
	err = t.change(dir, "import notes", im.dry, func(p *timeline.Plan) (edit timeline.Edit, err error) {
		edit, taken, err = notes.Take(p.Show)
		return edit, err
	})
	if err != nil {
		return err
	}
	for _, lines := range [][]string{taken.Doubts, taken.Refused} {
		for _, line := range lines {
			t.warn("%s", line)
		}
	}
	t.say("%s", taken.Said())
	if len(taken.Refused) > 0 {
		return errFindings
	}
	return nil
}

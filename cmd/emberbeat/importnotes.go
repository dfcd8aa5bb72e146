package main

import (
	"fmt"

	"emberbeat/audio"
	"emberbeat/shows/intake"
	"emberbeat/timeline"
)

// importNotes takes what the crew has written on a crew page.
func (t *talk) importNotes(dir, file string, im *importing) error {
	f, err := audio.OpenFile(file)
	if err != nil {
		return fileFailure(err)
	}
	defer f.Close()
	notes, err := intake.ReadNotes(f)
	if err != nil {
		return fileFailure(fmt.Errorf("%s: %w", file, err))
	}
	var taken *intake.NotesTaken
	err = t.change(dir, "import notes", im.dry, func(p *timeline.Plan) (edit timeline.Edit, err error) {
		edit, taken, err = notes.Take(p.Show, revisionFor(p.Show, notes))
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
	t.say("%s new, %d known already", timeline.Counted(taken.Notes, "note"), taken.Known)
	if len(taken.Refused) > 0 {
		return errFindings
	}
	return nil
}

// revisionFor gives the revision of the night that a page was of as it is now.
func revisionFor(s *timeline.Show, notes *intake.CrewNotes) string {
	return timeline.Compile(s, s.Night(notes.Night)).Revision()
}

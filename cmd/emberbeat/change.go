package main

import (
	"io"

	"emberbeat/shows"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

// change opens a show, makes one edit in it, saves it and prints what changed.
// A dry run prints the same and saves nothing.
func (t *talk) change(dir string, dry bool, edit func(*timeline.Plan) (timeline.Edit, error)) error {
	if !dry {
		lock, err := shows.Lock(dir)
		if err != nil {
			return err
		}
		defer lock.Unlock()
	}
	l, err := shows.Load(dir)
	if err != nil {
		return err
	}
	e, err := edit(timeline.Compile(l.Show, nil))
	if err != nil {
		return usage(err)
	}
	next, err := l.Show.Edit(e)
	if err != nil {
		return usage(err)
	}
	if !dry {
		if _, err := shows.SaveTo(shows.OS(dir), next, l.Show, shows.SaveOptions{Prints: l.Prints, Places: l.Places, Keep: shows.KeepVersion}); err != nil {
			return fileFailure(err)
		}
	}
	return t.printChanges(timeline.Diff(l.Show, next), dry)
}

func (t *talk) printChanges(cs timeline.Changes, dry bool) error {
	switch {
	case len(cs) == 0:
		t.say("nothing changed")
	case dry:
		t.say("nothing is saved: this is what would change")
	}
	list := sheet.NewChangeList(cs)
	return t.writeOut("", func(w io.Writer) error {
		if t.json {
			return list.WriteJSON(w)
		}
		return list.WriteText(w)
	})
}

package main

import (
	"fmt"
	"slices"

	"emberbeat/shows"
	"emberbeat/shows/session"
)

// load reads a show to be listed or exported.
func (t *talk) load(dir string) (*shows.Loaded, error) {
	if err := t.checkUnits(); err != nil {
		return nil, err
	}
	l, err := loadNamed(dir)
	if err == nil {
		l.Show = t.told(l.Show)
		t.notes(l.Notes)
	}
	return l, err
}

// loadNamed reads a show, or an older save of one.
func loadNamed(name string) (*shows.Loaded, error) {
	dir, save, err := shows.Named(name)
	switch {
	case err != nil:
		return nil, usage(err)
	case save != nil:
		return save.Load()
	}
	return shows.Load(dir)
}

// open opens a show for one command: to look at it, or to change it and save at
// once. Edits that wait for the window are left to it.
func (t *talk) open(dir string, readOnly bool) (*session.Session, error) {
	if err := t.checkUnits(); err != nil {
		return nil, err
	}
	o := session.Options{ReadOnly: readOnly, NoJournal: true, Told: t.told}
	folder, save, err := shows.Named(dir)
	if err == nil && save != nil {
		if !readOnly {
			return nil, hint(usage(fmt.Errorf("%s is an older save, and is not changed", dir)), "emberbeat restore "+dir+" makes the show what it was then")
		}
		o.Storage, err = save.Storage()
	}
	if err != nil {
		return nil, usage(err)
	}
	s, err := session.Open(folder, o)
	if err == nil {
		t.notes(s.Notes())
	}
	return s, err
}

// notes tells what the files say that the program does not understand and
// keeps: all of it with --verbose, else the first of it.
func (t *talk) notes(notes []shows.Problem) {
	open := 0
	notes = slices.DeleteFunc(slices.Clone(notes), func(n shows.Problem) bool {
		if n.IsConflict() {
			open++
		}
		return n.IsConflict()
	})
	if open > 0 {
		t.warn("conflicts of a merge that nobody has settled: %d; emberbeat merge SHOW --resolve lists them", open)
	}
	const line = "not understood, and kept as it stands: %s"
	if len(notes) > 1 && !t.verbose {
		t.say(line+" (and %d more; --verbose lists them)", notes[0], len(notes)-1)
		return
	}
	for _, n := range notes {
		t.say(line, n)
	}
}

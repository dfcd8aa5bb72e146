package main

import (
	"io"

	"emberbeat/shows/report/changed"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// change opens a show, makes one edit in it, saves it and prints what changed.
// A dry run prints the same and saves nothing.
func (t *talk) change(dir, label string, dry bool, edit func(*timeline.Plan) (timeline.Edit, error)) error {
	s, err := t.open(dir, dry)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	before := s.Show()
	e, err := edit(s.Plan(""))
	if err != nil {
		return usage(err)
	}
	next, err := t.apply(s, label, dry, e)
	if err != nil {
		return err
	}
	return t.printChanges(before, next, dry)
}

// apply makes an edit and saves it, or for a dry run only tries it.
func (t *talk) apply(s *session.Session, label string, dry bool, e timeline.Edit) (*timeline.Show, error) {
	tried, err := s.Try(e)
	if err != nil {
		return nil, usage(err)
	}
	return tried.Show, t.keep(s, label, dry, tried)
}

// keep makes what was tried and saves it, so that what is saved is what was
// said; a dry run does neither.
func (t *talk) keep(s *session.Session, label string, dry bool, tried *session.Tried) error {
	if dry {
		return nil
	}
	if err := s.Keep(label, tried); err != nil {
		return usage(err)
	}
	return t.save(s)
}

func (t *talk) save(s *session.Session) error {
	if !s.Dirty() {
		return nil
	}
	err := s.Save()
	for _, w := range s.Warnings() {
		t.warn("%v", w)
	}
	return fileFailure(err)
}

func (t *talk) printChanges(was, is *timeline.Show, dry bool) error {
	cs := timeline.Diff(was, is)
	t.sayChanges(len(cs), dry)
	return t.printList(changed.NewList(was, is, cs))
}

// sayChanges says what a list of so many changes means.
func (t *talk) sayChanges(n int, dry bool) {
	switch {
	case n == 0:
		t.say("nothing changed")
	case dry:
		t.say("nothing is saved: this is what would change")
	}
}

func (t *talk) printList(list *changed.List) error {
	return t.writeOut("", func(w io.Writer) error {
		if t.json {
			return list.WriteJSON(w)
		}
		return list.WriteText(w)
	})
}

package openshow

import (
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// Attempt is a change that was tried: shown, or asked about, and not made.
type Attempt struct {
	Label string // that undo tells
	Edits []timeline.Edit
	Tried *session.Tried // nil where it cannot be made
}

// Try shows a change without making it, and says why where it cannot be made.
func (w *Work) Try(label string, edits ...timeline.Edit) (*Attempt, error) {
	t, err := w.Session.Try(edits...)
	if err != nil {
		return &Attempt{Label: label, Edits: edits}, err
	}
	w.Tried = t.Show
	w.Refresh()
	return &Attempt{label, edits, t}, nil
}

// Planned compiles what a change would make of the show, for the night in view; nothing is kept of it.
func (w *Work) Planned(edits ...timeline.Edit) (*timeline.Plan, error) {
	t, err := w.Session.Try(edits...)
	if err != nil {
		return nil, err
	}
	return w.Session.PlanOf(t.Show, t.Show.Night(w.Night)), nil
}

// Drop forgets what was only shown.
func (w *Work) Drop() {
	if w.Tried != nil {
		w.Tried = nil
		w.Refresh()
	}
}

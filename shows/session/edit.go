package session

import (
	"time"

	"emberbeat/timeline"
)

// mergeWithin is the time in which repeats of one key become one step.
const mergeWithin = 700 * time.Millisecond

// gesture is what the last edit was, for repeats that join it.
type gesture struct {
	key    string // "" joins nothing
	at     time.Time
	before *timeline.Show // the snapshot before the gesture began
}

// Do makes edits as one step that undo takes back at once. On an error nothing
// has happened.
func (s *Session) Do(label string, edits ...timeline.Edit) error { return s.DoAs("", label, edits...) }

// DoAs is Do for keys that repeat: edits with the same gesture within 0.7 s of
// each other, with nothing else between them, are one step. The gesture names
// the key and what it acts on.
func (s *Session) DoAs(key, label string, edits ...timeline.Edit) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.edit(key, label, edits)
}

// edit makes edits on the show as it is. The caller holds the lock.
func (s *Session) edit(key, label string, edits []timeline.Edit) error {
	if s.lock == nil {
		return ErrReadOnly
	}
	show, err := s.history.Show().Edit(edits...)
	if err != nil {
		return err
	}
	return s.become(key, label, show)
}

// become makes a snapshot the show. One that holds the same as the show is no
// step. The caller holds the lock.
func (s *Session) become(key, label string, show *timeline.Show) error {
	if s.lock == nil {
		return ErrReadOnly
	}
	was := s.history.Show()
	changes := len(timeline.Diff(was, show))
	if changes == 0 {
		return nil
	}
	now := s.clock()
	if joins := key != "" && key == s.gesture.key && now.Sub(s.gesture.at) <= mergeWithin; joins {
		s.gesture.at = now
		s.history.Amend(label, show)
		s.tell(show, told{at: now, changes: len(timeline.Diff(s.gesture.before, show))})
		s.journal.step(amendStep, label, s.gesture.before, show, now)
		return nil
	}
	s.gesture = gesture{key, now, was}
	s.history.Push(label, show)
	s.tell(show, told{at: now, changes: changes})
	s.journal.step(doStep, label, was, show, now)
	return nil
}

// Undo takes back the last step and names it; false when there is none.
func (s *Session) Undo() (label string, ok bool) { return s.walk(undoStep, (*timeline.History).Undo) }

// Redo makes the step again that was taken back last; false when there is
// none.
func (s *Session) Redo() (label string, ok bool) { return s.walk(redoStep, (*timeline.History).Redo) }

func (s *Session) walk(kind stepKind, along func(*timeline.History) (string, bool)) (string, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.gesture = gesture{}
	label, ok := along(s.history)
	if ok {
		s.journal.walk(kind, s.history.Show(), s.clock())
	}
	return label, ok
}

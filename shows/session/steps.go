package session

import (
	"time"

	"emberbeat/timeline"
)

// Step is one of the steps that undo and redo walk along.
type Step struct {
	Label   string    // "" of the first: the show as it was opened
	At      time.Time // zero where nobody knows
	Changes int       // records that it changed
	Saved   bool      // the show was saved as it stands after it
}

// told is what is known of a step beside its name.
type told struct {
	at      time.Time
	changes int
	saved   bool
}

// Steps gives the steps of the session in the order in which they were made, and which of them was made or gone to last: those after it were taken
// back. The first is the show as it was opened.
func (s *Session) Steps() (list []Step, now int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	steps, now := s.history.Steps()
	for _, x := range steps {
		t := s.told[x.Show]
		list = append(list, Step{x.Label, t.at, t.changes, t.saved || x.Show == s.saved})
	}
	return list, now
}

// GoTo takes steps back, or makes them again, until the step of a place in Steps is the last one made. It gives how many it walked.
func (s *Session) GoTo(step int) int {
	n := 0
	for {
		s.mu.Lock()
		steps, now := s.history.Steps()
		s.mu.Unlock()
		switch {
		case step < 0 || step >= len(steps) || step == now:
			return n
		case step < now:
			s.Undo()
		default:
			s.Redo()
		}
		n++
	}
}

// tell keeps what is known of a step, and forgets what there is no step of any more. The caller holds the lock.
func (s *Session) tell(show *timeline.Show, t told) {
	steps, _ := s.history.Steps()
	if s.told == nil || len(s.told) > 2*len(steps)+16 {
		kept := make(map[*timeline.Show]told, len(steps))
		for _, x := range steps {
			if old, known := s.told[x.Show]; known {
				kept[x.Show] = old
			}
		}
		s.told = kept
	}
	s.told[show] = t
}

package session

import "emberbeat/timeline"

// Tell gives the show in other units from now on, in all its steps: the reader has chosen them. Nothing of the show becomes otherwise, so
// that nothing has to be saved, and undo leads where it led.
func (s *Session) Tell(in func(*timeline.Show) *timeline.Show) {
	s.mu.Lock()
	defer s.mu.Unlock()
	known := map[*timeline.Show]*timeline.Show{}
	of := func(was *timeline.Show) *timeline.Show {
		if known[was] == nil {
			known[was] = in(was)
		}
		return known[was]
	}
	s.toldIn = in
	s.history, s.saved, s.gesture = s.history.Each(of), of(s.saved), gesture{}
	steps := make(map[*timeline.Show]told, len(s.told))
	for show, t := range s.told {
		steps[of(show)] = t
	}
	s.told = steps
}

package session

import (
	"fmt"

	"emberbeat/shows"
	"emberbeat/shows/report/changed"
	"emberbeat/timeline"
)

// Saves lists what the older saves of the show in a folder hold, newest first,
// each compared with what replaced it: the newest with the show as it is on disk,
// nil where that cannot be read. Errors are those of shows.VersionsOf.
func Saves(dir string, now *timeline.Show) (*changed.SaveList, error) {
	list, err := shows.VersionsOf(dir)
	if err != nil {
		return nil, err
	}
	var saves []changed.Save
	for _, v := range list {
		s := changed.Save{Replaced: v.Time}
		if l, err := v.Load(); err == nil {
			s.Show = l.Show
		} else {
			s.Err = err
		}
		saves = append(saves, s)
	}
	return changed.NewSaveList(now, saves), nil
}

// Saved gives the show as it is on disk.
func (s *Session) Saved() *timeline.Show {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.saved
}

// Before looks through the older saves of the show for one that is so, newest first.
func (s *Session) Before(so func(*timeline.Show) bool) (*timeline.Show, error) {
	list, err := shows.VersionsOf(s.dir)
	if err != nil {
		return nil, err
	}
	for _, v := range list {
		if l, err := v.Load(); err == nil && so(l.Show) {
			return l.Show, nil
		}
	}
	return nil, fmt.Errorf("none of its %d older saves on this computer has another recording of it", len(list))
}

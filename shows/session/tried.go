package session

import (
	"context"
	"slices"

	"emberbeat/shows/report/changed"
	"emberbeat/timeline"
)

// Tried is a change that was tried and not made. It holds the edits together
// with the snapshot they gave, since edits cannot be compared: whoever keeps it
// makes just what was looked at.
type Tried struct {
	Show *timeline.Show // as it would be

	was   *timeline.Show
	edits []timeline.Edit
}

// Try makes edits beside the show: a gesture does in each frame, and a verb
// before it says what it would do. The show stays as it is.
func (s *Session) Try(edits ...timeline.Edit) (*Tried, error) {
	was := s.Show()
	show, err := was.Edit(edits...)
	if err != nil {
		return nil, err
	}
	return &Tried{Show: show, was: was, edits: slices.Clone(edits)}, nil
}

// On gives a night before and after, nil for the tour: what Foresee looks at.
func (t *Tried) On(night timeline.ID) timeline.Concern {
	return timeline.Concern{Was: t.was.Night(night), Is: t.Show.Night(night)}
}

// Changes lists what differs, record by record.
func (t *Tried) Changes() timeline.Changes { return timeline.Diff(t.was, t.Show) }

// Keep makes what was tried, as one step that undo takes back at once. The very
// snapshot becomes the show, and nothing is edited again; only where the show
// has changed since, the edits are made anew on it. On an error nothing has
// happened.
func (s *Session) Keep(label string, t *Tried) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.history.Show() == t.was {
		return s.become("", label, t.Show)
	}
	return s.edit("", label, t.edits)
}

// Foresee says what a change that was tried would come to, one forecast for each
// night or tour that it is asked about. It compiles and checks beside the show.
// The recordings are looked at once, since no edit changes them.
func (s *Session) Foresee(ctx context.Context, t *Tried, on ...timeline.Concern) ([]*changed.Forecast, error) {
	facts := s.Facts(ctx)
	var list []*changed.Forecast
	for _, c := range on {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		was, before := s.now.look(t.was, c.Was, facts)
		is, after := s.ahead.look(t.Show, c.Is, facts)
		list = append(list, changed.Compare(was, is, before, after))
	}
	return list, ctx.Err()
}

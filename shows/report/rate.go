package report

import (
	"errors"
	"fmt"

	"emberbeat/timeline"
)

// AtRate gives the show with another timecode rate: every song keeps the label
// at which it starts, and its music keeps its times. A label that the rate does
// not have is an error that names the song; so is one of the night's.
func AtRate(s *timeline.Show, night *timeline.Night, rate timeline.Rate) (*timeline.Show, error) {
	var wrong []error
	for _, g := range s.SongsByStart() {
		start := g.Start
		if _, moved := night.ShiftOf(g.ID); moved != nil {
			start = *moved
		}
		if _, err := rate.Frame(start); err != nil {
			wrong = append(wrong, fmt.Errorf("song %q cannot start there: %w", g.FullTitle(), err))
		}
	}
	if len(wrong) > 0 {
		return nil, errors.Join(wrong...)
	}
	if s.Head.Rate == rate {
		return s, nil
	}
	return s.Edit(func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "show", ID: s.Head.ID}, "rate", timeline.Value{Text: rate.String()})
	})
}

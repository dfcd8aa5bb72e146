package session

import (
	"context"
	"fmt"

	"emberbeat/audio/ear"
	"emberbeat/timeline"
	"emberbeat/timeline/grid"
)

// HeardGrid gives what the ear makes of the recording of a song, as far as grids go. Locks are the user's word; without any it is most often in
// the cache. progress, which may be nil, hears what part is done, 0 to 1. Errors are *audio.FileError, ctx.Err(), or that the song has no
// recording in the show folder.
func (s *Session) HeardGrid(ctx context.Context, song *timeline.SongHead, locks grid.Locks, progress func(done float64)) (*grid.Heard, error) {
	path := s.Recording(song)
	if path == "" {
		return nil, fmt.Errorf("song %q has no recording in the show folder to listen to", song.FullTitle())
	}
	heard, err := Listen(ctx, s.cache, path, earLocks(locks), progress)
	if err != nil {
		return nil, err
	}
	return gridHeard(heard.Analysis)
}

// earLocks gives the user's word as the ear takes it. Stretches it does not know: what it hears there is put aside afterwards.
func earLocks(l grid.Locks) ear.Locks {
	return ear.Locks{BPM: float64(l.BPM) / 1000, BarOne: l.BarOne, Metre: l.Metre, Taps: l.Taps}
}

// gridHeard takes from an analysis what grids are corrected by.
func gridHeard(a *ear.Analysis) (*grid.Heard, error) {
	beats, err := a.BeatMap()
	if err != nil {
		beats = nil // there is no map in it, and the attacks are good all the same
	}
	h := &grid.Heard{Beats: beats}
	for i := range a.Hits {
		x := &a.Hits[i]
		g := grid.Attack{At: timeline.FromSeconds(x.At), Strength: x.Strength}
		for k, label := range ear.Labels {
			if label == ear.Kick || label == ear.Crash { // what marks the first of a bar most often, common practice, no source
				g.Weight += x.Probability[k]
			}
		}
		if x.Accent {
			g.Weight += 0.5
		}
		h.Attacks = append(h.Attacks, g)
	}
	if a.BPM > 0 {
		h.Tempi = append(h.Tempi, a.BPM)
	}
	for _, x := range a.Alternatives {
		h.Tempi = append(h.Tempi, x.BPM)
	}
	for _, p := range a.Parts {
		h.Doubts = append(h.Doubts, grid.Doubt{From: timeline.FromSeconds(p.From), To: timeline.FromSeconds(p.To), Share: p.Doubt})
	}
	return h, nil
}

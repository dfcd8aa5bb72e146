package match

import (
	"context"

	"emberbeat/audio/match/anew"
)

// playedAnew looks for the song played anew in what the runs of the same sound
// leave of the new recording. Where both are too long for that it finds nothing.
func playedAnew(ctx context.Context, old, new *Side, fixed []run) ([]run, error) {
	if !anew.Comparable(old.Duration, new.Duration) {
		return nil, nil
	}
	known := make([]anew.Run, len(fixed))
	for i, r := range fixed {
		known[i] = anew.Run{Old: r.old, New: r.new, Length: r.length, Rate: r.rate}
	}
	found, err := anew.Find(ctx, anew.Hear(old.Mono, old.Rate), anew.Hear(new.Mono, new.Rate), known)
	if err != nil {
		return nil, err
	}
	out := make([]run, len(found))
	for i, r := range found {
		out[i] = run{old: r.Old, new: r.New, length: r.Length, rate: r.Rate, confidence: r.Sure}
	}
	return out, nil
}

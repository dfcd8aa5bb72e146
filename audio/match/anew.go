package match

import "context"

// playedAnew looks for the song played anew, beat by beat, in what the runs of
// the same sound leave of both recordings; both have been heard. It finds nothing yet.
func playedAnew(_ context.Context, _, _ *Side, _ []run) ([]run, error) { return nil, nil }

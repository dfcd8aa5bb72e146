package match

import "context"

// sameSound finds the stretches of the old recording whose very sound is in the new one.
func sameSound(_ context.Context, _, _ *Side) ([]run, error) { return nil, nil }

package page

import (
	"time"

	"emberbeat/shows/calls"
	"emberbeat/timeline"
)

// Playback is what a page needs of the shell about what is heard, and about what was marked while it was.
type Playback interface {
	// Clock gives the song in view, its time that is heard or stands at the playhead, and whether it plays.
	Clock() (song timeline.ID, at timeline.Time, plays bool)
	// Now is the moment of the frame, Still whether motion is reduced, Said the sentence in the status bar that says why something was
	// refused, "" for none.
	Now() time.Time
	Still() bool
	Said() string
	// AddCall adds a line to the log of the night in view, beside the show; Calls gives what stands there.
	AddCall(calls.Entry) error
	Calls() ([]calls.Entry, error)
}

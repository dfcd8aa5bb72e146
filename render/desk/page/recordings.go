package page

import (
	"context"

	"emberbeat/shows/arrival"
	"emberbeat/timeline"
)

// Recordings is what a page needs of the shell to work on recordings that arrive.
type Recordings interface {
	// Arrivals gives a desk that compares recordings with those of the open show.
	Arrivals() *arrival.Desk
	// Meanwhile does work beside the window, with its progress shown and a way to cancel it; then what it gave is done by the window, if the
	// show is still the one that is open. ended runs in any case, with what went wrong, which is said.
	Meanwhile(name string, work func(ctx context.Context, progress func(float64)) (then func(), err error), ended func(error))
	// ChooseRecordings lets files, or a folder of them, be chosen.
	ChooseRecordings(title, verb string, take func(paths []string))
	// Made says of a step that was made beside the window that it is there and can be undone.
	Made(label string)
	// Loudness is how loud a song's recording is: a level for each second, 255 for the loudest. Where there are none it says why; it is read
	// beside the window, one recording after another.
	Loudness(song timeline.ID) (levels []uint8, why string)
	// Hear lets stretches of recordings be heard one after the other, none ends what is heard of them; a channel that holds timecode is
	// never among what is heard. Hearing gives the one that is heard now, or waited for, -1 for none; HearingAt the instant of its recording
	// that is heard, where it is heard already.
	Hear(list ...Stretch)
	Hearing() int
	HearingAt() (at timeline.Time, ok bool)
}

// Stretch is a part of a recording that is heard by itself.
type Stretch struct {
	File     string
	Only     []int // channels that are wanted, from 1; none = all
	From, To timeline.Time
}

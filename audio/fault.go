package audio

import "fmt"

// fault says what is wrong with a file that the caller knows the name of.
type fault struct {
	What string // what is wrong with it
	Want string // what would be right
}

// Error gives "what; want".
func (f *fault) Error() string { return f.What + "; " + f.Want }

// wrong makes a fault.
func wrong(want, what string, args ...any) error {
	return &fault{What: fmt.Sprintf(what, args...), Want: want}
}

// wantAgain is the remedy for a file that arrived damaged.
const wantAgain = "copy or export it again"

// wantFormats is the remedy for a file that is no sound at all.
const wantFormats = "use a WAV, FLAC, MP3 or Ogg Vorbis file"

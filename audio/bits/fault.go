package bits

import "fmt"

// Fault says what is wrong with a file that the caller knows the name of.
type Fault struct {
	What string // what is wrong with it
	Want string // what would be right
}

// Error gives "what; want".
func (f *Fault) Error() string { return f.What + "; " + f.Want }

// Wrong makes a Fault: what would be right, and what is wrong with its arguments,
// to follow the name of the file.
func Wrong(want, what string, args ...any) error {
	return &Fault{What: fmt.Sprintf(what, args...), Want: want}
}

// WantAgain is the remedy for a file that arrived damaged.
const WantAgain = "copy or export it again"

// WantFormats is the remedy for a file that is no sound at all.
const WantFormats = "use a WAV, FLAC, MP3 or Ogg Vorbis file"

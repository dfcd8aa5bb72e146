package audio

import (
	"fmt"
)

// FileError says that a file cannot be used as sound.
type FileError struct {
	Path string // the file, as it was named by the caller
	What string // what is wrong with it
	Want string // what would be right
	Err  error  // the cause below, if there is one
}

// Error gives "path: what; want".
func (e *FileError) Error() string {
	s := e.Path + ": " + e.What
	if e.Want != "" {
		s += "; " + e.Want
	}
	return s
}

// Unwrap gives the cause below.
func (e *FileError) Unwrap() error { return e.Err }

// wrong makes the What and Want of a FileError; the path is filled in by the
// caller who knows it.
func wrong(want, what string, args ...any) *FileError {
	return &FileError{What: fmt.Sprintf(what, args...), Want: want}
}

// mostWarnings is the number of warnings that a person will read.
const mostWarnings = 20

// wantAgain is the remedy for a file that arrived damaged.
const wantAgain = "copy or export it again"

// clock writes a number of frames as minutes and seconds.
func clock(frames int64, rate int) string {
	s := float64(frames) / float64(max(rate, 1))
	return fmt.Sprintf("%d:%06.3f", int64(s)/60, s-float64(int64(s)/60*60))
}

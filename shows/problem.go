package shows

import (
	"fmt"
	"slices"
	"strings"
)

// Problem is one thing in a show file that cannot be understood.
type Problem struct {
	File string // relative to the show folder, with '/'
	Line int    // from 1; 0 when the whole file is meant
	What string // what is wrong
	Want string // what would be right
}

const openConflict = "a conflict of a merge is not settled"

// IsConflict reports whether a note is about a conflict of a merge that nobody has
// settled yet.
func (p Problem) IsConflict() bool { return p.What == openConflict }

// String writes "file:line: what; want".
func (p Problem) String() string {
	s := p.File
	if p.Line > 0 {
		s = fmt.Sprintf("%s:%d", s, p.Line)
	}
	s += ": " + p.What
	if p.Want != "" {
		s += "; " + p.Want
	}
	return s
}

// UnreadableError says that a show cannot be understood, with everything that
// was found, in the order of files and lines.
type UnreadableError struct{ Problems []Problem }

// mostShown is the number of problems an error's text spells out.
const mostShown = 20

func (e *UnreadableError) Error() string {
	var b strings.Builder
	for i, p := range e.Problems {
		if i > 0 {
			b.WriteByte('\n')
		}
		if i == mostShown {
			fmt.Fprintf(&b, "and %d more problems", len(e.Problems)-i)
			break
		}
		b.WriteString(p.String())
	}
	return b.String()
}

func sortProblems(ps []Problem) {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		if c := strings.Compare(a.File, b.File); c != 0 {
			return c
		}
		return a.Line - b.Line
	})
}

// LeftSaveError says that a save was interrupted once it was decided, and that
// since then other files came to the places of those it replaces. Neither may go
// without a word.
type LeftSaveError struct{ Files []string }

func (e *LeftSaveError) Error() string {
	return fmt.Sprintf("a save was interrupted before all its files were in place, and since then other files came there: %s; to keep these, delete the file %s; to have the interrupted save, move them out of the folder", strings.Join(e.Files, ", "), pendingFile)
}

// NewerError says that a show was written by a newer program. Such a show can
// be neither read nor changed by this one.
type NewerError struct {
	File   string
	Line   int
	Schema int // the file's
	Known  int // the newest this program reads
}

func (e *NewerError) Error() string {
	return fmt.Sprintf("%s:%d: schema %d is newer than this program knows (%d); use a newer emberbeat", e.File, e.Line, e.Schema, e.Known)
}

// NoShowError says that a folder holds no show.
type NoShowError struct {
	Dir string
	Err error // from the storage
}

func (e *NoShowError) Error() string {
	return fmt.Sprintf("%s: there is no show here, for there is no %s; name the folder of a show, or make one with emberbeat new", e.Dir, showFile)
}

// Unwrap gives the storage's error.
func (e *NoShowError) Unwrap() error { return e.Err }

// FileError says that a file of a show could not be read or written.
type FileError struct {
	File  string // relative to the show folder, or the folder itself
	Doing string // "read", "written" …
	Safe  string // what is safe all the same, a sentence; may be empty
	Err   error
}

func (e *FileError) Error() string {
	s := fmt.Sprintf("%s: cannot be %s: %v", e.File, e.Doing, plainCause(e.Err))
	if e.Safe != "" {
		s += "; " + e.Safe
	}
	return s
}

// Unwrap gives the storage's error.
func (e *FileError) Unwrap() error { return e.Err }

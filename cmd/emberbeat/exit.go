package main

import (
	"context"
	"errors"
	"io/fs"
	"os"

	"emberbeat/audio"
	"emberbeat/shows"
)

// The exit codes.
const (
	exitFine        = 0
	exitFindings    = 1 // findings, differences or cues that need an eye
	exitUsage       = 2
	exitUnreadable  = 3 // the show cannot be read, or is newer than the program
	exitFile        = 4 // a file is missing or cannot be written
	exitInterrupted = 130
)

// failure is an error with the exit code it leads to and, where there is one,
// a hint for the user.
type failure struct {
	code int
	err  error
	hint string
}

func (f *failure) Error() string { return f.err.Error() }

func (f *failure) Unwrap() error { return f.err }

// usage marks an error as wrong use.
func usage(err error) error { return withCode(exitUsage, err) }

// fileFailure marks an error as a file that is missing or cannot be written.
func fileFailure(err error) error { return withCode(exitFile, err) }

// withCode marks an error that has no mark yet.
func withCode(code int, err error) error {
	var f *failure
	if err == nil || errors.As(err, &f) {
		return err
	}
	return &failure{code: code, err: err}
}

// hint adds what the user can do next.
func hint(err error, text string) error {
	var f *failure
	if errors.As(err, &f) {
		return &failure{f.code, f.err, text}
	}
	return &failure{exitUsage, err, text}
}

// errFindings says that the command did its work and there is something to
// look at; nothing more is printed.
var errFindings = &failure{code: exitFindings, err: errors.New("there is something to look at")}

// codeOf gives the exit code of an error.
func codeOf(err error) int {
	var f *failure
	switch {
	case err == nil:
		return exitFine
	case errors.Is(err, context.Canceled):
		return exitInterrupted
	case errors.As(err, &f):
		return f.code
	case is[*shows.UnreadableError](err), is[*shows.NewerError](err):
		return exitUnreadable
	case is[*shows.NoShowError](err), is[*shows.FileError](err), is[*shows.NotEmptyError](err), is[*shows.LockedError](err),
		is[*shows.ChangedError](err), is[*shows.LeftSaveError](err), is[*audio.FileError](err), is[*fs.PathError](err), is[*os.LinkError](err):
		return exitFile
	}
	return exitUsage // what else a user can meet is a flag or argument
}

// is reports whether an error of a type is in the chain.
func is[E error](err error) bool {
	var e E
	return errors.As(err, &e)
}

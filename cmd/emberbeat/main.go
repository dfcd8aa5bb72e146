// Command emberbeat plans, checks and prints stage effects programmed to
// music.
//
// Its one rule: this package only talks. It reads flags, calls the rooms that
// do the work and reports what they gave; each verb has a file of its own.
// Start with newRoot.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"regexp"
	"slices"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run is the whole program: it reads the arguments after the program's name
// and gives the exit code.
func run(args []string, in io.Reader, out, err io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	context.AfterFunc(ctx, stop) // a second Ctrl+C ends the program at once
	t := newTalk(in, out, err)
	root := newRoot(t)
	root.SetArgs(placesNoFlags(args))
	return t.finish(ctx, root.ExecuteContext(ctx))
}

// aPlace is a place on the stage plan that begins with a minus.
var aPlace = regexp.MustCompile(`^-[0-9.]+,-?[0-9.]+$`)

// placesNoFlags keeps places such as -12,-3 from being read as flags: a space
// before them, which the reader of places leaves out again.
func placesNoFlags(args []string) []string {
	list := slices.Clone(args)
	for i, arg := range list {
		if aPlace.MatchString(arg) {
			list[i] = " " + arg
		}
	}
	return list
}

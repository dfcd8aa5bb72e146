package main

// How the program speaks: results go to stdout as they are; everything else
// goes to stderr, each line with the program's name in front, without a capital
// at its start or a full stop at its end. A hint stands on a line of its own.
// Colour only marks words that say the same without it, and only on a terminal
// that takes it. Progress shows on a terminal alone.

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
	"golang.org/x/term"
)

const programName = "emberbeat"

// talk is the program's mouth and ears.
type talk struct {
	in       io.Reader
	out, err io.Writer

	json, quiet, verbose, noColor, noInput bool // from the flags

	units string // metres or feet, from the flag or the environment; "" = the show's
	sheet string // format of the sheet that is made; "" = none is
}

func newTalk(in io.Reader, out, err io.Writer) *talk { return &talk{in: in, out: out, err: err} }

// say reports something that is no result; --quiet silences it.
func (t *talk) say(format string, args ...any) {
	if !t.quiet {
		t.line("", fmt.Sprintf(format, args...))
	}
}

// warn reports something the user should see even with --quiet.
func (t *talk) warn(format string, args ...any) {
	t.line(t.paint(t.err, yellow, "warning: "), fmt.Sprintf(format, args...))
}

// line writes text to stderr, each of its lines with the program's name.
func (t *talk) line(word, text string) {
	for _, l := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		fmt.Fprintf(t.err, "%s: %s%s\n", programName, word, l)
		word = ""
	}
}

// finish reports how the command ended and gives the exit code.
func (t *talk) finish(ctx context.Context, err error) int {
	if err == nil {
		return exitFine
	}
	if ctx.Err() != nil && errors.Is(err, context.Canceled) {
		t.line("", "interrupted; nothing half written is left behind")
		return exitInterrupted
	}
	if !errors.Is(err, errFindings) {
		t.line(t.paint(t.err, red, "error: "), err.Error())
		var f *failure
		if errors.As(err, &f) && f.hint != "" {
			t.line("hint: ", f.hint)
		}
	}
	return codeOf(err)
}

// The colours, as SGR parameters of ECMA-48.
const (
	red    = "31"
	yellow = "33"
	bold   = "1"
)

// paint colours a word where w takes colour.
func (t *talk) paint(w io.Writer, colour, word string) string {
	if !t.colourful(w) {
		return word
	}
	return "\x1b[" + colour + "m" + word + "\x1b[0m"
}

// colourful reports whether w is a terminal that takes colour.
func (t *talk) colourful(w io.Writer) bool {
	return !t.noColor && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && isTerminal(w)
}

func isTerminal(v any) bool {
	f, ok := v.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// progress shows how far a piece of work is while it runs, on a terminal only.
// The work calls step with the part that is done, 0 to 1, as often as it likes;
// done takes the bar away.
func (t *talk) progress(what string) (step func(part float64), done func()) {
	if t.quiet || !isTerminal(t.err) {
		return func(float64) {}, func() {}
	}
	const parts = 1000
	shown := mpb.New(mpb.WithOutput(t.err), mpb.WithWidth(40))
	bar := shown.New(parts, mpb.BarStyle(), mpb.BarRemoveOnComplete(),
		mpb.PrependDecorators(decor.Name(what+" ")), mpb.AppendDecorators(decor.Percentage()))
	step = func(part float64) { bar.SetCurrent(int64(min(max(part, 0), 1) * (parts - 1))) } // only done completes it
	return step, func() {
		bar.SetCurrent(parts)
		shown.Wait()
	}
}

package main

import (
	"fmt"
	"io"
	"path/filepath"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/audio/match"
	"emberbeat/shows/report/matched"
	"emberbeat/shows/report/wording"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

func matchCommand(t *talk) *cobra.Command {
	return &cobra.Command{
		Use:   "match OLD NEW",
		Short: "say where the stretches of an old recording are in a new one",
		Long: `Compare an old recording of a song with a new one, and say where each stretch of
the old one is in the new one: what was cut, repeated, moved, added, or made
faster or slower. What is called exact is shown by the waveform itself; what is
called matched, by the spectrum or beat by beat. A run that is sure to less than
80 % wants a look. Another song gives an answer without runs.

No show is touched, and names of files say nothing. The exit code is 0 whenever
both recordings could be read and compared, whatever came of it.`,
		Example: `  emberbeat match tour/audio/kettle-lightning.ogg song.wav
  emberbeat match song.wav song.wav --json`,
		Args: takes("OLD", "NEW"),
		RunE: func(c *cobra.Command, args []string) error {
			debug.SetMemoryLimit(softLimit)
			var sides [2]*match.Side
			for i, path := range args {
				step, done := t.progress("reading " + filepath.Base(path))
				side, warnings, err := session.ReadSide(c.Context(), path, step)
				done()
				if err != nil {
					return err
				}
				for _, w := range warnings {
					t.warn("%s: %s", path, w)
				}
				sides[i] = side
			}
			m, err := match.Match(c.Context(), sides[0], sides[1])
			if err != nil {
				return err
			}
			return t.writeOut("", func(w io.Writer) error {
				r := matched.NewRecording(m)
				if t.json {
					return wording.WriteJSON(w, r)
				}
				return describeMatch(w, args[0], args[1], r)
			})
		},
	}
}

// describeMatch says the same in lines for people: what the new recording plays
// from beginning to end, and what was done to the old one.
func describeMatch(w io.Writer, old, new string, r *matched.Recording) error {
	clock := func(s wording.Seconds) string { return timeline.Time(s).Clock(3) }
	lines := []string{fmt.Sprintf("old       %s, %s", old, clock(r.Old)), fmt.Sprintf("new       %s, %s", new, clock(r.New)), "answer    " + r.Answer}
	head := "plays     "
	for _, run := range r.Runs {
		how := fmt.Sprintf("%s, sure to %.0f %%", run.Kind, 100*run.Confidence)
		if run.Look {
			how += ": look at it"
		}
		lines = append(lines, fmt.Sprintf("%s%s to %s  %s to %s of the old one, %s", head, clock(run.New), clock(run.New+run.Length), clock(run.Old), clock(run.OldEnd()), how))
		head = "          "
	}
	for _, e := range r.Edits {
		lines = append(lines, fmt.Sprintf("%-10s%s", e.What, e.Text))
	}
	_, err := fmt.Fprintln(w, strings.Join(lines, "\n"))
	return err
}

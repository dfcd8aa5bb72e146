package main

import (
	"io"
	"path/filepath"
	"runtime/debug"

	"github.com/spf13/cobra"

	"emberbeat/audio/match"
	"emberbeat/shows/report/wording"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

func matchCommand(t *talk) *cobra.Command {
	return &cobra.Command{
		Use:   "match OLD NEW",
		Short: "say where the stretches of an old recording are in a new one",
		Example: `  emberbeat match old.wav new.wav
  emberbeat match old.wav new.wav --json`,
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
				return wording.WriteJSON(w, newMatched(m))
			})
		},
	}
}

// matched is a time map as JSON; times are seconds.
type matched struct {
	Runs  []matchedRun `json:"runs"`
	Lost  []stretch    `json:"lost"`
	Added []stretch    `json:"added"`
}

type matchedRun struct {
	Old        decimal `json:"old"`
	New        decimal `json:"new"`
	Length     decimal `json:"length"` // in the new recording
	Rate       float64 `json:"rate"`   // old seconds in one new second
	Confidence decimal `json:"confidence"`
	Kind       string  `json:"kind"` // exact or matched
}

type stretch struct {
	From decimal `json:"from"`
	To   decimal `json:"to"`
}

func newMatched(m *timeline.TimeMap) *matched {
	n := &matched{Runs: []matchedRun{}, Lost: []stretch{}, Added: []stretch{}}
	for _, r := range m.Runs {
		kind := "matched"
		if r.Exact {
			kind = "exact"
		}
		n.Runs = append(n.Runs, matchedRun{decimal(r.Old.Seconds()), decimal(r.New.Seconds()), decimal((r.NewEnd - r.New).Seconds()),
			(r.OldEnd - r.Old).Seconds() / (r.NewEnd - r.New).Seconds(), decimal(float64(r.Sure) / 1000), kind})
	}
	for _, s := range m.Lost() {
		n.Lost = append(n.Lost, stretch{decimal(s.From.Seconds()), decimal(s.To.Seconds())})
	}
	for _, s := range m.Added() {
		n.Added = append(n.Added, stretch{decimal(s.From.Seconds()), decimal(s.To.Seconds())})
	}
	return n
}

package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"emberbeat/render/sheet"
	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
	"emberbeat/shows/session"
)

func tonightCommand(t *talk) *cobra.Command {
	var (
		pick choice
		out  string
		thin float64
	)
	c := &cobra.Command{
		Use:   "tonight SHOW --night N",
		Short: "say what a night plays, loads, swaps and leaves open",
		Long: `Print what the crew of a night must know before it starts: the songs in order
with what is cut, swapped and lost of them; what to load, output by output; what
stands in the rig unused; where supplies are swapped; arms, and what must be
closed by hand; how many findings there are; which printed sheets have changed
since they were marked; and who signs.

A song is called thin when more of its hits on tour are lost than the rule
thin-song bears (emberbeat explain thin-song); --thin asks for another share.
Without --night it is the tour with its main set. The exit code is 1 where
somebody must look: a finding nobody has accepted, a lost cue, a thin song.`,
		Example: `  emberbeat tonight tour --night saltglass-first
  emberbeat tonight tour --night 2031-05-09 --thin 0.1 --json`,
		Args: takes("SHOW"),
		RunE: func(c *cobra.Command, args []string) error {
			if !c.Flags().Changed("thin") {
				thin = night.ThinShare
			} else if !(thin >= 0 && thin <= 1) {
				return usage(fmt.Errorf("--thin: %v is no share; write a number from 0 to 1", thin))
			}
			s, err := t.open(args[0], true)
			if err != nil {
				return err
			}
			defer s.Close() // cannot fail: nothing was locked
			page, err := tonight(c.Context(), s, &pick, thin)
			if err != nil {
				return err
			}
			write := page.WriteText
			if t.json {
				write = page.WriteJSON
			}
			if err := t.writeOut(out, write); err != nil {
				return err
			}
			if page.NeedsAnEye() {
				return errFindings
			}
			return nil
		},
	}
	pick.nightFlag(c)
	pick.todayFlag(c)
	outFlag(c, &out)
	c.Flags().Float64Var(&thin, "thin", 0, "share of a song's hits that may be lost before it is called thin (default: that of the rule thin-song)")
	return c
}

func tonight(ctx context.Context, s *session.Session, pick *choice, thin float64) (*night.Tonight, error) {
	p, _, err := pick.planFor(s.Show())
	if err != nil {
		return nil, err
	}
	facts, found, err := checkPlan(ctx, s, p, pick.today)
	if err != nil {
		return nil, err
	}
	page, err := night.NewTonight(p, report.NewFindings(p, facts, found, nil, report.Filter{}), thin, sheet.PrintStates(p, false))
	return page, usage(err)
}

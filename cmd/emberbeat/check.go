package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/report"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

func checkCommand(t *talk) *cobra.Command {
	var (
		pick   choice
		out    string
		isLong bool
		each   bool
	)
	c := &cobra.Command{
		Use:   "check SHOW",
		Short: "say what does not fit, and why",
		Long: `Check the plan of a show against every rule, and the recordings against what the
songs were made to. A finding is one line: where it stands, how serious it is,
the rule, and what is wrong. Findings of one cause stand together, worst first,
and of many the first three stand for all: --each writes every one, in the order
of the set. --long adds a drawing, the limit with its place, and what would make
it valid.

No findings means only that these rules found no conflict. The exit code is 1
where there is a finding that the night has not accepted.`,
		Example: `  emberbeat check tour
  emberbeat check tour --song 1 --long
  emberbeat check tour --json --out findings.json`,
		Args: takes("SHOW"),
		RunE: func(c *cobra.Command, args []string) error {
			s, err := t.open(args[0], true)
			if err != nil {
				return err
			}
			defer s.Close() // cannot fail: nothing was locked
			for _, name := range s.Strays() {
				t.warn("%s was left behind by a save or an add that was interrupted, unless one is going on; the next change takes it away", name)
			}
			unnamed, err := s.Unnamed()
			if err != nil {
				t.warn("whether a recording was left behind is not known: %v", err)
			}
			for _, name := range unnamed {
				t.warn("%s is named by no song, nor by an older save on this computer: an add or carry that was interrupted may have left it; do that again, or delete the file", name)
			}
			list, err := findings(c.Context(), s, &pick)
			if err != nil {
				return err
			}
			return t.report(list, isLong, each, out)
		},
	}
	pick.nightFlag(c)
	pick.songFlag(c)
	pick.barsFlag(c)
	pick.todayFlag(c)
	outFlag(c, &out)
	c.Flags().BoolVar(&each, "each", false, "each finding on a line of its own, in the order of the set")
	c.Flags().BoolVar(&isLong, "long", false, "each finding with a drawing, its limit and what would be valid")
	return c
}

// findings checks what is chosen, and all that it takes to see it.
func findings(ctx context.Context, s *session.Session, pick *choice) (*report.Findings, error) {
	p, f, err := pick.planFor(s.Show())
	if err != nil {
		return nil, err
	}
	facts, found, err := checkPlan(ctx, s, p, pick.today)
	if err != nil {
		return nil, err
	}
	places := s.Places()
	if p.AsPlayed {
		places = shows.Places{} // of the show as it is now
	}
	return report.NewFindings(p, facts, found, places, f), nil
}

// checkPlan looks at the recordings and asks every rule. Today is the day that
// the user gives, and never that of the machine: the same call prints the same.
func checkPlan(ctx context.Context, s *session.Session, p *timeline.Plan, today string) (rule.Facts, []rule.Finding, error) {
	if _, ok := timeline.ParseDay(today); today != "" && !ok {
		return rule.Facts{}, nil, usage(fmt.Errorf("--today: %q is no day; write it as 2031-05-09", today))
	}
	facts := s.Facts(ctx)
	facts = facts.For(p)
	facts.Today = today
	if err := ctx.Err(); err != nil {
		return facts, nil, err
	}
	return facts, rule.Check(p, facts), nil
}

func (t *talk) report(list *report.Findings, isLong, each bool, out string) error {
	write := list.WriteGrouped
	switch {
	case t.json:
		write = list.WriteJSON
	case isLong:
		write = list.WriteLong
	case each:
		write = list.WriteShort
	}
	if err := t.writeOut(out, write); err != nil {
		return err
	}
	if len(list.List) > 0 {
		t.say("%s", list.Checked)
	}
	if list.Open() > 0 {
		return errFindings
	}
	return nil
}

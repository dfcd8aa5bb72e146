package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"emberbeat/shows/report/load"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// refilling is what the refill verb is asked to do, besides its operation.
type refilling struct {
	choice
	dry bool
}

func refillCommand(t *talk) *cobra.Command {
	r, v := &refilling{}, operatedBy("refill")
	c := &cobra.Command{
		Use:   "refill SHOW [SUPPLY]",
		Short: "plan a refill or a change of cylinders in a gap of the set",
		Long: `Plan a refill, or a change of cylinders, in the gap after a song: in the set on
tour, or for one night. Levels are computed with it, and check looks at whether
the gap is long enough and what plays near the supply meanwhile.

Without SUPPLY, every supply is listed with what it holds, what the plan draws
from it, planned refills, where it must be swapped, and the refills that would
do instead. --after names the song; --kg is what it holds afterwards, all its
units full if not given. With --leave-out, a night does not do the set's refill.`,
		Example: `  emberbeat refill tour
  emberbeat refill tour co2-left --after "Lanterns Over the Weir" --minutes 4 --by "rigger 2" --dry-run
  emberbeat refill tour co2-left --after 2 --leave-out --night saltglass-first --dry-run`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 1 {
				return takes("SHOW", "SUPPLY")(c, args)
			}
			return takes("SHOW")(c, args)
		},
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 1 {
				return t.listRefills(args[0], r)
			}
			if c.Flags().Lookup("after").Value.String() == "" {
				return hint(usage(fmt.Errorf("no song is chosen")), "add --after with a title, folder, id or number: the refill starts at its end")
			}
			return t.operate(c, v, args, r.dry, looking{}, r.on)
		},
		ValidArgsFunction: v.complete(),
	}
	r.nightFlag(c)
	v.flags(c)
	dryRunFlag(c, &r.dry)
	return c
}

// on gives the show as the chosen night has it.
func (r *refilling) on(s *session.Session, _ *operation.Operation) (*timeline.Plan, timeline.Ref, error) {
	p, err := r.plan(s.Show())
	return p, timeline.Ref{}, err
}

// plan compiles the show for the chosen night.
func (r *refilling) plan(s *timeline.Show) (*timeline.Plan, error) {
	n, err := r.nightOf(s)
	if err != nil {
		return nil, err
	}
	return timeline.Compile(s, n), nil
}

func (t *talk) listRefills(dir string, r *refilling) error {
	l, err := t.load(dir)
	if err != nil {
		return err
	}
	p, err := r.plan(l.Show)
	if err != nil {
		return err
	}
	list := load.NewRefillList(p)
	return t.writeOut("", t.textOrJSON(list, list.WriteText))
}

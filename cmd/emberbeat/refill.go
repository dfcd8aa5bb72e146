package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

// refilling is what the refill verb is asked to plan.
type refilling struct {
	choice
	after, by   string
	kg, minutes float64
	out, dry    bool
}

func refillCommand(t *talk) *cobra.Command {
	r := &refilling{}
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
			return t.change(args[0], "refill", r.dry, func(p *timeline.Plan) (timeline.Edit, error) { return r.edit(p, args[1]) })
		},
	}
	r.nightFlag(c)
	c.Flags().StringVar(&r.after, "after", "", "the song after which it starts: title, folder, id or number")
	c.Flags().Float64Var(&r.kg, "kg", 0, "what the supply holds afterwards (default: all its units full)")
	c.Flags().Float64Var(&r.minutes, "minutes", 0, "how long it takes")
	c.Flags().StringVar(&r.by, "by", "", "who does it")
	c.Flags().BoolVar(&r.out, "leave-out", false, "leave the set's refill there out for the night")
	dryRunFlag(c, &r.dry)
	return c
}

// plan compiles the show for the chosen night.
func (r *refilling) plan(s *timeline.Show) (*timeline.Plan, error) {
	n, err := r.nightOf(s)
	if err != nil {
		return nil, err
	}
	return timeline.Compile(s, n), nil
}

func (r *refilling) edit(tour *timeline.Plan, supply string) (timeline.Edit, error) {
	p, err := r.plan(tour.Show)
	if err != nil {
		return nil, err
	}
	switch {
	case r.after == "":
		return nil, hint(usage(fmt.Errorf("no song is chosen")), "add --after with a title, folder, id or number: the refill starts at its end")
	case !(r.kg >= 0 && r.kg < 1e6):
		return nil, fmt.Errorf("--kg: %v is no mass; write kg, 0 or more", r.kg)
	case !(r.minutes >= 0 && r.minutes <= 1440):
		return nil, fmt.Errorf("--minutes: %v is not from 0 to 1440", r.minutes)
	case r.out && p.Night == nil:
		return nil, fmt.Errorf("--leave-out is for one night; on tour, take the refill out of the set's refills with edit")
	}
	ref, err := p.FindOneOf(supply, "supply")
	if err != nil {
		return nil, err
	}
	song, err := p.FindSong(r.after)
	if err != nil {
		return nil, err
	}
	return p.PlanRefill(timeline.Refill{Supply: ref.ID, After: song.ID, Kg: r.kg + 0, Minutes: r.minutes + 0, By: r.by, Out: r.out}), nil
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
	list := sheet.NewRefillList(p)
	return t.writeOut("", t.textOrJSON(list, list.WriteText))
}

package main

import (
	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/timeline"
)

func groupCommand(t *talk) *cobra.Command {
	var (
		order string
		dry   bool
	)
	c := &cobra.Command{
		Use:   "group SHOW NAME PLACED…",
		Short: "make a group of placed effects by a pattern",
		Long: `Make a group that lanes and phrases can aim at. A group named among PLACED
stands for its members.

  all            as named
  left-to-right  by where they stand, from the audience's left; right-to-left
  odd, even      every second one from the left
  inside-out     the middle first; outside-in the ends first`,
		Example: `  emberbeat group tour "outer comets" "Comet 7" "Comet 8" "Comet 1"
  emberbeat group tour "every second jet" jets-all --order odd
  emberbeat group tour "flames, inside out" flames-all --order inside-out --dry-run`,
		Args: takes("SHOW", "NAME", "PLACED…"),
		RunE: func(_ *cobra.Command, args []string) error {
			return t.change(args[0], "group", dry, func(p *timeline.Plan) (timeline.Edit, error) {
				placed, err := placedNamed(p, args[2:])
				return timeline.AddGroup(shows.NewIDFor(p.Show, "group", ""), args[1], placed, timeline.Order(order)), err
			})
		},
	}
	orderFlag(c, &order)
	dryRunFlag(c, &dry)
	return c
}

func orderFlag(c *cobra.Command, order *string) {
	c.Flags().StringVar(order, "order", string(timeline.OrderAll), "all, left-to-right, right-to-left, odd, even, inside-out, outside-in")
	flagWords(c, "order", wordsOf(timeline.Orders())...)
}

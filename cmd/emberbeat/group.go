package main

import "github.com/spf13/cobra"

func groupCommand(t *talk) *cobra.Command {
	var dry bool
	v := operatedBy("group")
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
		Args:              v.takes(),
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			return t.operate(c, v, args, dry, looking{never: true}, onShow)
		},
	}
	v.flags(c)
	dryRunFlag(c, &dry)
	return c
}

package main

import "github.com/spf13/cobra"

func armsCommand(t *talk) *cobra.Command {
	var dry bool
	v := operatedBy("arms")
	c := &cobra.Command{
		Use:   "arms SHOW [SONG…]",
		Short: "lay the arm and condition windows that the hits need",
		Long: `Lay, widen and join the arm and condition windows that the hits of songs need,
from the leads of their device types, as one step. What is armed is on paper:
nothing is sent anywhere.

A window that was laid follows the hits: whatever moves them, or adds or removes
some, lays it anew. One that you made, moved or shortened yourself is yours: it
is never touched, and a hit that it serves gets no other.

Windows are joined over gaps of up to 10 s (emberbeat rule SHOW arm-up gap=8),
and never over a marker whose name begins with "hold" or "re-entry", nor over
the time at which a mark or a clear zone of a venue begins to count.
--dry-run says what would be laid, and for how long slots are on before and
after.`,
		Example: `  emberbeat arms tour --dry-run
  emberbeat arms tour "Kettle Lightning" --role arm --dry-run`,
		Args:              func(c *cobra.Command, args []string) error { return takes("SHOW")(c, args[:min(len(args), 1)]) },
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			return t.operate(c, v, args, dry, looking{always: true}, onShow)
		},
	}
	v.flags(c)
	dryRunFlag(c, &dry)
	return c
}

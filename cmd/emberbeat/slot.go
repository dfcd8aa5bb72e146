package main

import "github.com/spf13/cobra"

func slotCommand(t *talk) *cobra.Command {
	v := operatedBy("slot")
	v.column = 26
	var dry bool
	c := &cobra.Command{
		Use:   "slot SHOW ACTION …",
		Short: "say what the slots of a device type or device mean",
		Long: `Say what the slots of a device type are, and what this show makes of one slot of
its devices. SLOT is block.number, such as 1.3.

` + v.help() + `

TYPE is a device type, DEVICE a device or a beginning of names with * at the end
of it. What is not given of a slot stays as it is. --dry-run lists all slots as
they would be.`,
		Example: `  emberbeat slot tour add "Flame head" --role spare --name reserve --dry-run
  emberbeat slot tour own 1.2 "flame head 1" --name "arm, left" --dry-run`,
		Args:              v.takes(),
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			return t.operate(c, v, args, dry, looking{}, onShow)
		},
	}
	v.flags(c)
	dryRunFlag(c, &dry)
	return c
}

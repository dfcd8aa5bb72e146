package main

import (
	"github.com/spf13/cobra"
)

func confirmCommand(t *talk) *cobra.Command {
	var dry bool
	v := operatedBy("confirm")
	c := &cobra.Command{
		Use:   "confirm SHOW SONG",
		Short: "say that a song's cues stand right on its recording",
		Long: `Say that the cues of a song stand right on the recording it names now.

A song notes the recording that its first cues were placed against. Where it is
made to name another one, check tells that until the cues are confirmed, or the
old recording is named again. Hear them first, and move those that are off.`,
		Example: `  emberbeat confirm tour "Lanterns Over the Weir" --dry-run`,
		Args:    takes("SHOW", "SONG"),
		RunE: func(c *cobra.Command, args []string) error {
			return t.operate(c, v, args, dry, looking{always: true}, onShow)
		},
		ValidArgsFunction: v.complete(),
	}
	v.flags(c)
	dryRunFlag(c, &dry)
	return c
}

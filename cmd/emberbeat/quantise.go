package main

import "github.com/spf13/cobra"

func quantiseCommand(t *talk) *cobra.Command {
	var ch choice
	var dry bool
	v := operatedBy("quantise")
	c := &cobra.Command{
		Use:   "quantise SHOW --song S",
		Short: "put cues on the grid, or on hits that are heard",
		Long: `Put cues of a song, all its hits or those of --cues, onto the nearest step
of the grid, or onto hits that are heard in its recording. A strong hit draws
from farther than a weak one.

A cue on the grid stands on its beat; a cue on a hit stands at the time of what
is heard, which no correction of the grid moves. A cue stays where no hit is
near, and where another one stands already: --dry-run says which.`,
		Example: `  emberbeat quantise tour --song 1 --dry-run
  emberbeat quantise tour --song 1 --snap hits --cues 13.1,17.1 --dry-run
  emberbeat quantise tour --song 1 --snap both --step 1/2 --strength strong --dry-run`,
		Args:              v.takes(),
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			return t.operate(c, v, args, dry, looking{}, ch.onSong)
		},
	}
	ch.songFlag(c)
	v.flags(c)
	dryRunFlag(c, &dry)
	return c
}

package main

import "github.com/spf13/cobra"

// phrasing is what the phrase verb is asked to do, besides its operation.
type phrasing struct {
	choice
	dry bool
}

func phraseCommand(t *talk) *cobra.Command {
	ph, v := &phrasing{}, operatedBy("phrase")
	c := &cobra.Command{
		Use:   "phrase SHOW --song S --lane L --at PLACE --until PLACE",
		Short: "run a figure over a group: chase, fan, mirror …",
		Long: `Make the cues of a figure over a group of effects, one step at each division of
the beat from --at to --until, the last place included.

  chase      one after the other      mirror     both ends first, then inwards
  fan        the middle first         alternate  odd ones, then even ones
  burst      all, every time          sustained  all, open from start to end
  random     each once in a shuffled order, then anew; --seed gives another one

The cues are ordinary ones that stay a group. --again runs a phrase anew with
the settings that are given, the others as they were. Where the division is too
fast for the effects to recover in this song, nothing is placed, and the fastest
common division that works is named.`,
		Example: `  emberbeat phrase tour --song 1 --lane "Jet chase" --group jets-all --at 3.1 --until 5.1 --every 1 --shape chase --order left-to-right
  emberbeat phrase tour --song 1 --lane "Jet chase" --group jets-all --at 3.1 --until 4.1 --every 2 --shape mirror --dry-run`,
		Args: takes("SHOW"),
		RunE: func(c *cobra.Command, args []string) error {
			return t.operate(c, v, args, ph.dry, looking{never: true}, ph.onSong)
		},
	}
	ph.songFlag(c)
	v.flags(c)
	dryRunFlag(c, &ph.dry)
	return c
}

package main

import "github.com/spf13/cobra"

func copyCommand(t *talk) *cobra.Command {
	var dry bool
	v := operatedBy("copy")
	c := &cobra.Command{
		Use:   "copy SHOW FROM TO",
		Short: "copy cues from song to song, by bars or by section",
		Long: `Copy the cues of some bars of the song FROM, or of its sections of a name, into
the song TO, or elsewhere in the same song. They keep their places in their
bars, on the beats of TO, and their arm, condition and warm-up windows come with
them.

A cue is not placed where TO has fewer bars, another metre, or a cue alike;
--dry-run says what goes where, and what does not. Lanes that TO has not are
made. Cues that a phrase has made come as plain cues.`,
		Example: `  emberbeat copy tour "Slow Matches" "Tidewater Engine" --bars 9..12 --dry-run
  emberbeat copy tour 1 2 --bars 9..12 --at 17
  emberbeat copy tour "Slow Matches" "Tidewater Engine" --section Chorus --dry-run`,
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

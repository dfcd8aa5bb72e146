package main

import "github.com/spf13/cobra"

func arrangeCommand(t *talk) *cobra.Command {
	var dry bool
	v := operatedBy("arrange")
	c := &cobra.Command{
		Use:   "arrange SHOW ACTION …",
		Short: "make versions of a song: whose cues they play, and where",
		Long: `Make versions of a song: an album cut, a festival edit, a new mix. A version is
a song of its own, with its recording, beats and start. It shares the cues of
the song it is a version of, at their places in its own recording, or has cues
of its own.

` + v.help() + `

"emberbeat set SHOW version" chooses the version that a set plays, and
"emberbeat night SHOW version" that of one night.`,
		Example: `  emberbeat arrange tour new "Slow Matches" "festival edit"
  emberbeat arrange tour map "Slow Matches (festival edit)" "0..1:02.5 to=0.4..1:02.9" --dry-run
  emberbeat arrange tour separate "Slow Matches (festival edit)"
  emberbeat arrange tour share "Slow Matches (festival edit)" --dry-run`,
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

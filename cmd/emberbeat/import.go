package main

import (
	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/intake"
	"emberbeat/timeline"
)

func importCommand(t *talk) *cobra.Command {
	var pick choice
	var dry bool
	c := &cobra.Command{
		Use:   "import SHOW FILE --song S",
		Short: "take beats, sections, markers or a start from another program's file",
		Long: `Take what a file of another program says about a song:

  MIDI file      its tempo map and time signatures replace the beat map,
                 markers on bar lines replace the sections, other markers and
                 cue points become markers; tick 0 is the start of the audio
  WAV file       the time reference of a broadcast WAV sets the timecode at
                 which the song starts, labels of cue points become markers

The content tells the kind of file, not the name. What changed is printed;
--dry-run only prints.`,
		Example: `  emberbeat import tour song.mid --song 1 --dry-run
  emberbeat import tour song.wav --song 1`,
		Args: takes("SHOW", "FILE"),
		RunE: func(_ *cobra.Command, args []string) error {
			nothing := false
			err := t.change(args[0], "import", dry, func(p *timeline.Plan) (timeline.Edit, error) {
				song, err := pick.songOf(p)
				if err != nil {
					return nil, err
				}
				found, err := intake.ReadFile(args[1], p.Rate)
				if err != nil {
					return nil, fileFailure(err)
				}
				for _, note := range found.Notes {
					t.warn("%s: %s", args[1], note)
				}
				nothing = found.Empty()
				return found.Edit(song, func(kind string) timeline.ID { return shows.NewIDFor(p.Show, kind, song.ID) }), nil
			})
			if err == nil && nothing {
				t.warn("%s says nothing that a song could take", args[1])
				return errFindings
			}
			return err
		},
	}
	pick.songFlag(c)
	dryRunFlag(c, &dry)
	return c
}

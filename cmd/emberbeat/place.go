package main

import (
	"github.com/spf13/cobra"

	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// placing is what the place verb is asked to do, besides its operation.
type placing struct {
	choice
	dry bool
}

func placeCommand(t *talk) *cobra.Command {
	pl, v := &placing{}, operatedBy("place")
	c := &cobra.Command{
		Use:   "place SHOW --song S --lane L --at PLACE",
		Short: "place cues on a lane",
		Long: `Place cues: the instants at which the audience sees the effect. When each
output must be commanded follows from the lead times.

--at takes bars (17.1, 17.3+1/2), times in the song (1:02.5, 12.5s) or timecode
(03:01:22:10), several with commas. Only --snap puts
them elsewhere; times are rounded to 0.1 ms. --every repeats from each place up
to and including --until.

A lane that is not there yet is made when --target names what it aims at: a
placed effect or a group.`,
		Example: `  emberbeat place tour --song 1 --lane Accents --target jets-all --at 17.1,18.1
  emberbeat place tour --song 1 --lane Accents --target jets-all --at 9.1 --every "2 beats" --until 12.4
  emberbeat place tour --song 1 --lane Accents --target jets-all --at 1:02.5 --open 0.8 --dry-run`,
		Args: takes("SHOW"),
		RunE: func(c *cobra.Command, args []string) error {
			return t.operate(c, v, args, pl.dry, looking{}, pl.onSong)
		},
	}
	pl.songFlag(c)
	v.flags(c)
	dryRunFlag(c, &pl.dry)
	return c
}

// onSong finds the song that an operation is done to.
func (c *choice) onSong(s *session.Session, _ *operation.Operation) (*timeline.Plan, timeline.Ref, error) {
	p := s.Plan("")
	song, err := c.songOf(p)
	if err != nil {
		return nil, timeline.Ref{}, err
	}
	return p, timeline.Ref{Kind: "song", ID: song.ID}, nil
}

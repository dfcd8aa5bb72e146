package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/timeline"
)

// placing is what the place verb is asked to do.
type placing struct {
	choice
	at                       []string
	lane, target, article    string
	every, until, open, note string
	level                    int
	dry                      bool
	positions                []timeline.Position
	stride                   *timeline.Stride
	end                      *timeline.Position
	openTime                 timeline.Time
}

func placeCommand(t *talk) *cobra.Command {
	pl := &placing{}
	c := &cobra.Command{
		Use:   "place SHOW --song S --lane L --at PLACE",
		Short: "place cues on a lane",
		Long: `Place cues: the instants at which the audience sees the effect. When each
output must be commanded follows from the lead times.

--at takes bars (17.1, 17.3+1/2), times in the song (1:02.5, 12.5s) or timecode
(03:01:22:10), several with commas. Nothing is snapped; times are rounded to
0.1 ms. --every repeats from each place up to and including --until.

A lane that is not there yet is made when --target names what it aims at: a
placed effect or a group.`,
		Example: `  emberbeat place tour --song 1 --lane Accents --target jets-all --at 17.1,18.1
  emberbeat place tour --song 1 --lane Accents --target jets-all --at 9.1 --every "2 beats" --until 12.4
  emberbeat place tour --song 1 --lane Accents --target jets-all --at 1:02.5 --open 0.8 --dry-run`,
		Args: takes("SHOW"),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := pl.read(); err != nil {
				return usage(err)
			}
			return t.change(args[0], "place cues", pl.dry, pl.edit)
		},
	}
	f := c.Flags()
	pl.songFlag(c)
	f.StringVar(&pl.lane, "lane", "", "lane, by name or id; made if missing and --target is given")
	f.StringSliceVar(&pl.at, "at", nil, "where: bars, times or timecodes, separated by commas")
	f.StringVar(&pl.target, "target", "", "placed effect or group, by name or id (default: the lane's)")
	f.StringVar(&pl.article, "article", "", "article, by name or id (default: the lane's)")
	f.StringVar(&pl.every, "every", "", `repeat: "1bar", "2 beats", "0.5s"`)
	f.StringVar(&pl.until, "until", "", "last place to repeat to, included")
	f.StringVar(&pl.open, "open", "", "open time in seconds (default: the lane's or article's)")
	f.IntVar(&pl.level, "level", 0, "percent (default: the article's)")
	f.StringVar(&pl.note, "note", "", "note on each cue")
	dryRunFlag(c, &pl.dry)
	return c
}

// read understands the flags.
func (pl *placing) read() (err error) {
	switch {
	case pl.lane == "":
		return fmt.Errorf("no lane is chosen; add --lane with its name or id")
	case len(pl.at) == 0:
		return fmt.Errorf("no place is given; add --at with bars such as 17.1 or times such as 1:02.5")
	case (pl.every == "") != (pl.until == ""):
		return fmt.Errorf("--every and --until belong together")
	}
	for _, text := range pl.at {
		p, err := timeline.ParsePosition(text)
		if err != nil {
			return err
		}
		pl.positions = append(pl.positions, p)
	}
	if pl.every != "" {
		if err := pl.readRepeat(); err != nil {
			return err
		}
	}
	if pl.open != "" {
		pl.openTime, err = timeline.ParseTime(pl.open)
	}
	return err
}

func (pl *placing) readRepeat() error {
	stride, err := timeline.ParseStride(pl.every)
	if err != nil {
		return err
	}
	end, err := timeline.ParsePosition(pl.until)
	pl.stride, pl.end = &stride, &end
	return err
}

func (pl *placing) edit(p *timeline.Plan) (timeline.Edit, error) {
	song, err := pl.songOf(p)
	if err != nil {
		return nil, err
	}
	return p.Place(timeline.Placing{Song: song.ID, Lane: pl.lane, Target: pl.target, At: pl.positions, Every: pl.stride, Until: pl.end,
		Article: pl.article, Open: pl.openTime, Level: pl.level, Note: pl.note},
		func(kind string, song timeline.ID) timeline.ID { return shows.NewIDFor(p.Show, kind, song) }), nil
}

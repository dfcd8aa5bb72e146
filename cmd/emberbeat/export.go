package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

func exportCommand(t *talk) *cobra.Command {
	var (
		pick              choice
		format, rate, out string
		sound             soundFlags
	)
	c := &cobra.Command{
		Use:   "export SHOW SHEET",
		Short: "write a cue list, a timecode stripe, ticks or a MIDI file",
		Long: `Write a sheet for others to read.

  cue-list   every command in the order it is played, with the timecode of the
             command, what rounding to the frame adds, and the hit
  ltc        linear timecode as a WAV file: of a song with --song, else of the
             whole running order with silence between songs; timecode alone
  ticks      a WAV file for rehearsal with a click on every hit; it starts with
             the audio of the song, or of the first one
  midi       a song's tempo map, time signatures, sections and markers as a
             Standard MIDI File, tick 0 at the start of its audio

CSV follows RFC 4180: a head (show, revision, venue, date, rate), then one line
of column names, then the commands. No cell can be run as a formula: times
before the audio are written "before 0.4500", residuals "late 10.00".

--rate writes the timecode at another rate: songs keep the labels they start at
and their music keeps its times.`,
		Example: `  emberbeat export tour cue-list --format csv --out cues.csv
  emberbeat export tour cue-list --format csv --rate 29.97df --song 1
  emberbeat export tour cue-list --format json --out -
  emberbeat export tour ltc --song 1 --rate 25 --level -18 --out ltc.wav
  emberbeat export tour ticks --song 1 --out ticks.wav
  emberbeat export tour midi --song 1 --out song.mid`,
		Args: takes("SHOW", "SHEET"),

		ValidArgsFunction: words(nil, func() []string { return append([]string{"cue-list"}, soundWords()...) }),
		RunE: func(_ *cobra.Command, args []string) error {
			if write := soundSheets[args[1]]; write != nil {
				return t.exportSound(args[0], soundExport{args[1], format, rate, out, &pick, &sound}, write)
			}
			if args[1] != "cue-list" {
				return usage(fmt.Errorf("%q is no sheet; there are cue-list, %s", args[1], strings.Join(soundWords(), ", ")))
			}
			if t.json && format == "" {
				format = "json"
			}
			l, err := t.load(args[0])
			if err != nil {
				return err
			}
			list, err := cueList(l.Show, &pick, rate)
			if err != nil {
				return err
			}
			switch format {
			case "", "csv":
				return t.writeOut(out, list.WriteCSV)
			case "json":
				return t.writeOut(out, list.WriteJSON)
			}
			return usage(fmt.Errorf("a cue list has no format %q; write csv or json", format))
		},
	}
	c.Flags().StringVar(&format, "format", "", "csv or json (default csv)")
	c.Flags().StringVar(&rate, "rate", "", "timecode rate: "+rateNames()+" (default: the show's)")
	pick.nightFlag(c)
	pick.songFlag(c)
	pick.barsFlag(c)
	outFlag(c, &out)
	sound.flags(c)
	flagWords(c, "format", "csv", "json")
	flagWords(c, "rate", rateWords()...)
	return c
}

func cueList(s *timeline.Show, pick *choice, rateText string) (*sheet.CueList, error) {
	p, f, err := planAt(s, pick, rateText)
	if err != nil {
		return nil, err
	}
	return sheet.NewCueList(p, f)
}

// planAt compiles the show for what is chosen, at a timecode rate; "" is the
// show's own.
func planAt(s *timeline.Show, pick *choice, rateText string) (*timeline.Plan, sheet.Filter, error) {
	night, err := pick.nightOf(s)
	if err != nil {
		return nil, sheet.Filter{}, err
	}
	rate := s.Head.Rate
	if rateText != "" {
		if rate, err = timeline.ParseRate(rateText); err != nil {
			return nil, sheet.Filter{}, usage(err)
		}
	}
	if s, err = sheet.AtRate(s, night, rate); err != nil {
		return nil, sheet.Filter{}, hint(usage(err), "give the song a start that exists at "+rate.String()+", with emberbeat edit SHOW song:NAME start=hh:mm:ss:ff")
	}
	return pick.planFor(s)
}

func rateNames() string { return strings.Join(rateWords(), ", ") }

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
	)
	c := &cobra.Command{
		Use:   "export SHOW cue-list",
		Short: "write a cue list as CSV or JSON",
		Long: `Write a sheet for others to read.

  cue-list   every command in the order it is played, with the timecode of the
             command, what rounding to the frame adds, and the hit

CSV follows RFC 4180: a head (show, revision, venue, date, rate), then one line
of column names, then the commands. No cell can be run as a formula: times
before the audio are written "before 0.4500", residuals "late 10.00".

--rate writes the timecode at another rate: songs keep the labels they start at
and their music keeps its times.`,
		Example: `  emberbeat export tour cue-list --format csv --out cues.csv
  emberbeat export tour cue-list --format csv --rate 29.97df --song 1
  emberbeat export tour cue-list --format json --out -`,
		Args: takes("SHOW", "SHEET"),

		ValidArgsFunction: words(nil, func() []string { return []string{"cue-list"} }),
		RunE: func(_ *cobra.Command, args []string) error {
			if args[1] != "cue-list" {
				return usage(fmt.Errorf("%q is no sheet; there is cue-list", args[1]))
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
	flagWords(c, "format", "csv", "json")
	flagWords(c, "rate", rateWords()...)
	return c
}

func cueList(s *timeline.Show, pick *choice, rateText string) (*sheet.CueList, error) {
	night, err := pick.nightOf(s)
	if err != nil {
		return nil, err
	}
	rate := s.Head.Rate
	if rateText != "" {
		if rate, err = timeline.ParseRate(rateText); err != nil {
			return nil, usage(err)
		}
	}
	if s, err = sheet.AtRate(s, night, rate); err != nil {
		return nil, hint(usage(err), "give the song a start that exists at "+rate.String()+", with emberbeat edit SHOW song:NAME start=hh:mm:ss:ff")
	}
	p, f, err := pick.planFor(s)
	if err != nil {
		return nil, err
	}
	return sheet.NewCueList(p, f)
}

func rateNames() string { return strings.Join(rateWords(), ", ") }

package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/render/sheet"
	"emberbeat/shows/report"
	"emberbeat/shows/report/stripe"
	"emberbeat/timeline"
)

func exportCommand(t *talk) *cobra.Command {
	var (
		pick              choice
		format, rate, out string
		sound             soundFlags
		page              pageFlags
		mark, accept      bool
		nights, by        []string
		under             bool
	)
	c := &cobra.Command{
		Use:   "export SHOW SHEET",
		Short: "write a sheet, a timecode stripe, ticks or a MIDI file",
		Long: `Write a sheet for others to read.

` + sheetHelp() + `  ltc        linear timecode as a WAV file: of a song with --song, else of the
             whole running order with silence between songs; timecode alone.
             Whatever chases the file will run with it, firing systems too
  ticks      a WAV file for rehearsal with a click on every hit; it starts with
             the audio of the song, or of the first one
  midi       a song's tempo map, time signatures, sections and markers as a
             Standard MIDI File, tick 0 at the start of its audio

CSV follows RFC 4180: a head (show, revision, venue, date, rate), then one line
of column names, then the commands. No cell can be run as a formula: times
before the audio are written "before 0.4500", residuals "late 10.00". It is
UTF-8. A CSV file begins with a byte order mark, since spreadsheets read one
without it in the letters of their system and spoil names without a word;
--bom=false leaves it out for programs that stumble over it, and what goes to
stdout never has it. Import reads both.

Sound and MIDI go into files only, never to stdout; nothing is written into a
pipe, a device or a socket, which could run with what it is given.

XLSX is a workbook for spreadsheets (Office Open XML): a worksheet with the head
and the notes, then the tables, heads frozen, with print area and filter.
Numbers are numbers; timecodes, bars and all else are text, and no cell is a
formula.

SHEET all writes every sheet that can be made into the folder --out, as PDF
unless --format says csv, json or xlsx. In front of them stands 0-summary, one
page: what is played, open errors, changes, loads, the sheets with their pages
and who signs them. Where --out ends with .pdf, all are one file with an
outline, and the summary says on which page each sheet begins.

--mark notes in the night, or in the show where none is chosen, that the sheet
was printed, with its revision and a digest of what stands on it. tonight and
diff then say which sheets have changed and which need no new print; marking a
changed sheet under the same revision warns and names the next one.

PDF and PNG are for printing, on A4 or Letter; a PNG shows one page. Every page
carries show, revision, date and venue. Nothing in them comes from a clock.

A sheet of a plan with open errors is written, says so on every page, and ends
with 1, so that nobody hands it out unseen; --accept-open ends with 0.

order-list --nights A,B,C is of several nights, each by its own plan, or of all:
what each uses, what is on hand before it, what must be ordered for it. --by
names the days of deliveries: a night is ordered with the last one before it.

--rate writes the timecode at another rate: songs keep the labels they start at
and their music keeps its times.`,
		Example: `  emberbeat export tour cue-list --format csv --out cues.csv
  emberbeat export tour cue-list --format csv --rate 29.97df --song 1
  emberbeat export tour cue-list --format json --out -
  emberbeat export tour cue-list --family co2-jet,comet --sort output --together
  emberbeat export tour cue-list --out cues.xlsx
  emberbeat export tour load-plan --night 2031-05-09 --out load.pdf
  emberbeat export tour order-list --nights all --by 2031-05-01 --out order.pdf
  emberbeat export tour all --night 2031-05-09 --out paper --mark
  emberbeat export tour all --night 2031-05-09 --out night.pdf
  emberbeat export tour ltc --song 1 --rate 25 --level -18 --out ltc.wav
  emberbeat export tour ticks --song 1 --out ticks.wav
  emberbeat export tour midi --song 1 --out song.mid`,
		Args: takes("SHOW", "SHEET"),

		ValidArgsFunction: words(nil, exportWords),
		RunE: func(_ *cobra.Command, args []string) error {
			e := sheetExport{args[1], format, rate, out, &pick, &page, mark, accept, under}
			if len(nights)+len(by) > 0 {
				return t.exportNights(args[0], e, nights, by)
			}
			if args[1] == allSheets {
				return t.exportAll(args[0], e)
			}
			if of, ok := stripe.SoundOfferNamed(args[1]); ok {
				return t.exportSound(args[0], soundExport{args[1], format, rate, out, &pick, &sound}, of)
			}
			if of, ok := sheet.KindNamed(args[1]); ok {
				return t.exportSheet(args[0], e, of)
			}
			return usage(fmt.Errorf("%q is no sheet; there are %s", args[1], strings.Join(exportWords(), ", ")))
		},
	}
	c.Flags().StringVar(&format, "format", "", "of a sheet: "+strings.Join(sheet.Formats(), ", ")+" (default: as FILE ends, else csv)")
	c.Flags().StringVar(&rate, "rate", "", "timecode rate: "+rateNames()+" (default: the show's)")
	pick.nightFlag(c)
	c.Flags().StringSliceVar(&nights, "nights", nil, "of order-list: these nights together, with commas between, or all")
	c.Flags().StringSliceVar(&by, "by", nil, "of order-list with --nights: the days on which deliveries come, yyyy-mm-dd")
	pick.songFlag(c)
	pick.barsFlag(c)
	pick.effectFlags(c)
	outFlag(c, &out)
	c.Flags().BoolVar(&accept, "accept-open", false, "end with 0 though errors are open")
	c.Flags().BoolVar(&mark, "mark", false, "note in the night or show that the sheet was printed")
	c.Flags().BoolVar(&under, "plan-picture", false, "the venue's picture lies pale under the stage plan of permit-pack; not measured")
	sound.flags(c)
	page.flags(c)
	flagWords(c, "format", sheet.Formats()...)
	flagWords(c, "rate", rateWords()...)
	return c
}

// exportWords lists all that can be exported.
func exportWords() []string { return append(append(sheetWords(), allSheets), soundWords()...) }

// planAt compiles the show for what is chosen, at a timecode rate; "" is the
// show's own.
func planAt(s *timeline.Show, pick *choice, rateText string) (*timeline.Plan, report.Filter, error) {
	night, err := pick.nightOf(s)
	if err != nil {
		return nil, report.Filter{}, err
	}
	s, night = s.AsPlayed(night)
	rate := s.Head.Rate
	if rateText != "" {
		if rate, err = timeline.ParseRate(rateText); err != nil {
			return nil, report.Filter{}, usage(err)
		}
	}
	if s, err = report.AtRate(s, night, rate); err != nil {
		return nil, report.Filter{}, hint(usage(err), "give the song a start that exists at "+rate.String()+", with emberbeat edit SHOW song:NAME start=hh:mm:ss:ff")
	}
	return pick.planOf(s, night)
}

func rateNames() string { return strings.Join(rateWords(), ", ") }

package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/intake"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// importing is what the import verb is asked to do.
type importing struct {
	pick  choice
	table tableFlags
	gdtf  gdtfFlags
	dry   bool
}

func importCommand(t *talk) *cobra.Command {
	im := &importing{}
	v := operatedBy("import")
	c := &cobra.Command{
		Use:   "import SHOW FILE",
		Short: "take beats, cues, a device type, a drawing or notes from a file",
		Long: `Take what a file of another program says. Its content tells the kind of file,
not its name. What changed is printed; --dry-run only prints.

  MIDI file      its tempo map and time signatures replace the beat map of
                 --song, markers on bar lines replace the sections, other
                 markers and cue points become markers; tick 0 is the start of
                 the audio
  WAV file       the time reference of a broadcast WAV sets the timecode at
                 which --song starts, labels of cue points become markers
  GDTF file      one --mode of a device becomes a device type: its slots by
                 block, of 8 or 16 bit. The file cannot know which slot fires
                 and which arms: say it with --slot, or all stay open
  MVR file       things of a drawing become positions, devices and, by --means,
                 effects of our stock; things that nothing calls an effect are
                 left out unless --only, --layer or --positions names them.
                 --at twice says where two points of it are on our stage
  notes (JSON)   what the crew has written on a crew page, as the page saves it:
                 each becomes a note at its bar, open until edit says done=true.
                 A file that is read twice brings its notes once
  table (CSV)    each row becomes a cue. --map says which column holds what;
                 columns that have the name of a field need no --map. Fields:
                 ` + strings.Join(intake.MappingFields()[:6], ", ") + `,
                 ` + strings.Join(intake.MappingFields()[6:], ", ") + `

A cue list that export has written needs no --map and no other choice: hits,
groups, arms and conditions come back as they were, whoever changed its lines.
In other tables a column action may say hit; rows that say anything else are
refused, unless --only chooses among them.

A table is read as UTF-8 or UTF-16, its columns separated by commas, semicolon,
tab or bar. What each row would do is printed with its line; if one row cannot
be placed, none is, unless --skip-bad says so.`,
		Example: `  emberbeat import tour song.mid --song 1 --dry-run
  emberbeat import tour song.wav --song 1
  emberbeat import tour cues.csv --song 1 --map timecode=Time --map target=Effect --dry-run
  emberbeat import tour cues.csv --song 1 --map timecode=Time --map target=Effect --means "Jet L=Jet 1" --skip-bad
  emberbeat import tour notes-5f0c9a81d2e34b67.json --dry-run
  emberbeat import tour bar.gdtf --mode Heads --slot "2.1 role=arm on=100..200" --slot "1.2 role=effect"
  emberbeat import tour stage.mvr --layer Pyro --means "Cold jet=Cold jet, 6 m" --at "Mark A=-6,0" --at "Mark B=6,0" --dry-run`,
		Args: takes("SHOW", "FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			format, err := intake.FormatOf(args[1])
			if err != nil {
				return fileFailure(err)
			}
			switch format {
			case intake.NotesFormat:
				return t.importNotes(args[0], args[1], im)
			case intake.GDTFFormat:
				return t.importGDTF(args[0], args[1], im)
			case intake.MVRFormat:
				return t.importDrawing(c, v, args, im)
			case intake.TableFormat:
				return t.importTable(args[0], args[1], im)
			}
			return t.importSong(args[0], args[1], im)
		},
	}
	im.pick.songFlag(c)
	im.table.flags(c)
	im.gdtf.flags(c)
	v.flags(c)
	dryRunFlag(c, &im.dry)
	return c
}

// importDrawing takes over a drawing. What became of each thing is told when it is
// saved as well: nobody else knows what was left out.
func (t *talk) importDrawing(c *cobra.Command, v *operated, args []string, im *importing) error {
	look := looking{}
	if !im.dry {
		look.told = func(_ *timeline.Plan, _ any, out operation.Outcome) error {
			t.sayOutcome(out)
			return nil
		}
	}
	return t.operate(c, v, args, im.dry, look, onShow)
}

// importSong takes what a MIDI or WAV file says about a song.
func (t *talk) importSong(dir, file string, im *importing) error {
	nothing := false
	err := t.change(dir, "import", im.dry, func(p *timeline.Plan) (timeline.Edit, error) {
		song, err := im.pick.songOf(p)
		if err != nil {
			return nil, err
		}
		found, err := intake.ReadFile(file, p.Rate)
		if err != nil {
			return nil, fileFailure(err)
		}
		for _, note := range found.Notes {
			t.warn("%s: %s", file, note)
		}
		nothing = found.Empty()
		return found.Edit(song, func(kind string) timeline.ID { return shows.NewIDFor(p.Show, kind, song.ID) }), nil
	})
	if err == nil && nothing {
		t.warn("%s says nothing that a song could take", file)
		return errFindings
	}
	return err
}

// readPairs reads flags of the form NAME=TEXT.
func readPairs(flag string, texts []string) (map[string]string, error) {
	pairs := map[string]string{}
	for _, text := range texts {
		name, value, ok := strings.Cut(text, "=")
		if name = strings.TrimSpace(name); !ok || name == "" {
			return nil, fmt.Errorf("--%s %q: write it as NAME=TEXT", flag, text)
		}
		pairs[name] = strings.TrimSpace(value)
	}
	return pairs, nil
}

package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/render/sheet"
	"emberbeat/shows/arrival"
	"emberbeat/shows/report/carried"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// carrying is what the carry verb is asked to do, besides its operation.
type carrying struct {
	dry         bool
	out, format string
	page        pageFlags
	pick        choice
}

func carryCommand(t *talk) *cobra.Command {
	y, v := &carrying{}, operatedBy("carry")
	c := &cobra.Command{
		Use:   "carry SHOW FILE|DIR…",
		Short: "take songs over to new recordings of theirs",
		Long: `Take songs over to new recordings: an edit, a new mix, a version recorded anew.
Each recording is compared with those of the show by what is heard, and its song
is found by that and not by its name; --song says which one it is.

Cues, windows, sections, markers, phrases, the beat map and the user's word to
the ear go where their music has gone, and the recording is copied into the
show.

  exact    the music is the same to the sample     moved   it stands elsewhere
  matched  by beats and sounds                     copied  it is heard twice now
  check    somebody has to look                    lost    it is heard no more

Nothing is deleted: what is lost is set aside with where it stood, and
emberbeat bring-back puts it into the song again; list SHOW asides lists it.
Copies are made where --take says so. Cues that want a look are told by check
until confirm says that they stand right.

Look first with --dry-run: it lists worst first what would become of each cue,
which findings come and go, on the tour and on each night that plays the song,
and what the tour's evening comes to; with --night all of that night alone.
--undo takes a song back to what it was before, as the older saves have it.
--format writes the list as a sheet. The exit code is 1 where something wants a
look or is set aside, or a recording is not carried over.`,
		Example: `  emberbeat carry tour "new mixes" --dry-run
  emberbeat carry tour song.wav --dry-run --json`,
		Args: func(c *cobra.Command, args []string) error {
			if undo := c.Flag("undo"); undo != nil && undo.Changed {
				return takes("SHOW")(c, args)
			}
			if len(args) < 2 {
				return takes("SHOW", "FILE|DIR…")(c, args)
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			debug.SetMemoryLimit(softLimit)
			if c.Flag("undo").Changed {
				return t.operate(c, v, args, y.dry, looking{always: true}, onShow)
			}
			return t.carry(c, v, y, args)
		},
	}
	v.flags(c)
	outFlag(c, &y.out)
	c.Flags().StringVar(&y.format, "format", "", "write the list as "+strings.Join(sheet.Formats(), ", ")+" (default: as FILE of --out ends)")
	y.page.flags(c)
	y.pick.nightFlag(c)
	flagWords(c, "format", sheet.Formats()...)
	dryRunFlag(c, &y.dry)
	return c
}

// carry compares recordings with those of a show, and takes its songs over. Others may
// work on the show while somebody listens: it is locked before, to see whether it can
// be written at all, and afterwards to make the change.
func (t *talk) carry(c *cobra.Command, v *operated, y *carrying, args []string) error {
	ctx, dir := c.Context(), args[0]
	e := sheetExport{kind: "carry-list", format: y.format, out: y.out, page: &y.page, pick: &choice{}}
	asSheet := y.format != ""
	if ending, err := formatFor("", y.out, "text", []string{"pdf", "png", "svg", "csv"}); err == nil && ending != "text" {
		asSheet = true
	}
	if asSheet {
		if err := e.settle(t); err != nil {
			return usage(err)
		}
	}
	if !y.dry {
		s, err := session.Open(dir, session.Options{NoJournal: true, Told: t.told})
		if err != nil {
			return err
		}
		_ = s.Close() // cannot fail: there is no journal to close
	}
	look, err := t.open(dir, true)
	if err != nil {
		return err
	}
	defer look.Close() // cannot fail: nothing was locked
	night, err := y.pick.nightOf(look.Show())
	if err != nil {
		return usage(err)
	}
	var on timeline.ID
	if night != nil {
		on = night.ID
	}
	plan := look.Plan("")
	o, texts := v.asked(args)
	values, err := v.arguments(c, plan, o, texts)
	if err != nil {
		return usage(err)
	}
	asked := values.(*operation.Carrying)
	desk := arrival.At(look)
	list, err := t.arrived(ctx, desk, asked)
	if err != nil {
		return err
	}
	r, err := desk.Report(ctx, list, on)
	if err != nil {
		return usage(err)
	}
	if r.Dry = y.dry; !y.dry {
		s, err := session.Open(dir, session.Options{NoJournal: true, Told: t.told}) // what is odd in it was told before
		if err != nil {
			return err
		}
		defer s.Close() // cannot fail: there is no journal to close
		if err := desk.On(s).AcceptAll(ctx, list, asked.Add); err != nil {
			return err
		}
		if err := t.save(s); err != nil {
			return err
		}
	}
	return t.carriedReport(look.Show(), r, y, e, asSheet)
}

// arrived says what recordings are to a show.
func (t *talk) arrived(ctx context.Context, desk *arrival.Desk, asked *operation.Carrying) ([]*arrival.Arrival, error) {
	files, err := arrival.Files(asked.Files)
	if err != nil {
		return nil, usage(err)
	}
	if asked.Song != "" && len(files) > 1 {
		return nil, usage(fmt.Errorf("--song says which song one recording is of, and %d are named", len(files)))
	}
	what := "listening to " + filepath.Base(files[0])
	if len(files) > 1 {
		what = fmt.Sprintf("listening to %d recordings", len(files))
	}
	step, done := t.progress(what)
	defer done()
	options := arrival.Options{Song: asked.Song, Take: asked.Take, Start: asked.Start, Progress: arrival.Whole(len(files), step)}
	list, err := desk.Look(ctx, files, options)
	var bad *timeline.ValueError
	if errors.As(err, &bad) && bad.Value == "" { // of a flag without one
		return nil, usage(fmt.Errorf("--%s: %s", bad.Field, bad.Want))
	}
	if errors.As(err, &bad) {
		return nil, usage(fmt.Errorf("--%s: %q %s", bad.Field, bad.Value, bad.Want))
	}
	if err != nil {
		return nil, err
	}
	// One file that is not carried over says so as an error of its own.
	if a := list[0]; len(list) == 1 && a.Err() != nil {
		return nil, a.Err()
	}
	return list, nil
}

// carriedReport writes what recordings come to, as text, JSON or a sheet.
func (t *talk) carriedReport(show *timeline.Show, r *carried.Report, y *carrying, e sheetExport, asSheet bool) error {
	write := r.WriteText
	if t.json {
		write = r.WriteJSON
	}
	if asSheet {
		write = e.writer(show, sheet.Carried(r))
	}
	t.saySaved(y.dry)
	if err := t.writeOut(y.out, write); err != nil {
		return err
	}
	for i := range r.Files {
		if f := &r.Files[i]; f.Verdict == string(arrival.NoSong) && y.dry {
			t.say("to add it as a new song: emberbeat carry … --add, or emberbeat add")
			break
		}
	}
	if r.Open() {
		return errFindings
	}
	return nil
}

func bringBackCommand(t *talk) *cobra.Command {
	var dry bool
	v := operatedBy("bring-back")
	c := &cobra.Command{
		Use:   "bring-back SHOW ASIDE",
		Short: "put back into its song what was set aside",
		Long: `Put back into its song a cue, marker, section or phrase that was set aside when
the song was carried over to a new recording. emberbeat list SHOW asides lists
what was, with where it stood; --at says where it stands now. On the recording
it stood on it comes back to its own place.`,
		Example: `  emberbeat list tour asides
  emberbeat bring-back tour --help`,
		Args:              takes("SHOW", "ASIDE"),
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			return t.operate(c, v, args, dry, looking{always: true}, onShow)
		},
	}
	v.flags(c)
	dryRunFlag(c, &dry)
	return c
}

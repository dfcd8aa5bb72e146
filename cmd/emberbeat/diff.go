package main

import (
	"cmp"
	"context"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/render/sheet"
	"emberbeat/shows"
	"emberbeat/shows/report/changed"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

func diffCommand(t *talk) *cobra.Command {
	var (
		pick              choice
		out, rewire       string
		findings, records bool
		oldNight, format  string
		song, oldSong     string
		page              pageFlags
	)
	c := &cobra.Command{
		Use:   "diff OLDSHOW NEWSHOW",
		Short: "say what differs between two shows",
		Long: `Say what differs between two show folders in the words of the trade: which cues
moved, came and went, song by song; what is loaded and wired otherwise; which
orders, nights and rules changed. Cues that a new beat map puts elsewhere have
moved.

--findings checks both shows and says which findings are new and which are
cleared: what a new running order breaks, and what it fixes. With --night both
are checked for that night. --rewire writes the rewire sheet from the old show
to the new one to a file. --records lists the change of every record instead.
JSON has all of it.

--format writes the change report, a sheet for the crew: songs with their cues
moved, lost and added, outputs that drive something else, totals, findings, the
hashes of both, every sheet that looks otherwise, and which printed ones must be
printed again. With --old-night it compares two nights, of one show or of two.

--song compares what one song plays, or with --old-song what two play, such as
two versions of one: start, length, sections, and cue by cue what stands
elsewhere, has changed, or is played by one of them alone.

Either may be an older save (tour@1) or a revision in a git repository
(tour@HEAD~2): diff tour@1 tour is what has changed since the last save.

The exit code is 1 where anything differs.`,
		Example: `  emberbeat diff tour tour
  emberbeat diff tour tour --findings --night saltglass-first --json
  emberbeat diff tour tour --night saltglass-first --format pdf --out changes.pdf
  emberbeat diff tour tour --song "Slow Matches" --json`,
		Args: takes("OLDSHOW", "NEWSHOW"),
		RunE: func(c *cobra.Command, args []string) error {
			e, asSheet := sheetExport{kind: "change-report", format: format, out: out, pick: &pick, page: &page}, format != "" || oldNight != ""
			if ending, err := formatFor("", out, "text", []string{"pdf", "png", "svg", "csv"}); err == nil && ending != "text" {
				asSheet = true
			}
			if asSheet = asSheet && song == "" && oldSong == ""; asSheet {
				if err := e.settle(t); err != nil {
					return usage(err)
				}
			}
			was, err := t.open(args[0], true)
			if err != nil {
				return err
			}
			defer was.Close() // cannot fail: nothing was locked
			is, err := t.open(args[1], true)
			if err != nil {
				return err
			}
			defer is.Close()
			if song != "" || oldSong != "" {
				return t.songDifferences(was.Show(), is.Show(), cmp.Or(oldSong, song), cmp.Or(song, oldSong), out)
			}
			d := changed.NewDiff(was.Show(), is.Show())
			if rewire != "" {
				if err := pick.rewired(t, rewire, was.Show(), is.Show()); err != nil {
					return err
				}
			}
			if asSheet {
				return t.changeReport(c.Context(), e, oldNight, d, was, is)
			}
			if findings {
				if d.Findings, err = pick.findingsDiff(c.Context(), was, is); err != nil {
					return err
				}
			}
			return t.differences(d, out, records)
		},
	}
	pick.nightFlag(c)
	outFlag(c, &out)
	rewireFlag(c, &rewire)
	c.Flags().BoolVar(&findings, "findings", false, "say which findings come and go as well")
	c.Flags().StringVar(&format, "format", "", "write the change report as "+strings.Join(sheet.Formats(), ", ")+" (default: as FILE ends)")
	c.Flags().StringVar(&oldNight, "old-night", "", "compare with this night of the old show (default: --night)")
	c.Flags().StringVar(&song, "song", "", "compare this song of the new show: title, folder, id or number")
	c.Flags().StringVar(&oldSong, "old-song", "", "with this one of the old show (default: --song)")
	page.flags(c)
	flagWords(c, "format", sheet.Formats()...)
	c.Flags().BoolVar(&records, "records", false, "list every record that differs, field by field")
	return c
}

// rewired writes the rewire sheet between two shows for the chosen night.
func (c *choice) rewired(t *talk, file string, was, is *timeline.Show) error {
	before, _, err := c.planFor(was)
	if err != nil {
		return err
	}
	after, _, err := c.planFor(is)
	if err != nil {
		return err
	}
	return t.rewireFile(file, before, after)
}

// findingsDiff checks both shows for the chosen night.
func (c *choice) findingsDiff(ctx context.Context, was, is *session.Session) (*changed.FindingsDiff, error) {
	var plans [2]*timeline.Plan
	for i, s := range []*session.Session{was, is} {
		p, _, err := c.planFor(s.Show())
		if err != nil {
			return nil, err
		}
		plans[i] = p
	}
	return diffFindings(ctx, plans, [2]*session.Session{was, is})
}

func diffFindings(ctx context.Context, plans [2]*timeline.Plan, of [2]*session.Session) (*changed.FindingsDiff, error) {
	var found [2][]rule.Finding
	for i, s := range of {
		var err error
		if _, found[i], err = checkPlan(ctx, s, plans[i], ""); err != nil {
			return nil, err
		}
	}
	return changed.NewFindingsDiff(plans[0], plans[1], found[0], found[1]), nil
}

// changeReport writes what is otherwise between two plans as a sheet.
func (t *talk) changeReport(ctx context.Context, e sheetExport, oldNight string, d *changed.Diff, was, is *session.Session) error {
	old := choice{night: cmp.Or(oldNight, e.pick.night)}
	before, _, err := old.planFor(was.Show())
	if err != nil {
		return err
	}
	after, _, err := e.pick.planFor(is.Show())
	if err != nil {
		return err
	}
	r := changed.NewReport(before, after, sheet.PrintStates(after, true))
	r.Records, r.Sheets = d.Summary, sheet.Otherwise(before, after)
	r.Old.Hash, r.Hash = shows.Digest(was.Show()), shows.Digest(is.Show())
	if r.Findings, err = diffFindings(ctx, [2]*timeline.Plan{before, after}, [2]*session.Session{was, is}); err != nil {
		return err
	}
	if err := t.writeOut(e.out, e.writer(is.Show(), sheet.Changes(r))); err != nil {
		return err
	}
	if r.Same() {
		t.say("the plans are the same")
		return nil
	}
	return errFindings
}

// differences reports what differs; findings that come and go count as well,
// since a recording may have changed and the show not.
func (t *talk) differences(d *changed.Diff, out string, records bool) error {
	write := d.WriteText
	switch {
	case t.json:
		write = d.WriteJSON
	case records:
		write = d.List.WriteText
	}
	if err := t.writeOut(out, write); err != nil {
		return err
	}
	if d.Same() && (d.Findings == nil || len(d.Findings.New)+len(d.Findings.Gone) == 0) {
		t.say("the shows hold the same")
		return nil
	}
	return errFindings
}

// songDifferences reports what two songs play differently.
func (t *talk) songDifferences(was, is *timeline.Show, old, song, out string) error {
	before, err := timeline.Compile(was, nil).FindSong(old)
	if err != nil {
		return usage(err)
	}
	after, err := timeline.Compile(is, nil).FindSong(song)
	if err != nil {
		return usage(err)
	}
	d, err := changed.NewSongDiff(was, is, before.ID, after.ID)
	if err != nil {
		return err
	}
	write := d.WriteText
	if t.json {
		write = d.WriteJSON
	}
	if err := t.writeOut(out, write); err != nil {
		return err
	}
	if d.Alike() {
		t.say("the songs play the same")
		return nil
	}
	return errFindings
}

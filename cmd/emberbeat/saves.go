package main

import (
	"errors"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

func savesCommand(t *talk) *cobra.Command {
	return &cobra.Command{
		Use:   "saves SHOW",
		Short: "list what the show was before its last saves",
		Long: `List the older saves of a show, newest first: each is the show as it was before
a save replaced it, with when that was, its songs and cues, and what the save
changed. The last ten are kept, on this computer, without recordings.

SHOW@1 is the newest of them, and every verb that only looks takes it in the
place of SHOW: diff tour@1 tour, list tour@2 cues, open tour@1. restore makes
the show what it was then.`,
		Example: "  emberbeat saves tour\n  emberbeat saves tour --json",
		Args:    takes("SHOW"),
		RunE: func(_ *cobra.Command, args []string) error {
			var now *timeline.Show
			if l, err := shows.Load(args[0]); err == nil {
				now = l.Show
			} else {
				t.warn("the show as it is cannot be read: %v", err)
			}
			list, err := session.Saves(args[0], now)
			if err != nil {
				return err
			}
			if len(list.Saves) == 0 {
				t.say("nothing has been saved over this show on this computer yet")
			}
			return t.writeOut("", t.tableOrJSON(list))
		},
	}
}

func restoreCommand(t *talk) *cobra.Command {
	var dry bool
	c := &cobra.Command{
		Use:   "restore SHOW@NUMBER",
		Short: "make a show what it was before a save",
		Long: `Make a show what it was in one of its older saves (emberbeat saves). What it is
now is kept as the newest save, so that restoring can be taken back the same
way. Recordings are left as they are.`,
		Example: "  emberbeat restore tour@1 --dry-run\n  emberbeat restore tour@1",
		Args:    takes("SHOW@NUMBER"),
		RunE: func(_ *cobra.Command, args []string) error {
			dir, save, err := shows.Named(args[0])
			switch {
			case err != nil:
				return usage(err)
			case save == nil:
				return hint(usage(errors.New(args[0]+" names no older save")), "write SHOW@1 for the newest; emberbeat saves SHOW lists them")
			}
			old, err := save.Load()
			if err != nil {
				return err
			}
			s, err := t.open(dir, false)
			if err != nil {
				return err
			}
			defer s.Close() // cannot fail: there is no journal to close
			before := s.Show()
			next, err := t.apply(s, "restore "+save.String(), dry, timeline.Toward(old.Show))
			if err != nil {
				return err
			}
			return t.printChanges(before, next, dry)
		},
	}
	dryRunFlag(c, &dry)
	return c
}

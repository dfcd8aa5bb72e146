package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/report/wording"
)

func formatCommand(t *talk) *cobra.Command {
	var check, dry bool
	c := &cobra.Command{
		Use:   "format SHOW",
		Short: "rewrite a show's files in their one canonical form",
		Long: `Rewrite the files of a show in their canonical form and newest schema: fixed
order of keys, one cue per line, grouped by lane. Comments and unknown keys
stay. The files that change are listed.

--check changes nothing and ends with exit code 1 if a file is not in form.`,
		Example: "  emberbeat format tour\n  emberbeat format tour --check",
		Args:    takes("SHOW"),
		RunE: func(_ *cobra.Command, args []string) error {
			changed, err := shows.Format(args[0], check || dry)
			if err != nil {
				return err
			}
			if err := t.formatted(changed); err != nil {
				return err
			}
			if check && len(changed) > 0 {
				t.say("%d files are not in form; emberbeat format %s mends them", len(changed), args[0])
				return errFindings
			}
			return nil
		},
	}
	c.Flags().BoolVar(&check, "check", false, "change nothing; exit code 1 if a file is not in form")
	dryRunFlag(c, &dry)
	return c
}

func (t *talk) formatted(files []string) error {
	return t.writeOut("", func(w io.Writer) error {
		if t.json {
			return wording.WriteJSON(w, struct {
				Files []string `json:"files"`
			}{append([]string{}, files...)})
		}
		for _, f := range files {
			fmt.Fprintln(w, f)
		}
		return nil
	})
}

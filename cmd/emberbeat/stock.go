package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows/report/changed"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

func stockCommand(t *talk) *cobra.Command {
	var dry bool
	v := operatedBy("stock")
	v.bare = true
	c := &cobra.Command{
		Use:   "stock copy FROM TO [RECORD…] | measure SHOW ARTICLE",
		Short: "bring stock from another show; keep measured leads",
		Long: `copy brings articles, device types and bank types from the show FROM into the
show TO: all of them, or those named as article:NAME, devicetype:NAME,
banktype:NAME; a plain name means an article. starter instead of FROM is the
starter stock.

What both shows hold alike is left alone. Where they hold a record differently,
the differences are listed and nothing is copied, until --conflicts says which
side counts: keep for the show copied into, replace for the other.

measure keeps a lead counted from video: --frames from the command, seen as a
light in the picture, to the hit, one number a shot, at --fps pictures a second.
The mean becomes the lead; the spread is how far the farthest shot lies from it,
and half a picture. --through names the bank or device that was used, whose
latency is taken away.`,
		Example: `  emberbeat stock copy starter tour
  emberbeat stock copy starter tour "Gas flame, 5 m" banktype:st-relay-eight --dry-run
  emberbeat stock copy starter tour --conflicts keep
  emberbeat stock measure tour article:cold-six --frames 6,7,6,7 --fps 50 --dry-run`,
		Args:              stockArgs,
		ValidArgsFunction: words(func() []string { return actionNames(v.actions()) }),
		RunE: func(c *cobra.Command, args []string) error {
			if args[0] == "measure" {
				return t.operate(c, v, []string{args[1], args[0], args[2]}, dry, looking{}, onShow)
			}
			return t.copyStock(c, v, args, dry)
		},
	}
	c.Flags().IntSlice("frames", nil, operation.Find("stock", "measure").Arg("frames").Help)
	v.flags(c)
	dryRunFlag(c, &dry)
	return c
}

// stockArgs checks the arguments of either action.
func stockArgs(c *cobra.Command, args []string) error {
	switch {
	case len(args) > 0 && args[0] == "measure":
		return takes("measure", "SHOW", "ARTICLE")(c, args)
	case len(args) > 0 && args[0] != "copy":
		return hint(usage(fmt.Errorf("stock cannot %q; it can %s", args[0], strings.Join(actionNames(operatedBy("stock").actions()), " and "))), "usage: "+c.UseLine())
	case len(args) < 3:
		return takes("copy", "FROM", "TO")(c, args)
	}
	return nil
}

// copyStock copies what is named from one show to another, or lists what differs
// where nobody has said which side counts.
func (t *talk) copyStock(c *cobra.Command, v *operated, args []string, dry bool) error {
	words := append([]string{args[2], args[0], args[1]}, args[3:]...)
	o, texts := v.asked(words)
	values, err := v.arguments(c, nil, o, texts) // what is named is looked for in the other show
	if err != nil {
		return usage(err)
	}
	source, err := t.stockOf(args[1])
	if err != nil {
		return err
	}
	taken := values.(*operation.CopyStock)
	if taken.Conflicts == "" {
		l, err := t.load(args[2])
		if err != nil {
			return err
		}
		plan, err := taken.Compare(operation.At{Plan: &timeline.Plan{Show: l.Show}, Stock: func(string) (*timeline.Show, error) { return source, nil }})
		if err != nil {
			return usage(err)
		}
		if len(plan.Conflicts) > 0 {
			return t.stockConflicts(l.Show, source, plan)
		}
	}
	return t.operate(c, v, words, dry, looking{never: true, stock: source}, onShow)
}

// stockOf gives the show whose stock is copied.
func (t *talk) stockOf(from string) (*timeline.Show, error) {
	if from == starterStock {
		return stocked(timeline.NewShow("starter", "Starter stock", timeline.Rate25), starterStock)
	}
	l, err := t.load(from)
	if err != nil {
		return nil, err
	}
	return l.Show, nil
}

// stockConflicts lists what both shows hold differently.
func (t *talk) stockConflicts(ours, theirs *timeline.Show, plan *timeline.StockCopy) error {
	var cs timeline.Changes
	for _, c := range plan.Conflicts {
		cs = append(cs, c.Change())
	}
	t.say("nothing is copied: %d records differ; --conflicts keep leaves them as they are, --conflicts replace takes what is copied", len(cs))
	if err := t.printList(changed.NewList(ours, theirs, cs)); err != nil {
		return err
	}
	return errFindings
}

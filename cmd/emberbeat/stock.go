package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

func stockCommand(t *talk) *cobra.Command {
	var (
		conflicts string
		dry       bool
		m         measuring
	)
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
		ValidArgsFunction: words(func() []string { return stockActions }),
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case args[0] == "measure":
				return t.changeStock(c.Context(), args[1], "measure lead", dry, func(p *timeline.Plan) (timeline.Edit, error) { return m.edit(p, args[2]) })
			case conflicts != "" && conflicts != "keep" && conflicts != "replace":
				return usage(fmt.Errorf("--conflicts: %q is not one of: keep, replace", conflicts))
			}
			return t.copyStock(args[1], args[2], args[3:], conflicts, dry)
		},
	}
	m.flags(c)
	c.Flags().StringVar(&conflicts, "conflicts", "", "where both shows differ: keep or replace (default: list them and copy nothing)")
	dryRunFlag(c, &dry)
	flagWords(c, "conflicts", "keep", "replace")
	return c
}

var stockActions = []string{"copy", "measure"}

// stockArgs checks the arguments of either action.
func stockArgs(c *cobra.Command, args []string) error {
	switch {
	case len(args) > 0 && args[0] == "measure":
		return takes("measure", "SHOW", "ARTICLE")(c, args)
	case len(args) > 0 && args[0] != "copy":
		return hint(usage(fmt.Errorf("stock cannot %q; it can %s", args[0], strings.Join(stockActions, " and "))), "usage: "+c.UseLine())
	case len(args) < 3:
		return takes("copy", "FROM", "TO")(c, args)
	}
	return nil
}

// copyStock copies what is named from one show to another.
func (t *talk) copyStock(from, to string, names []string, conflicts string, dry bool) error {
	source, err := t.stockOf(from)
	if err != nil {
		return err
	}
	refs, err := stockRefs(source, names)
	if err != nil {
		return usage(err)
	}
	l, err := t.load(to)
	if err != nil {
		return err
	}
	plan, err := timeline.CompareStock(source, l.Show, refs)
	if err != nil {
		return usage(err)
	}
	if len(plan.Conflicts) > 0 && conflicts == "" {
		return t.stockConflicts(plan)
	}
	return t.change(to, "copy stock", dry, func(p *timeline.Plan) (timeline.Edit, error) {
		again, err := timeline.CompareStock(source, p.Show, refs) // as it is now that it is locked
		if err != nil {
			return nil, err
		}
		return again.Edit(conflicts == "replace"), nil
	})
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

// stockRefs finds what is named; nothing named is everything.
func stockRefs(s *timeline.Show, names []string) ([]timeline.Ref, error) {
	if len(names) == 0 {
		return s.StockRefs(), nil
	}
	p := timeline.Compile(s, nil)
	var refs []timeline.Ref
	for _, name := range names {
		if !strings.Contains(name, ":") {
			name = "article:" + name
		}
		ref, err := p.FindRecord(name)
		if err != nil {
			return nil, err
		}
		refs = append(refs, ref)
	}
	return refs, nil
}

// stockConflicts lists what both shows hold differently.
func (t *talk) stockConflicts(plan *timeline.StockCopy) error {
	var cs timeline.Changes
	for _, c := range plan.Conflicts {
		cs = append(cs, c.Change())
	}
	t.say("nothing is copied: %d records differ; --conflicts keep leaves them as they are, --conflicts replace takes what is copied", len(cs))
	if err := t.printList(sheet.NewChangeList(cs)); err != nil {
		return err
	}
	return errFindings
}

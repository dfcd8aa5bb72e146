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
	)
	c := &cobra.Command{
		Use:   "stock copy FROM TO [RECORD…]",
		Short: "bring stock from one show into another",
		Long: `Copy articles, device types and bank types from the show FROM into the show TO:
all of them, or those named as article:NAME, devicetype:NAME, banktype:NAME; a
plain name means an article. starter instead of FROM is the starter stock.

What both shows hold alike is left alone. Where they hold a record differently,
the differences are listed and nothing is copied, until --conflicts says which
side counts: keep for the show copied into, replace for the other.`,
		Example: `  emberbeat stock copy starter tour
  emberbeat stock copy starter tour "Gas flame, 5 m" banktype:st-relay-eight --dry-run
  emberbeat stock copy starter tour --conflicts keep`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 0 && args[0] != "copy" {
				return hint(usage(fmt.Errorf("stock cannot %q; it can copy", args[0])), "usage: "+c.UseLine())
			}
			if len(args) < 3 {
				return takes("copy", "FROM", "TO")(c, args)
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			switch conflicts {
			case "", "keep", "replace":
			default:
				return usage(fmt.Errorf("--conflicts: %q is not one of: keep, replace", conflicts))
			}
			return t.copyStock(args[1], args[2], args[3:], conflicts, dry)
		},
	}
	c.Flags().StringVar(&conflicts, "conflicts", "", "where both shows differ: keep or replace (default: list them and copy nothing)")
	dryRunFlag(c, &dry)
	flagWords(c, "conflicts", "keep", "replace")
	return c
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

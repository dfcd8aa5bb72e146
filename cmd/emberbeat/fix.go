package main

import (
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"emberbeat/shows/report"
	"emberbeat/shows/report/changed"
	"emberbeat/shows/report/wording"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// fixing is what the fix verb is asked to do.
type fixing struct {
	choice
	rule string
	yes  bool
}

func fixCommand(t *talk) *cobra.Command {
	x := &fixing{}
	c := &cobra.Command{
		Use:   "fix SHOW",
		Short: "list the changes that would solve findings, and make them",
		Long: `List the changes that are offered for what check finds, each with the findings
that it solves and those that would be new. --yes makes all that are listed, as
one step.

Distances, heights, heat, zones and circuits have no fix here: somebody looks at
each of them. Arms and conditions are laid by emberbeat arms. Of two changes
that write the same field only the first is offered; run it again for the other.`,
		Example: `  emberbeat fix tour
  emberbeat fix tour --rule pre-roll --song 1`,
		Args: takes("SHOW"),
		RunE: func(c *cobra.Command, args []string) error {
			if t.json {
				return usage(errNoJSON)
			}
			return t.fix(c, args[0], x)
		},
	}
	c.Flags().StringVar(&x.rule, "rule", "", "only what this rule finds")
	c.Flags().BoolVar(&x.yes, "yes", false, "make the changes that are listed")
	x.songFlag(c)
	x.nightFlag(c)
	return c
}

func (t *talk) fix(c *cobra.Command, dir string, x *fixing) error {
	if _, known := rule.Lookup(x.rule); x.rule != "" && !known {
		return hint(usage(fmt.Errorf("there is no rule %q", x.rule)), "emberbeat explain lists the rules")
	}
	if !rule.Fixes(x.rule) {
		return usage(fmt.Errorf("what %s finds is looked at one by one, and has no fix here", x.rule))
	}
	s, err := t.open(dir, !x.yes)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	list, err := findings(c.Context(), s, &x.choice)
	if err != nil {
		return err
	}
	offered := list.Fixes(x.rule)
	if len(offered) == 0 {
		t.say("no change is offered for what is found")
		return nil
	}
	night, err := x.nightOf(s.Show())
	if err != nil {
		return err
	}
	var on timeline.ID
	if night != nil {
		on = night.ID
	}
	table := &wording.Table{Columns: []wording.Column{{Name: "rule"}, {Name: "findings"}, {Name: "change"}, {Name: "solves", Right: true}, {Name: "new", Right: true}}}
	var all []timeline.Edit
	var makes []report.OfferedFix
	for _, o := range offered {
		f, err := t.foresee(c, s, on, o.Fix.Edits)
		if err != nil {
			return err
		}
		if len(f.Gone) == 0 {
			continue // it would solve nothing as the show stands
		}
		makes, all = append(makes, o), append(all, o.Fix.Edits...)
		table.Rows = append(table.Rows, []string{o.Rule, o.Where, o.Fix.Label, fmt.Sprint(len(f.Gone)), fmt.Sprint(len(f.New))})
	}
	if len(makes) == 0 {
		t.say("no change is offered that would solve what is found")
		return nil
	}
	together, err := t.foresee(c, s, on, all)
	if err != nil {
		return err
	}
	if err := t.writeOut("", func(w io.Writer) error {
		if err := table.Write(w); err != nil {
			return err
		}
		_, err := fmt.Fprintf(w, "findings: %d before, %d after\n", together.Stay+len(together.Gone), together.Stay+len(together.New))
		return err
	}); err != nil {
		return err
	}
	if !x.yes {
		t.say("nothing is saved: --yes makes these changes as one step")
		return nil
	}
	return t.makeFixes(s, makes, all)
}

// makeFixes makes all offered changes as one step.
func (t *talk) makeFixes(s *session.Session, offered []report.OfferedFix, all []timeline.Edit) error {
	label := offered[0].Fix.Label
	if len(offered) > 1 {
		label = "make " + timeline.Counted(len(offered), "offered change")
	}
	if _, err := t.apply(s, label, false, func(d *timeline.Draft) error {
		for _, e := range all {
			if err := e(d); err != nil {
				return err
			}
		}
		return nil
	}); err != nil {
		return err
	}
	t.say("%s saved as one step", timeline.Counted(len(offered), "change"))
	return nil
}

// foresee says which findings edits solve and bring on a night, or on the tour.
func (t *talk) foresee(c *cobra.Command, s *session.Session, night timeline.ID, edits []timeline.Edit) (*changed.FindingsDiff, error) {
	tried, err := s.Try(slices.Clone(edits)...)
	if err != nil {
		return nil, usage(err)
	}
	each, err := s.Foresee(c.Context(), tried, tried.On(night))
	if err != nil {
		return nil, err
	}
	return each[0].Findings, nil
}

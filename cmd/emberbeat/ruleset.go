package main

import (
	"slices"

	"github.com/spf13/cobra"

	"emberbeat/shows/report"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
	"emberbeat/timeline/rule"
)

// ruleSets is what the ruleset verb is asked to do, besides its operation.
type ruleSets struct {
	venue string
	dry   bool
}

// ruleSetActions are those that only look, and then the operations. The venue
// belongs to the one that is done to a venue.
func ruleSetActions(v *operated) []verbAction {
	list := append([]verbAction{{"list", "", 0, 0, nil}, {"show", "ID", 1, 1, nil}}, v.actions()...)
	i := slices.IndexFunc(list, func(a verbAction) bool { return a.name == "choose" })
	list[i].flags = append(list[i].flags, "venue")
	return list
}

func ruleSetCommand(t *talk) *cobra.Command {
	r, v := &ruleSets{}, operatedBy("ruleset")
	c := &cobra.Command{
		Use:   "ruleset SHOW ACTION …",
		Short: "list, choose and add the rules of places",
		Long: `Rule sets hold what the rules of a place ask for, as far as numbers go:
distances and wind. Some that are published come with the program, each with
place, edition, date and source; none applies until a venue names it.

  list                 all of them, and where each applies
  show ID              one, with all it asks for and where that comes from
` + v.help() + `

What changes a venue says which findings of its nights come and go.`,
		Example: `  emberbeat ruleset tour list
  emberbeat ruleset tour show nyc-fc-2014
  emberbeat ruleset tour choose nyc-fc-2014 --venue "Saltglass Hall" --dry-run
  emberbeat ruleset tour add "Harbour bye-law" --place "Lower Quay" --date 2031 --source "letter of the harbour office" --mark measured`,
		Args: actionArgs(ruleSetActions(v)),
		RunE: func(c *cobra.Command, args []string) error {
			if args[1] == "list" || args[1] == "show" {
				return t.showRuleSets(args[0], args[2:])
			}
			return t.operate(c, v, args, r.dry, looking{always: true}, r.on)
		},
	}
	complete := v.complete()
	c.ValidArgsFunction = func(c *cobra.Command, args []string, text string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 1 {
			return actionNames(ruleSetActions(v)), cobra.ShellCompDirectiveNoFileComp
		}
		if len(args) == 2 && args[1] == "show" {
			return completions(args[0], operation.Find("ruleset", "copy").Arg("id")), cobra.ShellCompDirectiveNoFileComp
		}
		return complete(c, args, text)
	}
	c.Flags().StringVar(&r.venue, "venue", "", "choose: the venue, by name or id (default: the only one)")
	v.flags(c)
	dryRunFlag(c, &r.dry)
	return c
}

// on finds the venue at which a rule set is to apply; the others are done to the
// show.
func (r *ruleSets) on(s *session.Session, o *operation.Operation) (*timeline.Plan, timeline.Ref, error) {
	p := s.Plan("")
	if o.Name != "choose" {
		return p, timeline.Ref{}, nil
	}
	v, err := theVenue(p, r.venue)
	if err != nil {
		return nil, timeline.Ref{}, err
	}
	return p, timeline.Ref{Kind: "venue", ID: v.ID}, nil
}

// showRuleSets lists all rule sets, or shows one.
func (t *talk) showRuleSets(dir string, args []string) error {
	l, err := t.load(dir)
	if err != nil {
		return err
	}
	list := report.NewRuleSetList(l.Show)
	if len(args) == 0 {
		return t.writeOut("", t.textOrJSON(list, list.WriteText))
	}
	set, err := rule.FindRuleSet(l.Show, args[0])
	if err != nil {
		return usage(err)
	}
	one := list.Find(set.ID)
	return t.writeOut("", t.textOrJSON(one, one.WriteText))
}

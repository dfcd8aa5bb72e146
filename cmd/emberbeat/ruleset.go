package main

import (
	"strconv"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// ruleSets is what the ruleset verb is asked to do.
type ruleSets struct {
	venue, id, place, edition, date, mark, source, clause string
	wind                                                  float64
	dry                                                   bool
}

var ruleSetActions = []verbAction{
	{"list", "", 0, 0, nil},
	{"show", "ID", 1, 1, nil},
	{"choose", "ID", 1, 1, []string{"venue"}},
	{"add", "NAME", 1, 1, []string{"id", "place", "edition", "date", "mark", "source", "wind"}},
	{"copy", "ID", 1, 1, nil},
	{"distance", "ID WHOM METRES", 3, many, []string{"clause"}},
}

func ruleSetCommand(t *talk) *cobra.Command {
	r := &ruleSets{}
	c := &cobra.Command{
		Use:   "ruleset SHOW ACTION …",
		Short: "list, choose and add the rules of places",
		Long: `Rule sets hold what the rules of a place ask for, as far as numbers go:
distances and wind. Some that are published come with the program, each with
place, edition, date and source; none applies until a venue names it.

  list                 all of them, and where each applies
  show ID              one, with all it asks for and where that comes from
  choose ID            lets it apply at --venue; choose none takes it away
  add NAME             one of the show's own: --place --edition --date --source
                       --mark --wind, --id
  copy ID              a published one into the show, to be changed there
  distance ID WHOM METRES family=NAME|article=NAME…   a distance into one of
                       the show's own, --clause; 2x is two fallout radii

What changes a venue says which findings of its nights come and go.`,
		Example: `  emberbeat ruleset tour list
  emberbeat ruleset tour show nyc-fc-2014
  emberbeat ruleset tour choose nyc-fc-2014 --venue "Saltglass Hall" --dry-run
  emberbeat ruleset tour add "Harbour bye-law" --place "Lower Quay" --date 2031 --source "letter of the harbour office" --mark measured`,
		Args:              actionArgs(ruleSetActions),
		ValidArgsFunction: words(nil, func() []string { return actionNames(ruleSetActions) }),
		RunE: func(c *cobra.Command, args []string) error {
			if args[1] == "list" || args[1] == "show" {
				return t.showRuleSets(args[0], args[2:])
			}
			return t.changeLooking(c.Context(), args[0], "rule set", r.dry, looking{always: true}, func(s *session.Session) (timeline.Edit, error) {
				return r.edit(s.Plan(""), args[1], args[2:])
			})
		},
	}
	f := c.Flags()
	f.StringVar(&r.venue, "venue", "", "choose: the venue, by name or id (default: the only one)")
	f.StringVar(&r.id, "id", "", "add: its id (default: from its name)")
	f.StringVar(&r.place, "place", "", "add: where it applies")
	f.StringVar(&r.edition, "edition", "", "add: which edition")
	f.StringVar(&r.date, "date", "", "add: of the edition, or the day it was read")
	f.StringVar(&r.mark, "mark", "", "add: how well its numbers are known: S, M, C, J, D, measured, label, invented")
	f.StringVar(&r.source, "source", "", "add: where the numbers come from")
	f.Float64Var(&r.wind, "wind", 0, "add: m/s above which nothing may be fired")
	f.StringVar(&r.clause, "clause", "", "distance: where it is written")
	dryRunFlag(c, &r.dry)
	return c
}

// showRuleSets lists all rule sets, or shows one.
func (t *talk) showRuleSets(dir string, args []string) error {
	l, err := t.load(dir)
	if err != nil {
		return err
	}
	list := sheet.NewRuleSetList(l.Show)
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

func (r *ruleSets) edit(p *timeline.Plan, action string, args []string) (timeline.Edit, error) {
	switch action {
	case "choose":
		v, err := theVenue(p, r.venue)
		if err != nil {
			return nil, err
		}
		name := args[0]
		if name == "none" {
			name = ""
		}
		return rule.ChooseRuleSet(v.ID, name), nil
	case "copy":
		set, err := rule.FindRuleSet(p.Show, args[0])
		if err != nil {
			return nil, err
		}
		return rule.AddRuleSet(*set), nil
	case "distance":
		set, err := rule.FindRuleSet(p.Show, args[0])
		if err != nil {
			return nil, err
		}
		d, err := distanceOf(p, args[1:], r.clause)
		return rule.AskInRuleSet(set.ID, d), err
	}
	return r.add(p, args[0])
}

// add makes a rule set of the show's own.
func (r *ruleSets) add(p *timeline.Plan, name string) (timeline.Edit, error) {
	set := timeline.RuleSet{Base: timeline.Base{ID: timeline.ID(r.id)}, Name: name}
	if set.ID == "" {
		if set.ID = timeline.ID(timeline.SlugOf(name)); set.ID == "" || p.Show.RuleSet(set.ID) != nil {
			set.ID = shows.NewIDFor(p.Show, "ruleset", "")
		}
	}
	k := timeline.KindOf("ruleset")
	for _, f := range [][2]string{{"place", r.place}, {"edition", r.edition}, {"date", r.date}, {"mark", r.mark}, {"source", r.source}, {"wind", strconv.FormatFloat(r.wind, 'f', -1, 64)}} {
		if err := k.Field(f[0]).Set(&set, timeline.Value{Text: f[1]}); err != nil {
			return nil, err
		}
	}
	return rule.AddRuleSet(set), nil
}

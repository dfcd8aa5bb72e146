package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows/session"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// ruling is what the rule verb is asked to do.
type ruling struct {
	off, on, dry     bool
	severity, reason string
	scope            []string
	given            func(flag string) bool
}

func ruleCommand(t *talk) *cobra.Command {
	r := &ruling{}
	c := &cobra.Command{
		Use:   "rule SHOW [NAME|WORD] [number=value…]",
		Short: "find a rule, see its numbers, set them",
		Long: `List the rules with their numbers as this show has them; a word that is no
rule's name lists those that speak of it. A rule's name shows the rule: each
number with its value, how well it is known and where that comes from.

number=value sets a number of the rule in this show; number= gives the rule's
own back. --severity makes its findings errors, warnings or notes, --off leaves
the rule out, which needs a --reason, --on takes it in again; --scope limits
what the show sets to song=, family= or placed=. What changes says which
findings come and go, on the tour and on every night. A number that stands in a
record, such as an article's recovery, is changed there with emberbeat edit.`,
		Example: `  emberbeat rule tour
  emberbeat rule tour distance
  emberbeat rule tour dense
  emberbeat rule tour thin-song share=0.1 --reason "the artist counts" --dry-run
  emberbeat rule tour longest-gap --off --reason "a quiet show" --dry-run`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return takes("SHOW")(c, args)
			}
			return nil
		},
		ValidArgsFunction: words(nil, ruleNames),
		RunE: func(c *cobra.Command, args []string) error {
			r.given = c.Flags().Changed
			changes := len(args) > 2 || r.given("off") || r.given("on") || r.given("severity") || r.given("reason") || r.given("scope")
			switch {
			case !changes:
				return t.showRules(args[0], strings.Join(args[1:], " "))
			case len(args) == 1:
				return usage(fmt.Errorf("no rule is named; write its name after SHOW, emberbeat rule SHOW lists them"))
			}
			return t.changeLooking(c.Context(), args[0], "rule "+args[1], r.dry, looking{always: true}, func(*session.Session) (timeline.Edit, error) {
				return r.edit(args[1], args[2:])
			})
		},
	}
	f := c.Flags()
	f.BoolVar(&r.off, "off", false, "do not check the rule in this show")
	f.BoolVar(&r.on, "on", false, "check it again")
	f.StringVar(&r.severity, "severity", "", "error, warning, note, or own for the rule's own")
	f.StringVar(&r.reason, "reason", "", "why the show has it so")
	f.StringSliceVar(&r.scope, "scope", nil, "only for song=NAME, family=NAME or placed=ID; everywhere takes it away")
	dryRunFlag(c, &r.dry)
	flagWords(c, "severity", "error", "warning", "note", "own")
	return c
}

// showRules shows one rule, or lists those that a word is about.
func (t *talk) showRules(dir, word string) error {
	l, err := t.load(dir)
	if err != nil {
		return err
	}
	if one, err := sheet.NewRuleInShow(l.Show, word); err == nil {
		return t.writeOut("", t.textOrJSON(one, one.WriteText))
	}
	lines := sheet.RulesLike(word)
	if len(lines) == 0 {
		return hint(usage(fmt.Errorf("no rule is called or speaks of %q", word)), "emberbeat rule SHOW lists them all")
	}
	return t.writeOut("", t.textOrJSON(lines, sheet.RuleTable(l.Show, lines).Write))
}

// edit gives the edit that sets what is given of a rule.
func (r *ruling) edit(name string, args []string) (timeline.Edit, error) {
	if r.off && r.on {
		return nil, fmt.Errorf("--off and --on exclude each other")
	}
	var edits []timeline.Edit
	for _, arg := range args {
		number, value, ok := strings.Cut(arg, "=")
		if !ok {
			return nil, fmt.Errorf("%q sets nothing; write number=value", arg)
		}
		edits = append(edits, rule.SetNumber(name, number, value))
	}
	if r.given("severity") {
		severity := r.severity
		if severity == "own" {
			severity = ""
		}
		edits = append(edits, rule.SetSeverity(name, rule.Severity(severity)))
	}
	if r.given("scope") {
		scope := r.scope
		if len(scope) == 1 && scope[0] == "everywhere" {
			scope = nil
		}
		edits = append(edits, rule.LimitTo(name, scope...))
	}
	switch {
	case r.off || r.on:
		edits = append(edits, rule.Switch(name, r.on, r.reason))
	case r.given("reason"):
		edits = append(edits, rule.GiveReason(name, r.reason))
	}
	return func(d *timeline.Draft) error {
		for _, e := range edits {
			if err := e(d); err != nil {
				return err
			}
		}
		return nil
	}, nil
}

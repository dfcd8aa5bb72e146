package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows/report"
)

func ruleCommand(t *talk) *cobra.Command {
	v, dry := operatedBy("rule"), false
	var tuned []string // flags that change a rule
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
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			given := c.Flags().Changed
			changes := len(args) > 2 || slices.ContainsFunc(tuned, given)
			switch {
			case !changes:
				return t.showRules(args[0], strings.Join(args[1:], " "))
			case len(args) == 1:
				return usage(fmt.Errorf("no rule is named; write its name after SHOW, emberbeat rule SHOW lists them"))
			}
			return t.operate(c, v, args, dry, looking{always: true}, onShow)
		},
	}
	v.flags(c)
	for i := range v.ops[0].Args {
		if a := &v.ops[0].Args[i]; a.Flag() {
			tuned = append(tuned, a.Name)
		}
	}
	dryRunFlag(c, &dry)
	return c
}

// showRules shows one rule, or lists those that a word is about.
func (t *talk) showRules(dir, word string) error {
	l, err := t.load(dir)
	if err != nil {
		return err
	}
	if one, err := report.NewRuleInShow(l.Show, word); err == nil {
		return t.writeOut("", t.textOrJSON(one, one.WriteText))
	}
	lines := report.RulesLike(word)
	if len(lines) == 0 {
		return hint(usage(fmt.Errorf("no rule is called or speaks of %q", word)), "emberbeat rule SHOW lists them all")
	}
	return t.writeOut("", t.textOrJSON(lines, report.RuleTable(l.Show, lines).Write))
}

package main

import (
	"github.com/spf13/cobra"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// words completes an argument by its place after the verb: nil leaves it to
// the shell, which completes files and folders.
func words(byPlace ...func() []string) func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) >= len(byPlace) || byPlace[len(args)] == nil {
			return nil, cobra.ShellCompDirectiveDefault
		}
		return byPlace[len(args)](), cobra.ShellCompDirectiveNoFileComp
	}
}

// flagWords completes the value of a flag.
func flagWords(c *cobra.Command, flag string, list ...string) {
	err := c.RegisterFlagCompletionFunc(flag, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return list, cobra.ShellCompDirectiveNoFileComp
	})
	if err != nil {
		panic(err) // only a flag that the verb does not have fails here
	}
}

// listWords is what the list verb can list.
func listWords() []string {
	return append([]string{"commands", "stock", "rig", "kinds", "fields"}, kindNames()...)
}

func ruleNames() []string {
	var names []string
	for _, r := range rule.Tunable() {
		names = append(names, r.Name)
	}
	return names
}

func rateWords() []string {
	var names []string
	for _, r := range timeline.Rates() {
		names = append(names, r.String())
	}
	return names
}

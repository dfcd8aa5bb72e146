package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// verbAction is one of the things a verb can do: what it takes after SHOW, and
// the flags that belong to it alone or to few.
type verbAction struct {
	name, takes string
	least, most int // arguments
	flags       []string
}

// many is no end of arguments.
const many = 1 << 20

func actionNames(list []verbAction) []string {
	var names []string
	for _, a := range list {
		names = append(names, a.name)
	}
	return names
}

// actionArgs checks SHOW ACTION and what the action takes.
func actionArgs(list []verbAction) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) < 2 {
			return takes("SHOW", "ACTION")(c, args)
		}
		i := slices.IndexFunc(list, func(a verbAction) bool { return a.name == args[1] })
		help := fmt.Sprintf("%s --help says what each action takes", c.CommandPath())
		if i < 0 {
			return hint(usage(fmt.Errorf("%s cannot %q; it can %s", c.Name(), args[1], strings.Join(actionNames(list), ", "))), help)
		}
		a, rest := list[i], len(args)-2
		switch {
		case rest < a.least:
			return hint(usage(fmt.Errorf("%s %s needs %s", c.Name(), a.name, a.takes)), help)
		case rest > a.most:
			return hint(usage(fmt.Errorf("%s %s: unexpected argument %q", c.Name(), a.name, args[2+a.most])), help)
		}
		return strayFlag(c, list, a)
	}
}

// strayFlag refuses a flag that belongs to other actions.
func strayFlag(c *cobra.Command, list []verbAction, a verbAction) error {
	owners := map[string][]string{}
	for _, other := range list {
		for _, flag := range other.flags {
			owners[flag] = append(owners[flag], other.name)
		}
	}
	for _, other := range list {
		for _, flag := range other.flags {
			if c.Flags().Changed(flag) && !slices.Contains(a.flags, flag) {
				return usage(fmt.Errorf("--%s belongs to %s, not to %s %s", flag, strings.Join(owners[flag], " and "), c.Name(), a.name))
			}
		}
	}
	return nil
}

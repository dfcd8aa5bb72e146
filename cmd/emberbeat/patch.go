package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

func patchCommand(t *talk) *cobra.Command {
	v := operatedBy("patch")
	v.bare, v.column, v.also = true, 16, []string{"next"}
	actions := append(v.also, actionNames(v.actions())...)
	var dry bool
	c := &cobra.Command{
		Use:   "patch SHOW next|add|copy|move NAME…",
		Short: "give devices and banks addresses",
		Long: `Find free addresses, and add, copy or number devices and banks.

  next TYPE     the next free run for --count of a type, and the run after the
                last one used; none where it does not fit
` + v.help() + `

TYPE is a device type or bank type; NAME a device or bank, or a beginning of
names with * at its end, which takes all of them by address. --at is
universe.slot for a device, once for each block of its slots, or an address for
a bank; without it the next free run is taken. Nothing wraps past slot 512 and
nothing lands on a slot that is taken.`,
		Example: `  emberbeat patch tour next flame-head --count 6
  emberbeat patch tour add "Flame head" --count 6 --at 2.101 --name "upstage flame"
  emberbeat patch tour add relay-twelve --count 2 --name "side bank" --space relays
  emberbeat patch tour copy "Spark*" --dry-run
  emberbeat patch tour move "Spark*" --at 2.1`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 1 && !slices.Contains(actions, args[1]) {
				return hint(usage(fmt.Errorf("patch cannot %q; it can %s", args[1], strings.Join(actions, ", "))), "usage: "+c.UseLine())
			}
			return takes("SHOW", "next|add|copy|move", "NAME…")(c, args)
		},
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			if (args[1] == "next" || args[1] == "add") && len(args) > 3 {
				return usage(fmt.Errorf("patch %s takes one TYPE: unexpected argument %q", args[1], args[3]))
			}
			if args[1] == "next" {
				return t.patchNext(v, c, args[0], args[2:])
			}
			return t.operate(c, v, args, dry, looking{never: true}, onShow)
		},
	}
	v.flags(c)
	dryRunFlag(c, &dry)
	return c
}

// patchNext says where a run of a type would fit.
func (t *talk) patchNext(v *operated, c *cobra.Command, dir string, names []string) error {
	l, err := t.load(dir)
	if err != nil {
		return err
	}
	args, err := v.arguments(c, timeline.Compile(l.Show, nil), operation.Find("patch", "add"), names)
	if err != nil {
		return usage(err)
	}
	run := args.(*operation.Run)
	next, err := load.NewNextFree(l.Show, run.Type, run.Space, run.Universe, run.Count)
	if err != nil {
		return usage(err)
	}
	return t.writeOut("", t.tableOrJSON(next))
}

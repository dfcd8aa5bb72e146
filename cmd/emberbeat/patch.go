package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

// patching is what the patch verb is asked to do.
type patching struct {
	at                    []string
	name, space, position string
	count, universe       int
	dry                   bool
}

// patchActions are the things the verb can do, each with what it takes.
var patchActions = []string{"next", "add", "copy", "move"}

func patchCommand(t *talk) *cobra.Command {
	pt := &patching{}
	c := &cobra.Command{
		Use:   "patch SHOW next|add|copy|move NAME…",
		Short: "give devices and banks addresses",
		Long: `Find free addresses, and add, copy or number devices and banks.

  next TYPE     the next free run for --count of a type, and the run after the
                last one used; none where it does not fit
  add TYPE      --count devices or banks of a type, named --name 1, 2, 3 …
  copy NAME…    a copy of each, with addresses of its own
  move NAME…    numbers them anew, in this order, from --at on

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
			if len(args) > 1 && !slices.Contains(patchActions, args[1]) {
				return hint(usage(fmt.Errorf("patch cannot %q; it can %s", args[1], strings.Join(patchActions, ", "))), "usage: "+c.UseLine())
			}
			return takes("SHOW", "next|add|copy|move", "NAME…")(c, args)
		},
		ValidArgsFunction: words(nil, func() []string { return patchActions }),
		RunE: func(_ *cobra.Command, args []string) error {
			if (args[1] == "next" || args[1] == "add") && len(args) > 3 {
				return usage(fmt.Errorf("patch %s takes one TYPE; it has no use for %q", args[1], args[3]))
			}
			if args[1] == "next" {
				return t.patchNext(pt, args[0], args[2])
			}
			return t.change(args[0], "patch", pt.dry, func(p *timeline.Plan) (timeline.Edit, error) { return pt.edit(p, args[1], args[2:]) })
		},
	}
	f := c.Flags()
	f.StringSliceVar(&pt.at, "at", nil, "start: universe.slot for each block, or a bank's address (default: next free)")
	f.IntVar(&pt.count, "count", 1, "how many")
	f.StringVar(&pt.name, "name", "", "name before the number (default: the type's)")
	f.StringVar(&pt.space, "space", "", "address space")
	f.IntVar(&pt.universe, "universe", 1, "universe to look for a free run in")
	f.StringVar(&pt.position, "position", "", "where they stand, by name or id")
	dryRunFlag(c, &pt.dry)
	return c
}

// typed finds a device type or bank type.
func typed(p *timeline.Plan, text string) (timeline.Ref, error) {
	return p.FindOneOf(text, "devicetype", "banktype")
}

// patched finds the devices or banks that names mean, all of one kind.
func patched(p *timeline.Plan, names []string) (kind string, ids []timeline.ID, err error) {
	for _, name := range names {
		refs, err := unitsNamed(p, name)
		if err != nil {
			return "", nil, err
		}
		for _, r := range refs {
			if kind != "" && kind != r.Kind {
				return "", nil, fmt.Errorf("%s is a %s, the one before a %s; name devices or banks, not both", r, r.Kind, kind)
			}
			kind, ids = r.Kind, append(ids, r.ID)
		}
	}
	return kind, ids, nil
}

// unitsNamed gives one device or bank, or all whose names begin as given before
// a *, by address.
func unitsNamed(p *timeline.Plan, name string) ([]timeline.Ref, error) {
	start, many := strings.CutSuffix(name, "*")
	if !many {
		ref, err := p.FindOneOf(name, "device", "bank")
		return []timeline.Ref{ref}, err
	}
	begins := func(s string) bool { return len(s) >= len(start) && strings.EqualFold(s[:len(start)], start) }
	var devices []*timeline.Device
	for _, v := range p.Show.Rig.Devices {
		if begins(v.Name) {
			devices = append(devices, v)
		}
	}
	timeline.ByAddress(devices)
	var refs []timeline.Ref
	for _, v := range devices {
		refs = append(refs, timeline.Ref{Kind: "device", ID: v.ID})
	}
	banks := slices.Clone(p.Show.Rig.Banks)
	slices.SortStableFunc(banks, func(a, b *timeline.Bank) int { return a.Address - b.Address })
	for _, b := range banks {
		if begins(b.Name) {
			refs = append(refs, timeline.Ref{Kind: "bank", ID: b.ID})
		}
	}
	if len(refs) == 0 {
		return nil, fmt.Errorf("no device or bank has a name that begins with %q; emberbeat list SHOW devices shows them", start)
	}
	return refs, nil
}

func (pt *patching) edit(p *timeline.Plan, action string, names []string) (timeline.Edit, error) {
	if action == "add" {
		return pt.add(p, names[0])
	}
	kind, ids, err := patched(p, names)
	if err != nil {
		return nil, err
	}
	newID := func() timeline.ID { return shows.NewIDFor(p.Show, kind, "") }
	if kind == "bank" {
		address, err := pt.address()
		if err != nil || action == "move" {
			return timeline.MoveBanks(ids, address), err
		}
		return timeline.CopyBanks(ids, address, newID), nil
	}
	starts, err := pt.starts()
	if err != nil || action == "move" {
		return timeline.MoveDevices(ids, starts), err
	}
	return timeline.CopyDevices(ids, starts, newID), nil
}

func (pt *patching) add(p *timeline.Plan, name string) (timeline.Edit, error) {
	ref, err := typed(p, name)
	if err != nil {
		return nil, err
	}
	var position timeline.ID
	if pt.position != "" {
		at, err := p.FindRecord("position:" + pt.position)
		if err != nil {
			return nil, err
		}
		position = at.ID
	}
	label := pt.name
	if label == "" {
		k := timeline.KindOf(ref.Kind)
		label = k.NameOf(k.Find(p.Show, "", ref.ID))
	}
	if ref.Kind == "banktype" {
		address, err := pt.address()
		return timeline.AddBanks(timeline.BankRun{Type: ref.ID, Count: pt.count, Name: label, Space: pt.space, Address: address, Position: position},
			func() timeline.ID { return shows.NewIDFor(p.Show, "bank", "") }), err
	}
	starts, err := pt.starts()
	return timeline.AddDevices(timeline.DeviceRun{Type: ref.ID, Count: pt.count, Name: label, Space: pt.space, Starts: starts, Universe: pt.universe, Position: position},
		func() timeline.ID { return shows.NewIDFor(p.Show, "device", "") }), err
}

func (pt *patching) starts() (list []timeline.Patch, err error) {
	for _, text := range pt.at {
		start, err := timeline.ParsePatch(text)
		if err != nil {
			return nil, fmt.Errorf("--at: %q %w", text, err)
		}
		list = append(list, start)
	}
	return list, nil
}

func (pt *patching) address() (int, error) {
	if len(pt.at) == 0 {
		return 0, nil
	}
	n, err := strconv.Atoi(pt.at[0])
	if err != nil || n < 1 || len(pt.at) > 1 {
		return 0, fmt.Errorf("--at: %q is no address of a bank; write one whole number, 1 or more", strings.Join(pt.at, ","))
	}
	return n, nil
}

// patchNext says where a run of a type would fit.
func (t *talk) patchNext(pt *patching, dir, name string) error {
	l, err := t.load(dir)
	if err != nil {
		return err
	}
	ref, err := typed(timeline.Compile(l.Show, nil), name)
	if err != nil {
		return usage(err)
	}
	next, err := sheet.NewNextFree(l.Show, ref, pt.space, pt.universe, pt.count)
	if err != nil {
		return usage(err)
	}
	return t.writeOut("", t.tableOrJSON(next))
}

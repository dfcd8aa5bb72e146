package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

// wiring is what the wire verb is asked to do.
type wiring struct {
	banks       []string
	pattern     string
	from        int
	rewire, dry bool
}

func wireCommand(t *talk) *cobra.Command {
	wr := &wiring{}
	c := &cobra.Command{
		Use:   "wire SHOW PLACED… --bank B",
		Short: "wire placed effects to outputs in one step",
		Long: `Wire any number of placed effects, or groups of them, to the free outputs of any
number of banks or devices, and say what stays spare.

  straight   in the order named; a bank is filled before the next
  fan        from the middle of the order outwards
  mirror     both ends first: a pair gets neighbouring outputs
  alternate  in the order named, turn by turn over the banks

Outputs in use and dead banks are passed over. An effect that has a wire already
is refused, unless --rewire takes that wire away.`,
		Example: `  emberbeat wire tour "Comet 1" "Comet 2" --bank "Bank A" --rewire --dry-run
  emberbeat wire tour jets-all --bank relays --from 5 --pattern mirror --rewire --dry-run`,
		Args: takes("SHOW", "PLACED…"),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(wr.banks) == 0 {
				return usage(fmt.Errorf("no bank is chosen; add --bank with the name of a bank or device"))
			}
			return t.wire(wr, args[0], args[1:])
		},
	}
	f := c.Flags()
	f.StringArrayVar(&wr.banks, "bank", nil, "bank or device, by name or id; several by repeating it")
	f.StringVar(&wr.pattern, "pattern", string(timeline.WireStraight), "straight, fan, mirror or alternate")
	f.IntVar(&wr.from, "from", 1, "first output of each bank")
	f.BoolVar(&wr.rewire, "rewire", false, "take away the wires the effects have now")
	dryRunFlag(c, &wr.dry)
	flagWords(c, "pattern", wordsOf(timeline.WirePatterns())...)
	return c
}

func wordsOf[S ~string](list []S) []string {
	texts := make([]string, len(list))
	for i, w := range list {
		texts[i] = string(w)
	}
	return texts
}

func (t *talk) wire(wr *wiring, dir string, names []string) error {
	s, err := t.open(dir, wr.dry)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	p := s.Plan("")
	run := timeline.WireRun{From: wr.from, Pattern: timeline.WirePattern(wr.pattern), Rewire: wr.rewire}
	if wr.from < 1 {
		return usage(fmt.Errorf("--from: %d is no output; outputs count from 1", wr.from))
	}
	if run.Placed, err = placedNamed(p, names); err != nil {
		return usage(err)
	}
	for _, name := range wr.banks {
		ref, err := p.FindOneOf(name, "bank", "device")
		if err != nil {
			return usage(err)
		}
		run.Units = append(run.Units, ref.ID)
	}
	proposal, err := p.Show.ProposeWires(run)
	if err != nil {
		return usage(err)
	}
	if _, err := t.apply(s, "wire", wr.dry, proposal.Edit(func() timeline.ID { return shows.NewIDFor(p.Show, "wire", "") })); err != nil {
		return err
	}
	t.saySaved(wr.dry)
	list := sheet.NewWireList(p.Show, proposal)
	return t.writeOut("", t.textOrJSON(list, list.WriteText))
}

// placedNamed finds placed effects; a group stands for its members.
func placedNamed(p *timeline.Plan, names []string) ([]timeline.ID, error) {
	var ids []timeline.ID
	for _, name := range names {
		ref, err := p.FindOneOf(name, "placed", "group")
		if err != nil {
			return nil, err
		}
		if ref.Kind == "group" {
			ids = append(ids, p.Show.Rig.Group(ref.ID).Members...)
			continue
		}
		ids = append(ids, ref.ID)
	}
	return ids, nil
}

func (t *talk) saySaved(dry bool) {
	if dry {
		t.say("nothing is saved: this is what would change")
	}
}

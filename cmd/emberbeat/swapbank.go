package main

import (
	"github.com/spf13/cobra"

	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

func swapBankCommand(t *talk) *cobra.Command {
	var (
		pick   choice
		dry    bool
		rewire string
	)
	v := operatedBy("swap-bank")
	c := &cobra.Command{
		Use:   "swap-bank SHOW OLD NEW",
		Short: "let another bank take a dead bank's place",
		Long: `Move every wire of the bank OLD to the bank NEW and take OLD out of service. No
cue changes: cues aim at effects, not at outputs.

An output keeps its number where NEW has it free, else it takes the lowest free
one. Printed are the rewire sheet (from, to), what finds no place, how leads and
currents differ, and the list of outputs to test again. What finds no place
stays on OLD; the exit code is then 1.

With --night the outputs are plugged over for that night alone: the tour keeps
its wiring, and the old bank is out of that night's rig.`,
		Example: `  emberbeat patch tour add igniter-eighteen --name "Spare bank" --space igniters
  emberbeat swap-bank tour "Bank A" "Bank B" --dry-run --rewire rewire.pdf
  emberbeat swap-bank tour "Bank A" "Bank B" --night saltglass-first --dry-run`,
		Args:              takes("SHOW", "OLD", "NEW"),
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			return t.swapBank(c, v, &pick, args, dry, rewire)
		},
	}
	pick.nightFlag(c)
	dryRunFlag(c, &dry)
	rewireFlag(c, &rewire)
	return c
}

func (t *talk) swapBank(c *cobra.Command, v *operated, pick *choice, args []string, dry bool, rewire string) error {
	s, err := t.open(args[0], dry)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	night, err := pick.nightOf(s.Show())
	if err != nil {
		return err
	}
	p := timeline.Compile(s.Show(), night)
	o, texts := v.asked(args)
	values, err := v.arguments(c, p, o, texts)
	if err != nil {
		return usage(err)
	}
	banks := values.(*operation.SwapBank)
	banks.Tonight = night != nil
	swap, err := banks.Propose(p)
	if err != nil {
		return usage(err)
	}
	edit, err := o.Edit(at(c.Context(), s, p, timeline.Ref{}), banks)
	if err != nil {
		return usage(err)
	}
	after, err := t.apply(s, o.Say(p.Show, banks), dry, edit)
	if err != nil {
		return err
	}
	if err := t.rewireFile(rewire, p, timeline.Compile(after, nightIn(after, night))); err != nil {
		return err
	}
	t.saySaved(dry)
	list := load.NewRewire(p.Show, swap)
	if err := t.writeOut("", t.textOrJSON(list, list.WriteText)); err != nil {
		return err
	}
	if len(swap.Homeless) > 0 {
		return errFindings
	}
	return nil
}

// nightIn finds a night again in another show; nil stays nil.
func nightIn(s *timeline.Show, n *timeline.Night) *timeline.Night {
	if n == nil {
		return nil
	}
	return s.Night(n.ID)
}

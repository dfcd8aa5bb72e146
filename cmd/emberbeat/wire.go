package main

import (
	"io"

	"github.com/spf13/cobra"

	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

func wireCommand(t *talk) *cobra.Command {
	v := operatedBy("wire")
	var dry bool
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
		Args:              v.takes(),
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			if err := needed(c, operation.Find("wire", "")); err != nil {
				return usage(err)
			}
			var list *load.WireList
			var out operation.Outcome
			look := looking{never: true, told: func(p *timeline.Plan, values any, told operation.Outcome) error {
				proposal, err := values.(*operation.Wiring).Propose(p.Show)
				if err == nil {
					list, out = load.NewWireList(p.Show, proposal), told
				}
				return err
			}, result: func() error {
				return t.writeOut("", t.textOrJSON(list, func(w io.Writer) error { return writeOutcome(w, out) }))
			}}
			return t.operate(c, v, args, dry, look, onShow)
		},
	}
	v.flags(c)
	dryRunFlag(c, &dry)
	return c
}

func unwireCommand(t *talk) *cobra.Command {
	return t.operatedCommand("unwire", "unwire SHOW NAME…", "take wires of placed effects away",
		`Take the wires of placed effects away, or of groups of them. NAME is a placed
effect, a group, or the id of one wire.`,
		`  emberbeat unwire tour "Comet 1" --dry-run`)
}

func feedCommand(t *talk) *cobra.Command {
	return t.operatedCommand("feed", "feed SHOW PLACED… --supply S", "have one supply feed placed effects",
		`Have one supply feed placed effects, or groups of them, and no other supply any
more. --off takes them off every supply. What was fed by another supply before,
and what uses something else than the supply holds, is said by --dry-run.`,
		`  emberbeat feed tour "Jet 1" "Jet 2" --supply "CO2 left, 2 cylinders" --dry-run
  emberbeat feed tour jets-all --off --dry-run`)
}

func regroupCommand(t *talk) *cobra.Command {
	return t.operatedCommand("regroup", "regroup SHOW GROUP", "put the effects of a group in another order",
		`Put the effects of a group in another order, in which figures run over them.
An order that takes some of them only, such as odd, leaves the others out of
the group.`,
		`  emberbeat regroup tour jets-all --order inside-out --dry-run`)
}

func unphraseCommand(t *talk) *cobra.Command {
	return t.operatedCommand("unphrase", "unphrase SHOW SONG/PHRASE…", "take phrases out with the cues they made",
		`Take phrases out of their songs, with the cues that they made. PHRASE is the
name or id of a phrase of the song.`,
		`  emberbeat unphrase tour "slow-matches/jets up" --dry-run`)
}

func retireCommand(t *talk) *cobra.Command {
	return t.operatedCommand("retire", "retire SHOW ARTICLE…", "keep articles for old shows, out of use",
		`Keep articles for old shows, out of use: they stay in the stock, marked as
retired, and cues that use them stay as they are. --back takes them into use
again.`,
		`  emberbeat retire tour "Comet, white, 12 m" --dry-run
  emberbeat retire tour "Comet, white, 12 m" --back`)
}

// operatedCommand is a verb that does one thing to the show, as the tour has it,
// and says what changed.
func (t *talk) operatedCommand(verb, use, short, long, example string) *cobra.Command {
	v := operatedBy(verb)
	var dry bool
	c := &cobra.Command{Use: use, Short: short, Long: long, Example: example, Args: v.takes(), ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			return t.operate(c, v, args, dry, looking{}, onShow)
		}}
	v.flags(c)
	dryRunFlag(c, &dry)
	return c
}

func (t *talk) saySaved(dry bool) {
	if dry {
		t.say("nothing is saved: this is what would change")
	}
}

package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
)

// guide is what emberbeat --help teaches.
const guide = `emberbeat plans stage effects to music: CO2, flames, sparks, fog, pyro.
You place the instant the audience should see; it works out when each output
must be commanded, checks the plan, and prints it. It never fires anything.

A show is a folder of plain text files. From nothing to a cue list:

  emberbeat new tour                                a new, empty show
  emberbeat add tour song.wav --title "First Song"  a song: wav, flac, mp3 or ogg
  emberbeat edit tour --add article --id jet name="CO2 jet" family=co2-jet lead=0.12 open=0.5
  emberbeat edit tour --add placed --id jet-left name="Jet left" article=jet
  emberbeat place tour --song 1 --lane Jets --target jet-left --at 17.1 --every 1bar --until 24
  emberbeat check tour                              what does not fit yet, and why
  emberbeat export tour cue-list --format csv --out cues.csv

Or look around in a finished one:

  emberbeat new demo --example
  emberbeat list demo songs
  emberbeat check demo
  emberbeat picture demo --song 1 --out song.png

Places in a song are written alike everywhere: 17.3+1/2 is bar 17, beat 3 and a
half; 1:02.5 is a time in the song; 03:01:22:10 is timecode. A song is named by
its title, folder, id or number in the running order.

Lengths, masses and temperatures are typed in metres, kilograms and °C, or with a
unit of their own: height="12 ft", fill="50 lb". They are told in the units of
the show (emberbeat edit SHOW show units=feet); --units tells them otherwise, but
not on sheets. Files, --json and what is compared stay in metres.

Results go to stdout, everything else to stderr; --json gives results to other
programs. Exit codes: 0 nothing to report, 1 findings or differences, 2 wrong
use, 3 show unreadable or too new, 4 file missing or not writable, 130 stopped.`

// newRoot builds the tree of verbs.
func newRoot(t *talk) *cobra.Command {
	root := &cobra.Command{
		Use:           programName,
		Short:         "plan, check and print stage effects programmed to music",
		Long:          guide,
		SilenceErrors: true,
		SilenceUsage:  true,

		SuggestionsMinimumDistance: 2,
		Args:                       func(c *cobra.Command, args []string) error { return unknownVerb(c, args) },
		RunE:                       func(c *cobra.Command, _ []string) error { return t.startOrHelp(c) },
	}
	root.SetIn(t.in)
	root.SetOut(t.out)
	root.SetErr(t.err)
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return hint(usage(err), c.CommandPath()+" --help shows the flags")
	})
	root.SetUsageTemplate(usageTemplate)
	cobra.EnableCommandSorting = false // verbs stand in the order of the work
	t.globalFlags(root)
	root.AddCommand(newCommand(t), addCommand(t), placeCommand(t), quantiseCommand(t), armsCommand(t), rowCommand(t), groupCommand(t), phraseCommand(t), editCommand(t),
		stockCommand(t), patchCommand(t), slotCommand(t), wireCommand(t), unwireCommand(t), regroupCommand(t), unphraseCommand(t), retireCommand(t), feedCommand(t), swapBankCommand(t), analyseCommand(t), gridCommand(t), matchCommand(t), listCommand(t),
		checkCommand(t), fixCommand(t), ruleCommand(t), ruleSetCommand(t), venueCommand(t),
		nightCommand(t), setCommand(t), arrangeCommand(t), copyCommand(t), refillCommand(t), tonightCommand(t), aftershowCommand(t), confirmCommand(t), carryCommand(t), bringBackCommand(t),
		diffCommand(t), compareCommand(t), mergeCommand(t), savesCommand(t), restoreCommand(t), explainCommand(t), exportCommand(t), pictureCommand(t), timecodeCommand(t), importCommand(t),
		openCommand(t), formatCommand(t), packCommand(t), unpackCommand(t),
		completionCommand(t), manCommand(t), versionCommand(t))
	root.SetHelpCommand(&cobra.Command{Hidden: true, Use: "no-help"})
	return root
}

// globalFlags are understood by every verb.
func (t *talk) globalFlags(root *cobra.Command) {
	f := root.PersistentFlags()
	f.BoolVar(&t.json, "json", false, "results as JSON")
	f.BoolVar(&t.quiet, "quiet", false, "no messages and no progress, only results and errors")
	f.BoolVar(&t.verbose, "verbose", false, "more messages")
	f.BoolVar(&t.noColor, "no-color", false, "no colours (also NO_COLOR and TERM=dumb)")
	f.BoolVar(&t.noInput, "no-input", false, "never ask anything")
	f.StringVar(&t.units, "units", "", "metres or feet for what is told (also "+unitsVariable+"; default: the show's)")
	flagWords(root, "units", "metres", "feet")
	root.MarkFlagsMutuallyExclusive("quiet", "verbose")
}

func unknownVerb(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	err := usage(fmt.Errorf("%q is no verb of emberbeat", args[0]))
	if close := c.SuggestionsFor(args[0]); len(close) > 0 {
		return hint(err, "did you mean "+strings.Join(close, " or ")+"?")
	}
	return hint(err, "emberbeat --help lists the verbs")
}

// takes checks the number of arguments and names the missing one. The last name
// may end in "…", which takes one or more.
func takes(names ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		last := names[len(names)-1]
		switch {
		case len(args) < len(names):
			return hint(usage(fmt.Errorf("%s needs %s", c.Name(), strings.Join(names[len(args):], " "))), "usage: "+c.UseLine())
		case len(args) > len(names) && !strings.HasSuffix(last, "…"):
			return hint(usage(fmt.Errorf("%s: unexpected argument %q", c.Name(), args[len(names)])), "usage: "+c.UseLine())
		}
		return nil
	}
}

// errNoJSON is for verbs whose result has no JSON form.
var errNoJSON = errors.New("this verb has no JSON form; leave --json out")

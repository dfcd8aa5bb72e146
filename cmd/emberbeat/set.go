package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows/report/wording"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// ordering is what the set verb is asked to do, besides its operation.
type ordering struct {
	choice
	set string
	dry bool
}

func setCommand(t *talk) *cobra.Command {
	o, v := &ordering{}, operatedBy("set")
	c := &cobra.Command{
		Use:   "set SHOW ACTION …",
		Short: "put songs in order, leave them out, set gaps",
		Long: `Change a running order, and say what that breaks and fixes: which findings come
and go, on the tour and on every night that plays it. --dry-run says so before.

` + v.help() + `

Without --set it is the one that --night plays, or the tour's.`,
		Example: `  emberbeat set tour move "Kettle Lightning" 1 --dry-run
  emberbeat set tour order "Tidewater Engine" "Slow Matches" --set "Quayside, short"
  emberbeat set tour gap 1 40 --talk "thanks to the crew"
  emberbeat set tour paste order.txt --dry-run
  emberbeat set tour new "Festival" "Slow Matches" "Tidewater Engine"`,
		Args:              actionArgs(v.actions()),
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			look := looking{always: true}
			if args[1] == "paste" {
				text, err := t.readText(args[2])
				if err != nil {
					return err
				}
				args = []string{args[0], args[1], text}
				look.plan, look.told = true, t.sayMatched
			}
			return t.operate(c, v, args, o.dry, look, o.on)
		},
	}
	o.nightFlag(c)
	c.Flags().StringVar(&o.set, "set", "", "the running order, by name or id")
	v.flags(c)
	dryRunFlag(c, &o.dry)
	return c
}

// on finds the running order that is changed, and sees its songs with the
// numbers that they have there.
func (o *ordering) on(s *session.Session, op *operation.Operation) (*timeline.Plan, timeline.Ref, error) {
	if op.Name == "new" {
		return s.Plan(""), timeline.Ref{}, nil
	}
	set, err := o.theSet(s.Show())
	if err != nil {
		return nil, timeline.Ref{}, err
	}
	return timeline.Compile(s.Show(), &timeline.Night{Set: set.ID}), timeline.Ref{Kind: "set", ID: set.ID}, nil
}

// theSet finds the running order that is changed.
func (o *ordering) theSet(s *timeline.Show) (*timeline.Set, error) {
	if o.set != "" {
		ref, err := timeline.Compile(s, nil).FindRecord("set:" + o.set)
		return s.Set(ref.ID), err
	}
	night, err := o.nightOf(s)
	if err != nil {
		return nil, err
	}
	if set := s.SetOf(night); set != nil {
		return set, nil
	}
	return nil, hint(usage(fmt.Errorf("the show has no running order yet")), "emberbeat set SHOW new NAME SONG… makes one")
}

// readText reads the text of a running order; - is standard input.
func (t *talk) readText(name string) (string, error) {
	var data []byte
	var err error
	if name == "-" {
		data, err = io.ReadAll(io.LimitReader(t.in, maxText))
	} else {
		data, err = os.ReadFile(name)
	}
	return strings.ToValidUTF8(string(data), "\uFFFD"), fileFailure(err)
}

// maxText bounds what is read of a text, far beyond any running order.
const maxText = 1 << 22

// sayMatched says which songs the lines of a running order mean, where not by their
// very names.
func (t *talk) sayMatched(p *timeline.Plan, args any, _ operation.Outcome) error {
	lines, err := args.(*operation.Pasting).Matched(p.Show, p.Set.ID)
	if err != nil {
		return err
	}
	named := 0
	for _, row := range operation.MatchedTold(p.Show, lines).Rows {
		if row[3] == "" {
			named++
			continue
		}
		t.say("line %s, %q: %s", row[0], row[1], wording.JoinGiven(", ", row[2], row[3]))
	}
	t.say("%s named by their names", timeline.Counted(named, "song"))
	return nil
}

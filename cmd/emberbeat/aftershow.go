package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

// aftershow is what the aftershow verb is asked to enter.
type aftershow struct {
	choice
	allFired, forget, dry                       bool
	fired, unfired, misfired, takenOut, cleared []string
	weights                                     []string
	by, note                                    string
}

func aftershowCommand(t *talk) *cobra.Command {
	a := &aftershow{}
	c := &cobra.Command{
		Use:   "aftershow SHOW --night N",
		Short: "enter what was fired, left and weighed after a show",
		Long: `Enter what became of a night's loads, output by output, and what was left in
its cylinders. Stock falls by what was fired and by what misfired; what was not
fired stays as the next night's load; a misfire stays open, on every later
night, until it is cleared by a name. What was weighed is the next night's fill.

An output is bank:output, such as "bank A:7", by name or id. What was entered
before stays where nothing else is said, so that the same may be entered again.
Without any of it, the night's stock and what is not entered yet are printed.
The exit code is 1 while a misfire of the night is open.`,
		Example: `  emberbeat aftershow tour --night saltglass-first --all-fired --unfired "bank A:12" --dry-run
  emberbeat aftershow tour --night saltglass-first --misfired bank-a:13 --weight co2-left=12.4
  emberbeat aftershow tour --night saltglass-first --misfired bank-a:13 --cleared bank-a:13 --by "R. Holm" --dry-run`,
		Args: takes("SHOW"),
		RunE: func(_ *cobra.Command, args []string) error { return t.aftershow(args[0], a) },
	}
	a.nightFlag(c)
	f := c.Flags()
	f.BoolVar(&a.allFired, "all-fired", false, "what timecode commanded, and nothing else is said of, was fired")
	f.StringArrayVar(&a.fired, "fired", nil, "this output was fired; may be given again")
	f.StringArrayVar(&a.unfired, "unfired", nil, "this output was not fired and stays loaded")
	f.StringArrayVar(&a.misfired, "misfired", nil, "this output misfired")
	f.StringArrayVar(&a.takenOut, "taken-out", nil, "this output was not fired, and its load is back in stock")
	f.StringArrayVar(&a.cleared, "cleared", nil, "the misfire at this output has been cleared; needs --by")
	f.StringArrayVar(&a.weights, "weight", nil, "supply=kg: what was left in a supply")
	f.StringVar(&a.by, "by", "", "who cleared the misfires")
	f.StringVar(&a.note, "note", "", "how they were cleared")
	f.BoolVar(&a.forget, "forget", false, "take away first all that was entered for the night")
	dryRunFlag(c, &a.dry)
	return c
}

func (t *talk) aftershow(dir string, a *aftershow) error {
	s, err := t.open(dir, a.dry || !a.enters())
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	if a.night == "" {
		return hint(usage(fmt.Errorf("no night is chosen")), "add --night with its name, folder name, date or id")
	}
	n, err := a.nightOf(s.Show())
	if err != nil {
		return err
	}
	show := s.Show()
	if a.enters() {
		edit, err := a.edit(timeline.Compile(show, n))
		if err != nil {
			return usage(err)
		}
		if show, err = t.apply(s, "after show", a.dry, edit); err != nil {
			return err
		}
		t.saySaved(a.dry)
	}
	report := sheet.NewAfterReport(timeline.Compile(show, show.Night(n.ID)))
	if err := t.writeOut("", t.textOrJSON(report, report.WriteText)); err != nil {
		return err
	}
	if len(report.Open) > 0 {
		return errFindings
	}
	return nil
}

// enters reports whether anything is entered.
func (a *aftershow) enters() bool {
	return a.allFired || a.forget || len(a.fired)+len(a.unfired)+len(a.misfired)+len(a.takenOut)+len(a.cleared)+len(a.weights) > 0
}

func (a *aftershow) edit(p *timeline.Plan) (timeline.Edit, error) {
	in := timeline.AfterShow{AllFired: a.allFired, Forget: a.forget, By: a.by, Note: a.note, Outputs: map[timeline.OutcomeState][]timeline.OutputRef{}}
	for _, o := range []struct {
		state timeline.OutcomeState
		names []string
	}{{timeline.Fired, a.fired}, {timeline.Unfired, a.unfired}, {timeline.Misfired, a.misfired}, {timeline.TakenOut, a.takenOut}} {
		at, err := outputsNamed(p, o.names)
		if err != nil {
			return nil, err
		}
		in.Outputs[o.state] = at
	}
	at, err := outputsNamed(p, a.cleared)
	if err != nil {
		return nil, err
	}
	in.Cleared = at
	for _, w := range a.weights {
		fill, err := weightNamed(p, w)
		if err != nil {
			return nil, err
		}
		in.Weights = append(in.Weights, fill)
	}
	return p.AfterShow(in)
}

func outputsNamed(p *timeline.Plan, names []string) (list []timeline.OutputRef, err error) {
	for _, name := range names {
		at, err := p.FindOutput(name)
		if err != nil {
			return nil, err
		}
		list = append(list, at)
	}
	return list, nil
}

// weightNamed reads supply=kg, with the id or name of a supply.
func weightNamed(p *timeline.Plan, text string) (timeline.Fill, error) {
	i := strings.LastIndexByte(text, '=')
	if i < 0 {
		return timeline.Fill{}, fmt.Errorf("--weight: %q must be written supply=kg", text)
	}
	kg, err := strconv.ParseFloat(text[i+1:], 64)
	if err != nil || !(kg >= 0 && kg < 1e6) {
		return timeline.Fill{}, fmt.Errorf("--weight: %q is no mass; write kg, 0 or more", text[i+1:])
	}
	ref, err := p.FindOneOf(text[:i], "supply")
	return timeline.Fill{Supply: ref.ID, Kg: kg + 0}, err
}

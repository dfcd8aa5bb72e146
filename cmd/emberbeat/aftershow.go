package main

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"emberbeat/shows/calls"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// aftershow is what the aftershow verb is asked to do, besides its operation.
type aftershow struct {
	choice
	dry bool
}

func aftershowCommand(t *talk) *cobra.Command {
	a, v := &aftershow{}, operatedBy("aftershow")
	c := &cobra.Command{
		Use:   "aftershow SHOW --night N",
		Short: "enter what was fired, left and weighed after a show",
		Long: `Enter what became of a night's loads, output by output, and what was left in
its cylinders. Stock falls by what was fired and by what misfired; what was not
fired stays as the next night's load; a misfire stays open, on every later
night, until it is cleared by a name. What was weighed is the next night's fill.

An output is bank:output, such as "bank A:7", by name or id. What was entered
before stays where nothing else is said, so that the same may be entered again.
Without any of it, the night's stock and what is not entered yet are printed,
and what was marked in the window's calling view, with the line that would enter
the missed loads: they were marked by somebody who watched, so look first.

With the first thing that is entered, the show is kept as it was commanded, in
nights/NIGHT/played-REVISION. Sheets, list, check and tonight of the night are
made from that and say "as played"; later edits do not change them. What is
entered afterwards still counts. --forget alone lets go of what was kept.
The exit code is 1 while a misfire of the night is open.`,
		Example: `  emberbeat aftershow tour --night saltglass-first --all-fired --unfired "bank A:12" --dry-run
  emberbeat aftershow tour --night saltglass-first --misfired bank-a:13 --weight co2-left=12.4
  emberbeat aftershow tour --night saltglass-first --misfired bank-a:13 --cleared bank-a:13 --by "R. Holm" --dry-run`,
		Args: takes("SHOW"),
		RunE: func(c *cobra.Command, args []string) error { return t.aftershow(c, v, args, a) },
	}
	a.nightFlag(c)
	v.flags(c)
	dryRunFlag(c, &a.dry)
	return c
}

func (t *talk) aftershow(c *cobra.Command, v *operated, args []string, a *aftershow) error {
	o, texts := v.asked(args)
	enters := entersAfter(c, o)
	s, err := t.open(args[0], a.dry || !enters)
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
	if enters {
		p := timeline.Compile(show.AsPlayed(n))
		values, err := v.arguments(c, p, o, texts)
		if err != nil {
			return usage(err)
		}
		edit, err := o.Edit(at(c.Context(), s, p, timeline.Ref{Kind: "night", ID: n.ID}), values)
		if err != nil {
			return usage(spelled(o, err))
		}
		if show, err = t.apply(s, o.Say(show, values), a.dry, edit); err != nil {
			return err
		}
		t.saySaved(a.dry)
	}
	plan := timeline.Compile(show.AsPlayed(show.Night(n.ID)))
	report := load.NewAfterReport(plan)
	out := struct {
		*load.AfterReport
		Called *calls.Offer `json:"called,omitempty"`
	}{AfterReport: report}
	log, bad := calls.Read(args[0], n)
	if bad != nil {
		t.warn("%v", bad)
	}
	if len(log) > 0 {
		out.Called = calls.Of(plan, log)
	}
	write := func(w io.Writer) error { return errors.Join(report.WriteText(w), out.Called.WriteText(w)) }
	if err := t.writeOut("", t.textOrJSON(out, write)); err != nil {
		return err
	}
	if len(report.Open) > 0 {
		return errFindings
	}
	return nil
}

// entersAfter reports whether anything is entered; who cleared a misfire, and
// how, is nothing by itself.
func entersAfter(c *cobra.Command, o *operation.Operation) bool {
	for i := range o.Args {
		a := &o.Args[i]
		given := flagTexts(c, a)
		if a.Name != "by" && a.Name != "note" && len(given) > 0 && given[0] != "false" {
			return true
		}
	}
	return false
}

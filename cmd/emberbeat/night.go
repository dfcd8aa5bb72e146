package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows/report"
	"emberbeat/shows/report/changed"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// nightly is what the night verb is asked to do, besides its operation.
type nightly struct {
	choice
	dry bool
}

func nightCommand(t *talk) *cobra.Command {
	n, v := &nightly{}, operatedBy("night")
	c := &cobra.Command{
		Use:   "night SHOW ACTION …",
		Short: "make a date's show and change it: cut, swap, shift, accept …",
		Long: `Make the show of one date, and change it. The tour stays as it is. Every change
says which findings of the night come and go; --dry-run says so before.

` + v.help(),
		Example: `  emberbeat night tour new --date 2031-06-02 --venue "Saltglass Hall" --set "Quayside, short" --dry-run
  emberbeat night tour swap family=propane-flame --to cold-six --reason "flames banned" --night saltglass-first
  emberbeat night tour shift "Slow Matches" --by 0.12 --night saltglass-first --dry-run
  emberbeat night tour condition "fire watch of 30 minutes" --night saltglass-first`,
		Args:              v.takes(),
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			look := looking{always: true, more: n.more(t, args[1])}
			return t.operate(c, v, args, n.dry, look, n.on)
		},
	}
	n.nightFlag(c)
	v.flags(c)
	dryRunFlag(c, &n.dry)
	return c
}

// on finds the night that is changed; a new one is seen from the tour.
func (n *nightly) on(s *session.Session, o *operation.Operation) (*timeline.Plan, timeline.Ref, error) {
	if o.Name == "new" {
		return s.Plan(""), timeline.Ref{}, nil
	}
	night, err := n.theNight(s.Show())
	if err != nil {
		return nil, timeline.Ref{}, err
	}
	return timeline.Compile(s.Show(), night), timeline.Ref{Kind: "night", ID: night.ID}, nil
}

// theNight finds the night that is changed, which must be given.
func (n *nightly) theNight(s *timeline.Show) (*timeline.Night, error) {
	if n.night != "" {
		return s.FindNight(n.night)
	}
	if len(s.Nights) == 0 {
		return nil, hint(usage(fmt.Errorf("the show has no nights yet")), "emberbeat night SHOW new --date yyyy-mm-dd --venue NAME makes one")
	}
	var names []string
	for _, x := range s.Nights {
		names = append(names, fmt.Sprintf("%q (%s)", s.Called(x), x.Slug))
	}
	return nil, fmt.Errorf("no night is chosen; add --night with one of %s", strings.Join(names, ", "))
}

// more tells how many cues a cut, swap or rig change touches, and lists what a
// shift moves.
func (n *nightly) more(t *talk, action string) func(was, is *timeline.Show, list *changed.List) {
	return func(was, is *timeline.Show, list *changed.List) {
		for _, c := range list.Changes {
			night := is.Night(timeline.ID(c.ID))
			if old := was.Night(timeline.ID(c.ID)); old != nil && night != nil {
				t.sayNight(action, timeline.Compile(was, old), timeline.Compile(is, night), list)
			}
		}
	}
}

func (t *talk) sayNight(action string, was, is *timeline.Plan, list *changed.List) {
	for _, c := range report.NewNightChanges(was, is) {
		switch {
		case action == "shift":
		case c.Cues == 0:
			t.warn("%s: it touches no cue of the night", c.Text)
		default:
			t.say("%s: %d cues", c.Text, c.Cues)
		}
	}
	if action == "shift" || action == "back" {
		for i := range is.Songs {
			list.Moved = append(list.Moved, changed.NewMoved(was, is, is.Songs[i].Song.ID)...)
		}
	}
}

package main

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// nightly is what the night verb is asked to do.
type nightly struct {
	choice
	name, id, date, venue, set, revision, like string
	to, reason, by, start                      string
	dry                                        bool
	given                                      func(flag string) bool
	ctx                                        context.Context
}

var nightActions = []verbAction{
	{"new", "", 0, 0, []string{"name", "id", "date", "venue", "set", "revision", "like"}},
	{"cut", "WHAT=NAME", 1, 1, []string{"reason"}},
	{"swap", "WHAT=NAME", 1, 1, []string{"to", "reason"}},
	{"out", "NAME", 1, 1, []string{"reason"}},
	{"plug", "NAME UNIT OUTPUT", 3, 3, []string{"reason"}},
	{"shift", "SONG", 1, 1, []string{"by", "start"}},
	{"fill", "SUPPLY KG", 2, 2, nil},
	{"condition", "TEXT", 1, 1, nil},
	{"distance", "WHOM METRES", 2, many, []string{"reason"}},
	{"accept", "RULE RECORD", 2, 2, []string{"by", "reason"}},
	{"back", "ACTION", 1, 2, nil},
}

// nightEdit gives the edit of an action on the night that the plan is of.
type nightEdit func(*nightly, *session.Session, *timeline.Plan, []string) (timeline.Edit, error)

var nightEdits = map[string]nightEdit{"cut": (*nightly).cut, "swap": (*nightly).swap, "out": (*nightly).out, "plug": (*nightly).plug, "shift": (*nightly).shift,
	"fill": (*nightly).fill, "condition": (*nightly).condition, "distance": (*nightly).distance, "accept": (*nightly).accept, "back": (*nightly).back}

func nightCommand(t *talk) *cobra.Command {
	n := &nightly{}
	c := &cobra.Command{
		Use:   "night SHOW ACTION …",
		Short: "make a date's show and change it: cut, swap, shift, accept …",
		Long: `Make the show of one date, and change it. The tour stays as it is. Every change
says which findings of the night come and go; --dry-run says so before.

  new                  a night: --date --venue --set --name --revision;
                       --like NIGHT takes another one's set, venue and changes
  cut WHAT=NAME        cues taken out: family= article= placed= lane= cue= song=
  swap WHAT=NAME       --to ARTICLE, on the same hits
  out NAME             a placed effect, bank or device is out of the rig
  plug NAME UNIT N     a placed effect, or wire, goes to output N of a bank or
                       device (swap-bank --night does it for a whole bank)
  shift SONG           --by SECONDS, for playback that is late, or with - early;
                       0 ends it; --start TIMECODE; what moves is listed
  fill SUPPLY KG       what was weighed
  condition TEXT       what the authority demands, in words
  distance WHOM METRES family=NAME|article=NAME…   what it demands to audience,
                       performers or persons; 2x is two fallout radii
  accept RULE RECORD   --by NAME --reason WHY: what a rule finds about a record,
                       as long as its numbers stay the same
  back ACTION [N]      takes back the n-th cut, swap, out, shift …`,
		Example: `  emberbeat night tour new --date 2031-06-02 --venue "Saltglass Hall" --set "Quayside, short" --dry-run
  emberbeat night tour swap family=propane-flame --to cold-six --reason "flames banned" --night saltglass-first
  emberbeat night tour shift "Slow Matches" --by 0.12 --night saltglass-first --dry-run
  emberbeat night tour condition "fire watch of 30 minutes" --night saltglass-first`,
		Args:              actionArgs(nightActions),
		ValidArgsFunction: words(nil, func() []string { return actionNames(nightActions) }),
		RunE: func(c *cobra.Command, args []string) error {
			n.given, n.ctx = c.Flags().Changed, c.Context()
			return t.changeNight(n, args)
		},
	}
	n.flags(c)
	return c
}

func (n *nightly) flags(c *cobra.Command) {
	n.nightFlag(c)
	f := c.Flags()
	f.StringVar(&n.name, "name", "", "new: what the crew calls it (default: venue and date)")
	f.StringVar(&n.id, "id", "", "new: its id (default: a random one)")
	f.StringVar(&n.date, "date", "", "new: yyyy-mm-dd")
	f.StringVar(&n.venue, "venue", "", "new: the place, by name or id")
	f.StringVar(&n.set, "set", "", "new: the running order, by name or id (default: the tour's)")
	f.StringVar(&n.revision, "revision", "", "new: printed on every sheet")
	f.StringVar(&n.like, "like", "", "new: a night whose set, venue and changes it takes")
	f.StringVar(&n.to, "to", "", "swap: the article that is played instead")
	f.StringVar(&n.reason, "reason", "", "cut, swap, out, distance, accept: why, or who asks for it")
	f.StringVar(&n.by, "by", "", "shift: seconds; accept: who accepts")
	f.StringVar(&n.start, "start", "", "shift: another timecode for the start of the song")
	dryRunFlag(c, &n.dry)
}

// changeNight makes the change and says what it comes to.
func (t *talk) changeNight(n *nightly, args []string) error {
	look := looking{always: true, more: n.more(t, args[1])}
	return t.changeLooking(n.ctx, args[0], "night "+args[1], n.dry, look, func(s *session.Session) (timeline.Edit, error) {
		if args[1] == "new" {
			return n.add(s.Plan(""))
		}
		night, err := n.theNight(s.Show())
		if err != nil {
			return nil, err
		}
		return nightEdits[args[1]](n, s, timeline.Compile(s.Show(), night), args[2:])
	})
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
		names = append(names, fmt.Sprintf("%q (%s)", x.Name, x.Slug))
	}
	return nil, fmt.Errorf("no night is chosen; add --night with one of %s", strings.Join(names, ", "))
}

// more tells how many cues a cut, swap or rig change touches, and lists what a
// shift moves.
func (n *nightly) more(t *talk, action string) func(was, is *timeline.Show, list *sheet.ChangeList) {
	return func(was, is *timeline.Show, list *sheet.ChangeList) {
		for _, c := range list.Changes {
			night := is.Night(timeline.ID(c.ID))
			if old := was.Night(timeline.ID(c.ID)); old != nil && night != nil {
				t.sayNight(action, timeline.Compile(was, old), timeline.Compile(is, night), list)
			}
		}
	}
}

func (t *talk) sayNight(action string, was, is *timeline.Plan, list *sheet.ChangeList) {
	for _, c := range sheet.NewNightChanges(was, is) {
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
			list.Moved = append(list.Moved, sheet.NewMoved(was, is, is.Songs[i].Song.ID)...)
		}
	}
}

// add makes a new night.
func (n *nightly) add(p *timeline.Plan) (timeline.Edit, error) {
	var night timeline.Night
	if n.like != "" {
		other, err := p.Show.FindNight(n.like)
		if err != nil {
			return nil, err
		}
		night = other.Like()
	}
	night.ID = timeline.ID(n.id)
	if night.ID == "" {
		night.ID = shows.NewIDFor(p.Show, "night", "")
	}
	night.Name, night.Date, night.Revision = n.name, n.date, n.revision
	for _, f := range []struct {
		kind, text string
		to         *timeline.ID
	}{{"venue", n.venue, &night.Venue}, {"set", n.set, &night.Set}} {
		if f.text == "" {
			continue
		}
		ref, err := p.FindRecord(f.kind + ":" + f.text)
		if err != nil {
			return nil, &timeline.ValueError{Kind: "night", Field: f.kind, Value: f.text, Want: err.Error()}
		}
		*f.to = ref.ID
	}
	return timeline.AddNight(night), nil
}

func (n *nightly) cut(_ *session.Session, p *timeline.Plan, args []string) (timeline.Edit, error) {
	sel, err := p.FindSelector(args[0])
	return timeline.CutTonight(p.Night.ID, timeline.Cut{Selector: sel, Reason: n.reason}), err
}

func (n *nightly) swap(_ *session.Session, p *timeline.Plan, args []string) (timeline.Edit, error) {
	if n.to == "" {
		return nil, fmt.Errorf("nothing is played instead; add --to with its name or id, an article of the stock")
	}
	sel, err := p.FindSelector(args[0])
	if err != nil {
		return nil, err
	}
	to, err := p.FindRecord("article:" + n.to)
	return timeline.SwapTonight(p.Night.ID, timeline.Swap{Selector: sel, To: to.ID, Reason: n.reason}), err
}

func (n *nightly) out(_ *session.Session, p *timeline.Plan, args []string) (timeline.Edit, error) {
	ref, err := oneOf(p, args[0], "placed", "bank", "device")
	return timeline.TakeOutTonight(p.Night.ID, timeline.RigChange{Kind: ref.Kind, ID: ref.ID, Why: n.reason}), err
}

func (n *nightly) plug(_ *session.Session, p *timeline.Plan, args []string) (timeline.Edit, error) {
	what, err := oneOf(p, args[0], "placed", "wire")
	if err != nil {
		return nil, err
	}
	unit, err := oneOf(p, args[1], "bank", "device")
	if err != nil {
		return nil, err
	}
	output, err := strconv.Atoi(args[2])
	if err != nil {
		return nil, fmt.Errorf("night plug: %q is no output; write its number, from 1", args[2])
	}
	return timeline.PlugTonight(p.Night.ID, timeline.RigChange{Kind: what.Kind, ID: what.ID, Unit: unit.ID, Output: output, Why: n.reason}), nil
}

func (n *nightly) shift(_ *session.Session, p *timeline.Plan, args []string) (timeline.Edit, error) {
	song, err := p.FindSong(args[0])
	if err != nil {
		return nil, err
	}
	h := timeline.Shift{Song: song.ID}
	if n.by == "" && n.start == "" {
		return nil, fmt.Errorf("nothing moves the song; add --by with seconds, or --start with a timecode")
	}
	if n.by != "" {
		if h.By, err = timeline.ParseTime(n.by); err != nil {
			return nil, fmt.Errorf("--by: %w", err)
		}
	}
	if n.start != "" {
		start, err := timeline.ParseTimecode(n.start)
		if err != nil {
			return nil, fmt.Errorf("--start: %w", err)
		}
		h.Start = &start
	}
	return timeline.ShiftTonight(p.Night.ID, h), nil
}

func (n *nightly) fill(_ *session.Session, p *timeline.Plan, args []string) (timeline.Edit, error) {
	ref, err := p.FindRecord("supply:" + args[0])
	if err != nil {
		return nil, err
	}
	kg, err := strconv.ParseFloat(args[1], 64)
	if err != nil {
		return nil, fmt.Errorf("%q must be a mass in kg, 0 or more", args[1])
	}
	return timeline.FillTonight(p.Night.ID, timeline.Fill{Supply: ref.ID, Kg: kg}), nil
}

func (n *nightly) condition(_ *session.Session, p *timeline.Plan, args []string) (timeline.Edit, error) {
	return timeline.ConditionTonight(p.Night.ID, args[0]), nil
}

func (n *nightly) distance(_ *session.Session, p *timeline.Plan, args []string) (timeline.Edit, error) {
	d, err := distanceOf(p, args, n.reason)
	return timeline.DistanceTonight(p.Night.ID, d), err
}

// accept finds what the rule has found about the record on this night.
func (n *nightly) accept(s *session.Session, p *timeline.Plan, args []string) (timeline.Edit, error) {
	if _, known := rule.Lookup(args[0]); !known {
		return nil, hint(usage(fmt.Errorf("there is no rule %q", args[0])), "emberbeat explain lists the rules")
	}
	ref, err := p.FindRecord(args[1])
	if err != nil {
		return nil, err
	}
	_, found, err := checkPlan(n.ctx, s, p, "")
	if err != nil {
		return nil, err
	}
	var digests, others []string
	for i := range found {
		switch f := &found[i]; {
		case f.Rule != args[0]:
		case f.Ref == ref:
			digests = append(digests, f.Digest())
		case !slices.Contains(others, f.Ref.String()):
			others = append(others, f.Ref.String())
		}
	}
	if len(digests) == 0 {
		where := "nothing at all"
		if len(others) > 0 {
			where = "it has about " + strings.Join(others, ", ")
		}
		return nil, fmt.Errorf("%s has found nothing about %s on this night; %s", args[0], ref, where)
	}
	return timeline.AcceptTonight(p.Night.ID, timeline.Acceptance{Rule: args[0], Record: ref.String(), By: n.by, Reason: n.reason}, digests...), nil
}

// nightLists says in which list of a night an action leaves its mark.
var nightLists = map[string]string{"cut": "cuts", "swap": "swaps", "out": "rig-changes", "plug": "rig-changes", "shift": "shifts", "fill": "fills", "condition": "conditions", "distance": "distances", "accept": "accepted"}

// back takes an item out of one of the night's lists: the one there is, or that
// of the number.
func (n *nightly) back(_ *session.Session, p *timeline.Plan, args []string) (timeline.Edit, error) {
	field, ok := nightLists[args[0]]
	if !ok {
		return nil, fmt.Errorf("night back: %q is nothing to take back; write one of cut, swap, out, plug, shift, fill, condition, distance, accept", args[0])
	}
	return dropItem(timeline.Ref{Kind: "night", ID: p.Night.ID}, field, p.Night, args[1:])
}

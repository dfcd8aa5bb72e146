package main

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// ordering is what the set verb is asked to do.
type ordering struct {
	choice
	set, like, talk string
	no, dry         bool
	given           func(flag string) bool
}

var setActions = []verbAction{
	{"order", "SONG…", 1, many, nil}, {"move", "SONG N", 2, 2, nil}, {"out", "SONG…", 1, many, nil}, {"in", "SONG…", 1, many, nil}, {"gap", "SONG SECONDS", 2, 2, []string{"talk"}},
	{"encore", "SONG…", 1, many, []string{"no"}}, {"alternatives", "SONG SONG…", 1, many, []string{"no"}}, {"new", "NAME", 1, many, []string{"like"}},
}

func setCommand(t *talk) *cobra.Command {
	o := &ordering{}
	c := &cobra.Command{
		Use:   "set SHOW ACTION …",
		Short: "put songs in order, leave them out, set gaps",
		Long: `Change a running order, and say what that breaks and mends: which findings come
and go, on the tour and on every night that plays it. --dry-run says so before.

  order SONG…          these songs, in this order; others stay in it, left out
  move SONG N          plays a song as number N
  out SONG…            left out, kept in their place
  in SONG…             played again; songs that were not in it come at the end
  gap SONG SECONDS     from the end of a song to the start of the next; --talk
                       says what happens in it
  encore SONG…         are encores; with --no they are none
  alternatives SONG SONG…   one of them is played; with --no all are
  new NAME SONG…       a running order of its own; --like SET takes gaps, talk
                       and what else is said of the songs from another

Without --set it is the one that --night plays, or the tour's.`,
		Example: `  emberbeat set tour move "Kettle Lightning" 1 --dry-run
  emberbeat set tour order "Tidewater Engine" "Slow Matches" --set "Quayside, short"
  emberbeat set tour gap 1 40 --talk "thanks to the crew"
  emberbeat set tour new "Festival" "Slow Matches" "Tidewater Engine"`,
		Args:              actionArgs(setActions),
		ValidArgsFunction: words(nil, func() []string { return actionNames(setActions) }),
		RunE: func(c *cobra.Command, args []string) error {
			o.given = c.Flags().Changed
			return t.changeSet(c.Context(), o, args)
		},
	}
	o.nightFlag(c)
	f := c.Flags()
	f.StringVar(&o.set, "set", "", "the running order, by name or id")
	f.StringVar(&o.like, "like", "", "new: a running order to begin with")
	f.StringVar(&o.talk, "talk", "", "gap: what happens in it")
	f.BoolVar(&o.no, "no", false, "encore, alternatives: they are it no more")
	dryRunFlag(c, &o.dry)
	return c
}

func (t *talk) changeSet(ctx context.Context, o *ordering, args []string) error {
	return t.changeLooking(ctx, args[0], "set "+args[1], o.dry, looking{always: true}, func(s *session.Session) (timeline.Edit, error) {
		if args[1] == "new" {
			return o.add(s.Plan(""), args[2], args[3:])
		}
		set, err := o.theSet(s.Show())
		if err != nil {
			return nil, err
		}
		return o.edit(timeline.Compile(s.Show(), &timeline.Night{Set: set.ID}), args[1], args[2:])
	})
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

// edit gives the edit of a plan's set; numbers of songs are those of the set.
func (o *ordering) edit(p *timeline.Plan, action string, args []string) (timeline.Edit, error) {
	set := p.Set.ID
	names, last := args, ""
	if action == "move" || action == "gap" {
		names, last = args[:1], args[1]
	}
	songs, err := songsNamed(p, names)
	if err != nil {
		return nil, err
	}
	switch action {
	case "order":
		return timeline.OrderSet(set, songs...), nil
	case "out":
		return timeline.LeaveOut(set, songs...), nil
	case "in":
		return timeline.BringIn(set, songs...), nil
	case "encore":
		return timeline.EncoreInSet(set, !o.no, songs...), nil
	case "alternatives":
		if o.no {
			return timeline.NoAlternative(set, songs...), nil
		}
		return timeline.AlternativesInSet(set, songs...), nil
	case "move":
		n, err := strconv.Atoi(last)
		if err != nil {
			return nil, fmt.Errorf("set move: %q must be a place in the order, such as 1 for the first song", last)
		}
		return timeline.MoveInSet(set, songs[0], n), nil
	}
	gap, err := timeline.ParseTime(last)
	if err != nil {
		return nil, fmt.Errorf("gap: %w", err)
	}
	var talk *string
	if o.given("talk") {
		talk = &o.talk
	}
	return timeline.GapAfter(set, songs[0], gap, talk), nil
}

// add makes a new running order.
func (o *ordering) add(p *timeline.Plan, name string, args []string) (timeline.Edit, error) {
	songs, err := songsNamed(p, args)
	if err != nil {
		return nil, err
	}
	set := timeline.Set{Base: timeline.Base{ID: shows.NewIDFor(p.Show, "set", "")}, Name: name}
	if o.like != "" {
		ref, err := p.FindRecord("set:" + o.like)
		if err != nil {
			return nil, err
		}
		set.Entries = slices.Clone(p.Show.Set(ref.ID).Entries)
	}
	return func(d *timeline.Draft) error {
		if err := timeline.AddSet(set)(d); err != nil || len(songs) == 0 {
			return err
		}
		return timeline.OrderSet(set.ID, songs...)(d)
	}, nil
}

func songsNamed(p *timeline.Plan, names []string) ([]timeline.ID, error) {
	var ids []timeline.ID
	for _, name := range names {
		g, err := p.FindSong(name)
		if err != nil {
			return nil, err
		}
		ids = append(ids, g.ID)
	}
	return ids, nil
}

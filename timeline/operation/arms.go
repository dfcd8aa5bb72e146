package operation

import (
	"fmt"
	"strconv"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/rule"
)

// armsOperations lay the windows that hits need.
func armsOperations() []*Operation { return []*Operation{arms()} }

// Arming are the arguments of windows that are laid.
type Arming struct {
	Songs []timeline.ID // none = all of the show
	Role  timeline.SlotRole
}

func arms() *Operation {
	type A = Arming
	return tells(does(Operation{Verb: "arms", Menu: "Lay arms and conditions…", Title: "Lay arms and conditions", Button: "Lay", Plays: true,
		Tip:  "lays, widens and joins the arm and condition windows that the hits need, from the leads of their device types; windows made by hand stay as they are",
		Help: "lays the arm and condition windows that the hits of songs need",
		Args: []Argument{
			{Field: ids("songs", "songs, by title, folder, id or number (default: all)", func(a *A) *[]timeline.ID { return &a.Songs }, "song"), Word: "SONG…", Optional: true, Label: "Songs", Hint: "empty = all"},
			{Field: field.Choice("role", "only these: arm, condition (default: both)", func(a *A) *timeline.SlotRole { return &a.Role }, []timeline.SlotRole{"", timeline.ArmSlot, timeline.ConditionSlot}), Label: "Role"},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			list, err := a.layings(at.Show)
			edits := make([]timeline.Edit, len(list))
			for i, l := range list {
				edits[i] = l.Edit()
			}
			return together(edits), err
		},
		func(s *timeline.Show, a *A) string {
			what := "arms and conditions"
			if a.Role != "" {
				what = string(a.Role) + "s"
			}
			if len(a.Songs) == 1 {
				return "lay " + what + " in " + s.Named("song", a.Songs[0])
			}
			return "lay " + what
		}), func(at At, a *A) (Outcome, error) {
		list, err := a.layings(at.Show)
		if err != nil {
			return Outcome{}, err
		}
		return layingsTold(at.Show, list)
	})
}

// together is several edits as one; none are nil.
func together(edits []timeline.Edit) timeline.Edit {
	if len(edits) == 0 {
		return nil
	}
	return func(d *timeline.Draft) error {
		for _, e := range edits {
			if err := e(d); err != nil {
				return err
			}
		}
		return nil
	}
}

// layings works out what is to be laid, song by song; songs in which nothing is
// to be done are left out.
func (a *Arming) layings(s *timeline.Show) ([]*timeline.Laying, error) {
	songs := a.Songs
	if len(songs) == 0 {
		for _, g := range s.SongsByStart() {
			if !g.Shares {
				songs = append(songs, g.ID)
			}
		}
	}
	var roles []timeline.SlotRole
	if a.Role != "" {
		roles = append(roles, a.Role)
	}
	var list []*timeline.Laying
	for _, id := range songs {
		l, err := s.Lay(id, roles...)
		if err != nil {
			return nil, err
		}
		if !l.Empty() {
			list = append(list, l)
		}
	}
	return list, nil
}

// layingsTold tells which windows are laid where, and for how long slots are on
// before and after.
func layingsTold(s *timeline.Show, list []*timeline.Laying) (Outcome, error) {
	out := Outcome{Columns: columns("Song", "Lane", "From", "#Seconds", "What")}
	if len(list) == 0 {
		out.Lines = []string{"nothing to lay: no hit needs an arm or condition that it has not"}
		return out, nil
	}
	edits := make([]timeline.Edit, len(list))
	for i, l := range list {
		edits[i] = l.Edit()
	}
	next, err := s.Edit(edits...)
	if err != nil {
		return Outcome{}, err
	}
	names := next.Names()
	for _, l := range list {
		row := func(c *timeline.Cue, show *timeline.Show, what string) {
			g := show.Song(l.Song)
			lane := ""
			if x := g.Lane(c.Lane); x != nil {
				lane = names.Called(l.Song, x)
			}
			if c.Target != "" {
				lane += " (" + next.NamedTarget(c.Target) + ")"
			}
			out.Rows = append(out.Rows, []string{g.FullTitle(), lane, c.At.String(), c.Open.String(), what})
		}
		for i, c := range l.Put {
			switch was := l.Was[i]; {
			case was == nil:
				row(c, next, "laid")
			default:
				row(c, next, fmt.Sprintf("instead of %s for %s s", was.At, was.Open))
			}
		}
		for _, c := range l.Gone {
			row(c, s, "taken out")
		}
		out.Lines = append(out.Lines, fmt.Sprintf("%s: joined over gaps of up to %s s", next.Song(l.Song).FullTitle(), rule.LaidGap.Time(s, next.Song(l.Song)).Text(1)))
		for _, lane := range l.Lanes {
			out.Lines = append(out.Lines, next.Song(l.Song).FullTitle()+": lane "+strconv.Quote(names.Called(l.Song, lane))+" is made")
		}
		for _, role := range []timeline.SlotRole{timeline.ArmSlot, timeline.ConditionSlot} {
			before, _ := s.OnFor(l.Song, role)
			after, slots := next.OnFor(l.Song, role)
			if before != after {
				out.Lines = append(out.Lines, fmt.Sprintf("%s: %ss on for %s s before, %s s after, over %s together", next.Song(l.Song).FullTitle(), role, before.Text(1), after.Text(1), timeline.Counted(slots, "slot")))
			}
		}
	}
	return out, nil
}

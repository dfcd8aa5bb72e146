package operation

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// setOperations put songs in order. Numbers of songs are those of the set that
// is changed.
func setOperations() []*Operation {
	return []*Operation{order(), move(), leaveOut(), bringIn(), gap(), encore(), alternatives(), setVersion(), pasteOrder(), newSet()}
}

// InSet are the arguments of what is said of songs in a set.
type InSet struct {
	Songs []timeline.ID
	// Places are the entries meant, from 0, for a table in which a song may stand
	// twice; nil is the first of each song.
	Places []int
	No     bool // it is said of them no more
}

// songs reads songs by title, folder, id or number.
func songs[A any](label string, at func(*A) *[]timeline.ID) Argument {
	f := field.List("songs", "songs, by title, folder, id or number", at, func(id timeline.ID) string { return string(id) },
		func(s string) (timeline.ID, error) { return timeline.ID(s), nil })
	f.Ref = []string{"song"}
	return Argument{Field: f, Word: "SONG…", Label: label}
}

// song reads one song in the same way. A form is about the one that was chosen.
func song[A any](at func(*A) *timeline.ID) Argument {
	return Argument{Field: id("song", "the song, by title, folder, id or number", at, "song"), Word: "SONG", NoForm: true}
}

func inSet(label string) Argument {
	return songs(label, func(a *InSet) *[]timeline.ID { return &a.Songs })
}

func noMore(label string) Argument {
	return Argument{Field: field.Flag("no", "they are it no more", func(a *InSet) *bool { return &a.No }), Label: label}
}

// entries gives the edit of the entries meant, or else that of the songs.
func (a *InSet) entries(set timeline.ID, change func(*timeline.Entry), whole timeline.Edit) timeline.Edit {
	if a.Places == nil {
		return whole
	}
	return func(d *timeline.Draft) error {
		for _, i := range a.Places {
			if err := timeline.EditEntry(set, i, change)(d); err != nil {
				return err
			}
		}
		return nil
	}
}

// songsSaid names songs; of many it says how many.
func songsSaid(s *timeline.Show, list []timeline.ID) string {
	if len(list) > 3 {
		return fmt.Sprintf("%d songs", len(list))
	}
	var names []string
	for _, id := range list {
		names = append(names, s.Named("song", id))
	}
	if len(names) == 0 {
		return "no song"
	}
	return strings.Join(names, ", ")
}

func order() *Operation {
	type A = InSet
	return does(Operation{Verb: "set", On: "set", Name: "order", Menu: "Play only these", Title: "Order of songs", Button: "Order", Plays: true,
		Tip:  "plays the chosen songs in their order, and leaves out the others",
		Help: "these songs, in this order; others stay in it, left out",
		Args: []Argument{inSet("Songs")}},
		func(at At, a *A) (timeline.Edit, error) { return timeline.OrderSet(at.On.ID, a.Songs...), nil },
		func(s *timeline.Show, a *A) string { return "play only " + songsSaid(s, a.Songs) })
}

// Place are the arguments of a song that gets another number in a set.
type Place struct {
	Song timeline.ID
	N    int
}

func move() *Operation {
	type A = Place
	n := field.Parsed("n", "its number among the songs that are played, from 1", func(a *A) *int { return &a.N }, writeCount, func(s string) (int, error) {
		n, err := strconv.Atoi(s)
		if err != nil {
			return 0, fmt.Errorf("must be a place in the order, such as 1 for the first song")
		}
		return n, nil
	})
	return does(Operation{Verb: "set", On: "set", Name: "move", Menu: "Play as number…", Title: "Place of a song", Button: "Move", Plays: true,
		Tip:  "plays a song at another place of the running order, and says first what that breaks and fixes",
		Help: "plays a song as number N",
		Args: []Argument{song(func(a *A) *timeline.ID { return &a.Song }), {Field: n, Word: "N", Label: "As number", Hint: "1 is the first song", Need: "no number is given"}}},
		func(at At, a *A) (timeline.Edit, error) { return timeline.MoveInSet(at.On.ID, a.Song, a.N), nil },
		func(s *timeline.Show, a *A) string {
			return fmt.Sprintf("play %s as number %d", s.Named("song", a.Song), a.N)
		})
}

func leaveOut() *Operation {
	type A = InSet
	return does(Operation{Verb: "set", On: "set", Name: "out", Menu: "Leave out or put back", Title: "Leave songs out", Button: "Leave out", Plays: true,
		Tip:  "leaves the chosen songs out of the running order, or brings them in again; they keep their place",
		Help: "left out, kept in their place",
		Args: []Argument{inSet("Songs")}},
		func(at At, a *A) (timeline.Edit, error) {
			return a.entries(at.On.ID, func(e *timeline.Entry) { e.Out = true }, timeline.LeaveOut(at.On.ID, a.Songs...)), nil
		},
		func(s *timeline.Show, a *A) string { return "leave out " + songsSaid(s, a.Songs) })
}

func bringIn() *Operation {
	type A = InSet
	return does(Operation{Verb: "set", On: "set", Name: "in", Menu: "Add songs…", Title: "Add songs to the set", Button: "Add", Plays: true,
		Tip:  "puts songs of the show at the end of the running order",
		Help: "played again; songs that were not in it come at the end",
		Args: []Argument{inSet("Songs")}},
		func(at At, a *A) (timeline.Edit, error) {
			return a.entries(at.On.ID, func(e *timeline.Entry) { e.Out = false }, timeline.BringIn(at.On.ID, a.Songs...)), nil
		},
		func(s *timeline.Show, a *A) string { return "bring in " + songsSaid(s, a.Songs) })
}

// Gap are the arguments of what lies between a song and the next one.
type Gap struct {
	Song timeline.ID
	Gap  timeline.Time
	Talk *string // nil leaves it as it is
}

func gap() *Operation {
	type A = Gap
	seconds := field.Parsed("seconds", "from the end of the song to the start of the next", func(a *A) *timeline.Time { return &a.Gap }, timeline.Time.String, timeline.ParseTime)
	talk := maybeText("talk", "what happens in it", func(a *A) **string { return &a.Talk })
	return does(Operation{Verb: "set", On: "set", Name: "gap", Menu: "Gap after a song…", Title: "Gap after a song", Button: "Set", Plays: true,
		Tip:  "sets the time from a song's end to the start of the next, and what happens in it",
		Help: "from the end of a song to the start of the next; --talk says what happens in it",
		Args: []Argument{
			song(func(a *A) *timeline.ID { return &a.Song }),
			{Field: in("s", seconds), Word: "SECONDS", Label: "Gap", read: readGap},
			{Field: talk, Label: "Talk", Hint: "what happens in the gap", Empty: true},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			return timeline.GapAfter(at.On.ID, a.Song, a.Gap, a.Talk), nil
		},
		func(s *timeline.Show, a *A) string {
			return fmt.Sprintf("gap of %s s after %s", a.Gap, s.Named("song", a.Song))
		})
}

func readGap(_ *timeline.Plan, text string) (field.Value, error) {
	if _, err := timeline.ParseTime(text); err != nil {
		return field.Value{}, fmt.Errorf("gap: %w", err)
	}
	return field.Value{Text: text}, nil
}

func encore() *Operation {
	type A = InSet
	return does(Operation{Verb: "set", On: "set", Name: "encore", Menu: "Encore or not", Title: "Encores", Button: "Say so",
		Tip:  "says whether the chosen songs are encores",
		Help: "are encores; with --no they are none",
		Args: []Argument{inSet("Songs"), noMore("No encore")}},
		func(at At, a *A) (timeline.Edit, error) {
			return a.entries(at.On.ID, func(e *timeline.Entry) { e.Encore = !a.No }, timeline.EncoreInSet(at.On.ID, !a.No, a.Songs...)), nil
		},
		func(s *timeline.Show, a *A) string {
			if a.No {
				return "make no encore of " + songsSaid(s, a.Songs)
			}
			return "make an encore of " + songsSaid(s, a.Songs)
		})
}

func alternatives() *Operation {
	type A = InSet
	all := inSet("Songs")
	all.Word = "SONG SONG…"
	return does(Operation{Verb: "set", On: "set", Name: "alternatives", Menu: "Make alternatives", Title: "Alternatives", Button: "Say so", Plays: true,
		Tip:  "makes the chosen songs alternatives, of which one is played",
		Help: "one of them is played; with --no all are",
		Args: []Argument{all, noMore("All are played")}},
		func(at At, a *A) (timeline.Edit, error) {
			if a.No {
				return timeline.NoAlternative(at.On.ID, a.Songs...), nil
			}
			return timeline.AlternativesInSet(at.On.ID, a.Songs...), nil
		},
		func(s *timeline.Show, a *A) string {
			if a.No {
				return "play " + songsSaid(s, a.Songs) + " whatever else is played"
			}
			return "make alternatives of " + songsSaid(s, a.Songs)
		})
}

// NewSet are the arguments of a set that is made.
type NewSet struct {
	Name  string
	Songs []timeline.ID // played in this order; none leaves the order to Like
	Like  timeline.ID   // a set whose gaps, talk, refills and the rest it takes
	ID    timeline.ID   // "" is a free one
}

func newSet() *Operation {
	type A = NewSet
	all := songs("Songs", func(a *A) *[]timeline.ID { return &a.Songs })
	all.Optional = true
	return does(Operation{Verb: "set", Name: "new", Menu: "New set", Title: "New set", Button: "Make",
		Tip:  "makes a running order of all songs by timecode",
		Help: "a running order of its own; --like SET takes gaps, talk, refills and what else is said of the songs from another",
		Args: []Argument{
			{Field: field.Text("name", "what it is called", func(a *A) *string { return &a.Name }), Word: "NAME", Label: "Name"},
			all,
			{Field: id("like", "a running order to begin with", func(a *A) *timeline.ID { return &a.Like }, "set"), Label: "Like"},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			set := timeline.Set{Base: timeline.Base{ID: a.ID}, Name: a.Name}
			if set.ID == "" {
				set.ID = at.NewID("set", "")
			}
			if like := at.Show.Set(a.Like); like != nil {
				set.Entries, set.Refills, set.Note = slices.Clone(like.Entries), slices.Clone(like.Refills), like.Note
			}
			return func(d *timeline.Draft) error {
				if err := timeline.AddSet(set)(d); err != nil || len(a.Songs) == 0 {
					return err
				}
				return timeline.OrderSet(set.ID, a.Songs...)(d)
			}, nil
		},
		func(_ *timeline.Show, a *A) string { return "add set " + strconv.Quote(a.Name) })
}

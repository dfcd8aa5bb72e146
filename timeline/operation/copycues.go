package operation

import (
	"fmt"
	"strconv"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/snap"
)

// Copying are the arguments of cues that are copied.
type Copying struct {
	timeline.SongCopy
	Snapping
}

// copy gives the copy with its lanes found, and what cues are put onto.
func (a *Copying) copy(at At) (timeline.SongCopy, error) {
	c := lanesNamed(at.Show, a.SongCopy)
	x, err := a.targets(at, c.To, snap.Off)
	if err != nil || x == nil {
		return c, err
	}
	c.Onto = func(g *timeline.Song, m timeline.Moment) timeline.Moment {
		if to, ok := a.onto(x, g, m); ok {
			return to.Moment(g.Beats, m.OnBeat)
		}
		return m
	}
	return c, nil
}

// copyOperations take cues from song to song.
func copyOperations() []*Operation { return []*Operation{copyCues()} }

func copyCues() *Operation {
	type A = Copying
	at := field.Parsed("at", "bar that the first bar comes to (default: the same number)", func(a *A) *int { return &a.At }, writeCount, func(s string) (int, error) {
		n, err := strconv.Atoi(s)
		if err != nil && s != "" {
			return 0, fmt.Errorf("is no bar; write its number, such as 33")
		}
		return n, nil
	})
	lanes := field.List("lanes", "only cues of these lanes, by name or id (default: all)", func(a *A) *[]timeline.ID { return &a.Lanes },
		func(id timeline.ID) string { return string(id) }, func(s string) (timeline.ID, error) { return timeline.ID(s), nil })
	song := func(name, word, label, help string, at func(*A) *timeline.ID) Argument {
		return Argument{Field: id(name, help, at, "song"), Word: word, Label: label, Need: "no song is chosen"}
	}
	return tells(does(Operation{Verb: "copy", Menu: "Copy cues from song to song…", Title: "Copy cues from song to song", Button: "Copy", Plays: true,
		Tip:  "copies the cues of some bars, or of a section, into another song, on its beats, with their arm and condition windows",
		Help: "copies cues of some bars, or of the sections of a name, into another song",
		Args: append([]Argument{
			song("from", "FROM", "From", "the song they come from, by title, folder, id or number", func(a *A) *timeline.ID { return &a.From }),
			song("to", "TO", "To", "the song they go to", func(a *A) *timeline.ID { return &a.To }),
			{Field: optional("bars", "bars that are copied, the first and the last: 9..16", func(a *A) **timeline.Bars { return &a.Bars }, timeline.Bars.String, timeline.ParseBars), Label: "Bars", Hint: "9..16, or a section below"},
			{Field: at, Label: "To bar", Hint: "empty = the same number"},
			{Field: field.Text("section", "section whose cues are copied, by name or id; the first to the first of that name, and so on", func(a *A) *string { return &a.Section }), Label: "Section", Hint: "its name"},
			{Field: field.Text("to-section", "section they go to (default: the one of the same name)", func(a *A) *string { return &a.ToSection }), Label: "To section", Hint: "empty = of the same name"},
			{Field: lanes, Label: "Lanes", Hint: "empty = all"},
		}, snapArgs(func(a *A) *Snapping { return &a.Snapping })...)},
		func(at At, a *A) (timeline.Edit, error) {
			c, err := a.copy(at)
			if err != nil {
				return nil, err
			}
			if _, err := at.Show.CopyOf(c); err != nil {
				return nil, err
			}
			return at.Show.CopyCues(c, at.NewID), nil
		},
		func(s *timeline.Show, a *A) string {
			what := "section " + strconv.Quote(a.Section)
			if a.Bars != nil {
				what = "bars " + a.Bars.String()
			}
			return fmt.Sprintf("copy the cues of %s from %s to %s", what, s.VersionNamed(a.From), s.VersionNamed(a.To))
		}), func(at At, a *A) (Outcome, error) {
		c, err := a.copy(at)
		if err != nil {
			return Outcome{}, err
		}
		x, err := at.Show.CopyOf(c)
		if err != nil {
			return Outcome{}, err
		}
		return copyTold(at.Show, &c, x), nil
	})
}

// lanesNamed finds the lanes that are written as names.
func lanesNamed(s *timeline.Show, c timeline.SongCopy) timeline.SongCopy {
	g := s.Programmed(s.Song(c.From))
	var ids []timeline.ID
	names := s.Names()
	for _, text := range c.Lanes {
		found := text
		if g != nil && g.Lane(text) == nil {
			for _, l := range g.Lanes {
				if l.Name == string(text) || names.Called(c.From, l) == string(text) {
					found = l.ID
				}
			}
		}
		ids = append(ids, found)
	}
	c.Lanes = ids
	return c
}

// copyTold tells where copied cues go, and which cannot be.
func copyTold(s *timeline.Show, a *timeline.SongCopy, x *timeline.SongCopied) Outcome {
	names := s.Names()
	out := Outcome{Columns: columns("Lane", "From", "To", "What")}
	for i := range x.Cues {
		c := &x.Cues[i]
		what := "cue"
		if c.Lane.Window() {
			what = string(c.Lane.Role) + " window"
		}
		out.Rows = append(out.Rows, []string{names.Called(a.From, c.Lane), c.Was.String(), c.Cue.At.String(), what})
	}
	for _, n := range x.Not {
		lane := "?"
		if n.Lane != nil {
			lane = names.Called(a.From, n.Lane)
		}
		out.Rows = append(out.Rows, []string{lane, n.Cue.At.String(), "nowhere", n.Why})
	}
	out.Lines = append(out.Lines, timeline.Counted(len(x.Cues), "cue")+" copied, "+strconv.Itoa(len(x.Not))+" not")
	for _, l := range x.Lanes {
		out.Lines = append(out.Lines, "lane "+strconv.Quote(names.Called(a.From, l))+" is made")
	}
	out.Lines = append(out.Lines, x.Notes...)
	return out
}

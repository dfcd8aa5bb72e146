package operation

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// carryOperations take songs over to new recordings of theirs.
func carryOperations() []*Operation { return []*Operation{carryOver(), bringBack()} }

// Carrying are the arguments of songs that are carried over to new recordings.
type Carrying struct {
	Files []string      // recordings, or folders of them
	Song  timeline.ID   // that the recording is of; "" finds it by what is heard
	Take  []string      // copies that are made: all, the name of a section, the id of a record
	Start bool          // the song starts where its new recording says
	Add   bool          // recordings of no song are added as new ones
	Undo  []timeline.ID // songs that become what they were before they were carried over
}

func carryOver() *Operation {
	type A = Carrying
	return does(Operation{Verb: "carry", Menu: "Carry over to a new recording…", Title: "Carry over to a new recording", Button: "Carry over", Plays: true,
		Tip:  "takes cues, sections, markers and beat map of a song over to a new recording of it, found by what is heard",
		Help: "takes songs over to new recordings of theirs",
		Args: []Argument{
			{Field: field.TextList("files", "recordings, or folders of them", func(a *A) *[]string { return &a.Files }), Word: "FILE…", Optional: true, NoForm: true},
			{Field: id("song", "the song that the recording is of: title, folder, id or number (default: by what is heard)", func(a *A) *timeline.ID { return &a.Song }, "song")},
			{Field: field.TextList("take", "what is copied where music is heard more than once now: all, or names of sections", func(a *A) *[]string { return &a.Take }), Commas: true},
			{Field: field.Flag("start", "the song starts in timecode where its new recording says", func(a *A) *bool { return &a.Start })},
			{Field: field.Flag("add", "a recording of no song is added as a new one", func(a *A) *bool { return &a.Add })},
			{Field: ids("undo", "this song becomes what it was before it was carried over", func(a *A) *[]timeline.ID { return &a.Undo }, "song")},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			switch {
			case len(a.Undo) > 0 && len(a.Files) > 0:
				return nil, errors.New("{undo} takes back what was carried over, and no recording with it; leave one of them out")
			case len(a.Undo) > 0:
				return undoCarrying(at, a.Undo)
			case len(a.Files) == 0:
				return nil, errors.New("no recording is named; write the file of one, or a folder of them")
			case at.Carried == nil:
				return nil, errors.New("recordings cannot be compared here")
			}
			return at.Carried(a)
		},
		func(s *timeline.Show, a *A) string {
			if len(a.Undo) > 0 {
				return "undo carrying over " + songsNamed(s, a.Undo)
			}
			text := "carry over to " + timeline.Counted(len(a.Files), "recording")
			if len(a.Files) == 1 {
				text = "carry over to " + a.Files[0]
			}
			if a.Song != "" {
				text = "carry " + s.Named("song", a.Song) + strings.TrimPrefix(text, "carry")
			}
			return text
		})
}

func songsNamed(s *timeline.Show, ids []timeline.ID) string {
	var names []string
	for _, id := range ids {
		names = append(names, s.Named("song", id))
	}
	return strings.Join(names, ", ")
}

// undoCarrying makes songs what they were before they had the recording that they have
// now.
func undoCarrying(at At, songs []timeline.ID) (timeline.Edit, error) {
	if at.Before == nil {
		return nil, errors.New("what the song was before is not known here")
	}
	var edits []timeline.Edit
	for _, id := range songs {
		g := at.Show.Song(id)
		if g == nil {
			return nil, fmt.Errorf("the show has no song %q", id)
		}
		if g.Audio.FileHash == "" {
			return nil, fmt.Errorf("song %q has no recording, so it was not carried over to one", g.FullTitle())
		}
		was, err := at.Before(func(s *timeline.Show) bool {
			old := s.Song(id)
			return old != nil && old.Audio.FileHash != "" && old.Audio.FileHash != g.Audio.FileHash
		})
		if err != nil {
			return nil, fmt.Errorf("song %q: %w", g.FullTitle(), err)
		}
		edits = append(edits, timeline.SongToward(was, id))
	}
	return func(d *timeline.Draft) error {
		for _, e := range edits {
			if err := e(d); err != nil {
				return err
			}
		}
		return nil
	}, nil
}

// BringingBack are the arguments of something that was set aside and comes back.
type BringingBack struct {
	Aside timeline.Ref
	At    *timeline.Moment // nil is where it stood
	Lane  timeline.ID      // "" is its own
}

func bringBack() *Operation {
	type A = BringingBack
	aside := field.Parsed("aside", "what was set aside: its id, or SONG/ID", func(a *A) *timeline.Ref { return &a.Aside },
		func(r timeline.Ref) string {
			if r.ID == "" {
				return ""
			}
			return string(r.Song) + "/" + string(r.ID)
		},
		func(s string) (timeline.Ref, error) {
			song, id, _ := strings.Cut(s, "/")
			if s == "" {
				return timeline.Ref{}, nil
			}
			return timeline.Ref{Kind: "aside", Song: timeline.ID(song), ID: timeline.ID(id)}, nil
		})
	aside.Ref = []string{"aside"}
	place := optional("at", "where it stands now: a bar such as 17.3+1/2 or a time such as 1:02.5 (default: where it stood, on the recording it stood on)",
		func(a *A) **timeline.Moment { return &a.At }, timeline.Moment.String, timeline.ParseMoment)
	return does(Operation{Verb: "bring-back", Menu: "Bring back what was set aside…", Title: "Bring back what was set aside", Button: "Bring back", Plays: true,
		Tip:  "puts a cue, marker, section or phrase that was set aside back into its song",
		Help: "puts back into its song what was set aside when it was carried over",
		Args: []Argument{
			{Field: aside, Word: "ASIDE", Label: "What", Need: "nothing is chosen", read: readAside},
			{Field: place, Label: "At", Hint: "17.1 or 1:02.5; empty = where it stood"},
			{Field: id("lane", "the lane that a cue comes back to, by name or id (default: its own)", func(a *A) *timeline.ID { return &a.Lane }, "lane"), Label: "Lane"},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			return timeline.BringBack(a.Aside.Song, a.Aside.ID, timeline.Back{At: a.At, Lane: a.Lane}, at.NewID), nil
		},
		func(s *timeline.Show, a *A) string {
			g := s.Song(a.Aside.Song)
			if g == nil {
				return "bring back what was set aside"
			}
			x := timeline.KindOf("aside").Find(s, g.ID, a.Aside.ID)
			if x == nil {
				return "bring back " + cmp.Or(string(a.Aside.ID), "what was set aside") + " of song " + s.Named("song", g.ID)
			}
			return "bring back " + x.(*timeline.Aside).Title() + " of song " + s.Named("song", g.ID)
		})
}

// readAside finds what was set aside by its id, with its song before it or without.
func readAside(p *timeline.Plan, text string) (field.Value, error) {
	ref, err := p.FindRecord("aside:" + strings.TrimPrefix(text, "aside:"))
	return field.Value{Text: string(ref.Song) + "/" + string(ref.ID)}, err
}

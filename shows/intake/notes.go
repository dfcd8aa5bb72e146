package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"unicode"

	"emberbeat/audio"
	"emberbeat/timeline"
)

// What of notes is read; a page saves far less.
const (
	MaxNotesBytes = 4 << 20
	maxNotes      = 5000
	maxNoteText   = 600 // characters
)

// notesVersion is the form that this program reads, and a crew page writes.
const notesVersion = 1

// CrewNotes is what a crew page has saved.
type CrewNotes struct {
	Version  *int        `json:"emberbeat_notes"`
	Show     timeline.ID `json:"show"`
	Night    timeline.ID `json:"night"` // that the page was of; "" = the tour
	Revision string      `json:"revision"`
	Page     string      `json:"page"` // hash of the page
	List     []CrewNote  `json:"notes"`
}

// CrewNote is one note of a page.
type CrewNote struct {
	ID   timeline.ID `json:"id"`
	Song timeline.ID `json:"song"`
	At   float64     `json:"at"` // tenths of a millisecond from the start of the song's audio
	Text string      `json:"text"`
	By   string      `json:"by"`
}

// ReadNotesFile reads the file of a crew page at a path. Errors name it.
func ReadNotesFile(path string) (*CrewNotes, error) {
	f, err := audio.OpenFile(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	n, err := ReadNotes(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return n, nil
}

// ReadNotes reads the file of a crew page.
func ReadNotes(r io.Reader) (*CrewNotes, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxNotesBytes+1))
	switch {
	case err != nil:
		return nil, err
	case len(data) > MaxNotesBytes:
		return nil, fmt.Errorf("the file has more than %d bytes; notes of a crew page have fewer", MaxNotesBytes)
	}
	var n CrewNotes
	if err := json.Unmarshal(data, &n); err != nil {
		return nil, fmt.Errorf("this is no file of notes of a crew page: %w", err)
	}
	switch {
	case n.Version == nil:
		return nil, errors.New("this is no file of notes: it does not say emberbeat_notes; save the notes on the crew page again")
	case *n.Version != notesVersion:
		return nil, fmt.Errorf("the notes are of form %d, and this program reads form %d; use the program that made the page", *n.Version, notesVersion)
	case len(n.List) > maxNotes:
		return nil, fmt.Errorf("%d notes are more than the %d that one file can hold", len(n.List), maxNotes)
	}
	for i := range n.List {
		x := &n.List[i]
		x.Text, x.By = oneLine(x.Text), oneLine(x.By)
	}
	n.Revision, n.Page = oneLine(n.Revision), oneLine(n.Page)
	return &n, nil
}

// oneLine makes one line of a text that somebody typed: what is no letter, and what
// turns the direction of writing, becomes a space, and what is too long is cut.
func oneLine(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) || r == unicode.ReplacementChar {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, " "))
	s = strings.Join(strings.Fields(s), " ")
	if letters := []rune(s); len(letters) > maxNoteText {
		s = strings.TrimSpace(string(letters[:maxNoteText-1])) + "…"
	}
	return s
}

// NotesTaken is what becomes of the notes of a file.
type NotesTaken struct {
	Notes   int      // that are new
	Known   int      // that the show has already
	Refused []string // notes that the show has no place for, and why
	Doubts  []string // what is to be known of those that were taken
}

// Take gives the edit that puts notes into the songs of a show, each at the beat next
// to it, in a song without beats at its time. Notes of another show are an error.
func (n *CrewNotes) Take(show *timeline.Show) (timeline.Edit, *NotesTaken, error) {
	if n.Show != show.Head.ID {
		return nil, nil, errors.New("the notes are of a page of another show; import them there")
	}
	t := &NotesTaken{}
	if revision := timeline.Compile(show, show.Night(n.Night)).Revision(); n.Revision != revision {
		t.Doubts = append(t.Doubts, fmt.Sprintf("the notes were written on %s, and the show is at %s: look whether their bars are the same", revisionText(n.Revision), revisionText(revision)))
	}
	known := map[timeline.ID]bool{}
	for _, g := range show.Songs {
		for _, x := range g.Notes {
			known[x.ID] = true
		}
	}
	puts := map[timeline.ID][]timeline.Record{}
	for i := range n.List {
		x := &n.List[i]
		id, g := x.id(), show.Song(x.Song)
		switch {
		case x.Text == "":
			t.Refused = append(t.Refused, fmt.Sprintf("note %d says nothing", i+1))
		case g == nil:
			t.Refused = append(t.Refused, fmt.Sprintf("note %d, %q: its song is not in the show any more", i+1, x.Text))
		case math.IsNaN(x.At) || x.At < 0 || x.At > float64(24*timeline.Hour/(timeline.Millisecond/10)):
			t.Refused = append(t.Refused, fmt.Sprintf("note %d, %q: it stands at no time of a song", i+1, x.Text))
		case known[id]:
			t.Known++
		default:
			note := &timeline.Note{Base: timeline.Base{ID: id}, At: placeOfNote(g, timeline.Time(x.At)*(timeline.Millisecond/10))}
			if err := fill(note, map[string]string{"text": x.Text, "by": x.By, "revision": n.Revision, "page": n.Page}); err != nil {
				t.Refused = append(t.Refused, fmt.Sprintf("note %d: %v", i+1, err))
				continue
			}
			known[id] = true
			puts[g.ID] = append(puts[g.ID], note)
			t.Notes++
		}
	}
	return func(d *timeline.Draft) error {
		for _, g := range show.Songs {
			if list := puts[g.ID]; len(list) > 0 {
				d.Put(g.ID, list...)
			}
		}
		return nil
	}, t, nil
}

// fill sets the texts of a note as a file's are set, with their checks.
func fill(note *timeline.Note, texts map[string]string) error {
	for name, text := range texts {
		if err := timeline.KindOf("note").Field(name).Set(note, timeline.Value{Text: text}); err != nil {
			return err
		}
	}
	return nil
}

// Said says how many notes are new, and how many are not.
func (t *NotesTaken) Said() string {
	return fmt.Sprintf("%s new, %d known already", timeline.Counted(t.Notes, "note"), t.Known)
}

func revisionText(r string) string {
	if r == "" {
		return "no revision"
	}
	return "revision " + r
}

// placeOfNote gives the beat that a note stands at: nobody taps finer.
func placeOfNote(g *timeline.Song, at timeline.Time) timeline.Moment {
	if g.Beats.Empty() {
		return timeline.AtTime(at)
	}
	return timeline.AtBar(g.Beats.Snap(at, timeline.NewRat(1, 1)))
}

// id gives the note's id; one that is none by what the note says, so that a file that
// is read twice still brings it once.
func (x *CrewNote) id() timeline.ID {
	if x.ID.Valid() {
		return x.ID
	}
	sum := sha256.Sum256([]byte(fmt.Sprintf("%s\x00%v\x00%s\x00%s\x00%s", x.Song, x.At, x.Text, x.By, x.ID)))
	return timeline.ID("note-" + hex.EncodeToString(sum[:])[:16])
}

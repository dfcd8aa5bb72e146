package intake

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// noted gives a show of a song with a beat map of 120 to the minute, and one without.
func noted(t testing.TB) *timeline.Show {
	t.Helper()
	s, err := timeline.NewShow("demo", "Demo", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.SongHead{Base: timeline.Base{ID: "ember"}, Title: "Ember", Slug: "ember", Length: timeline.Minute, Beats: timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 16)},
			&timeline.SongHead{Base: timeline.Base{ID: "tide"}, Title: "Tide", Slug: "tide", Length: timeline.Minute, Start: timeline.Timecode{H: 2}},
			&timeline.Night{Base: timeline.Base{ID: "n"}, Name: "first", Slug: "first", Revision: "A"})
		return nil
	})
	require.NoError(t, err)
	return s
}

func file(notes ...string) string {
	return `{"emberbeat_notes":1,"show":"demo","night":"n","revision":"A","page":"0123456789abcdef","notes":[` + strings.Join(notes, ",") + `]}`
}

func taken(t testing.TB, show *timeline.Show, text string) (*timeline.Show, *NotesTaken) {
	t.Helper()
	n, err := ReadNotes(strings.NewReader(text))
	require.NoError(t, err)
	edit, what, err := n.Take(show)
	require.NoError(t, err)
	next, err := show.Edit(edit)
	require.NoError(t, err)
	return next, what
}

// Notes stand at the beat next to their moment, and a file that is read twice brings
// them once, done or not.
func TestNotesAreTaken(t *testing.T) {
	text := file(`{"id":"note-1","song":"ember","at":102600,"bar":"6.1","code":"00:00:10:06","text":"late by a beat","by":"Ada"}`,
		`{"id":"note-2","song":"tide","at":7000,"text":"  spotter\tcould\nnot see ","by":""}`)
	show, what := taken(t, noted(t), text)
	require.Equal(t, &NotesTaken{Notes: 2}, what)
	a, b := show.Song("ember").Notes[0], show.Song("tide").Notes[0]
	require.Equal(t, "6.2", a.At.String(), "10.26 s is next to the beat at 10.5 s")
	require.Equal(t, "open: late by a beat (Ada, revision A)", a.Said())
	require.Equal(t, "0123456789abcdef", a.Page)
	require.Equal(t, timeline.AtTime(700*timeline.Millisecond), b.At)
	require.Equal(t, "open: spotter could not see (revision A)", b.Said())

	show, err := show.Edit(func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "note", Song: "ember", ID: "note-1"}, "done", timeline.Value{Text: "true"})
	})
	require.NoError(t, err)
	again, what := taken(t, show, text)
	require.Equal(t, &NotesTaken{Known: 2}, what)
	require.Equal(t, "done: late by a beat (Ada, revision A)", again.Song("ember").Notes[0].Said())
}

// What has no place is told, each with its reason, and the others are taken.
func TestNotesWithoutAPlace(t *testing.T) {
	_, what := taken(t, noted(t), file(`{"id":"a","song":"gone","at":1,"text":"x"}`, `{"id":"b","song":"ember","at":-1,"text":"y"}`, `{"id":"c","song":"ember","at":1e300,"text":"z"}`,
		`{"id":"d","song":"ember","at":5,"text":" "}`, `{"id":"e","song":"ember","at":5,"text":"kept"}`, `{"id":"NO ID","song":"ember","at":5,"text":"kept too"}`, `{"id":"NO ID","song":"ember","at":5,"text":"kept too"}`))
	require.Equal(t, 2, what.Notes)
	require.Equal(t, 1, what.Known)
	require.Equal(t, []string{`note 1, "x": its song is not in the show any more`, `note 2, "y": it stands at no time of a song`, `note 3, "z": it stands at no time of a song`, "note 4 says nothing"}, what.Refused)
}

// What is no file of notes of this show is refused, with what to do.
func TestNotesRefused(t *testing.T) {
	for text, want := range map[string]string{
		"": "no file of notes", "{": "no file of notes", "[]": "no file of notes", `{"notes":[]}`: "does not say emberbeat_notes", `{"emberbeat_notes":2}`: "use the program that made the page",
		`{"emberbeat_notes":1,"notes":[` + strings.Repeat(`{},`, maxNotes) + `{}]}`: "more than the 5000", strings.Repeat(" ", MaxNotesBytes+1): "more than 4194304 bytes",
	} {
		_, err := ReadNotes(strings.NewReader(text))
		require.ErrorContains(t, err, want)
	}
	n, err := ReadNotes(strings.NewReader(strings.Replace(file(), "demo", "other", 1)))
	require.NoError(t, err)
	_, _, err = n.Take(noted(t))
	require.ErrorContains(t, err, "another show")
	n, err = ReadNotes(strings.NewReader(strings.Replace(file(), `"revision":"A"`, `"revision":"B"`, 1)))
	require.NoError(t, err)
	_, what, err := n.Take(noted(t))
	require.NoError(t, err)
	require.Equal(t, []string{"the notes were written on revision B, and the show is at revision A: look whether their bars are the same"}, what.Doubts)
}

// Whatever a file holds, reading ends, and what is taken can be written into a file of
// the show and read again.
func FuzzNotes(f *testing.F) {
	f.Add(file(`{"id":"note-1","song":"ember","at":102600,"text":"late by a beat","by":"Ada"}`))
	f.Add(file(`{"id":"","song":"tide","at":0.5,"text":"\u202e\u0000\ud800 x","by":"\n"}`))
	f.Add(`{"emberbeat_notes":1,"show":"demo","notes":null}`)
	show := noted(f)
	f.Fuzz(func(t *testing.T, text string) {
		n, err := ReadNotes(strings.NewReader(text))
		if err != nil {
			return
		}
		edit, what, err := n.Take(show)
		if err != nil {
			return
		}
		next, err := show.Edit(edit)
		require.NoError(t, err)
		count := 0
		for _, g := range next.Songs {
			for _, x := range g.Notes {
				count++
				k := timeline.KindOf("note")
				fresh := k.New(x.ID)
				for i := range k.Fields {
					require.NoError(t, k.Fields[i].Set(fresh, k.Fields[i].Get(x)), "%s of %s", k.Fields[i].Name, fmt.Sprint(x))
				}
			}
		}
		require.Equal(t, what.Notes, count)
	})
}

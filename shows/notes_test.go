package shows

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// Notes stand in a file of their own beside the song, by time; without notes there is
// no such file, and so a show without them stays as it is.
func TestNotesHaveAFileOfTheirOwn(t *testing.T) {
	show, err := timeline.NewShow("demo", "Demo", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.SongHead{Base: timeline.Base{ID: "ember"}, Title: "Ember", Slug: "ember", Length: timeline.Minute, Beats: timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 16)})
		return nil
	})
	require.NoError(t, err)
	names := func(s *timeline.Show) (list []string) {
		for _, j := range filesOf(s) {
			if w := j.write(s); w.bytes != nil {
				list = append(list, w.name)
			}
		}
		return list
	}
	require.NotContains(t, names(show), "songs/ember/notes.toml")
	show, err = show.Edit(func(d *timeline.Draft) error {
		d.Put("ember", &timeline.Note{Base: timeline.Base{ID: "a-late"}, Text: "late", At: timeline.AtTime(9 * timeline.Second), By: "Ada", Revision: "A", Page: "0123", Done: true},
			&timeline.Note{Base: timeline.Base{ID: "b-early"}, Text: "early", At: timeline.AtBar(timeline.BarBeat{Bar: 2})})
		return nil
	})
	require.NoError(t, err)
	require.Contains(t, names(show), "songs/ember/notes.toml")

	dir := t.TempDir()
	require.NoError(t, Save(dir, show, nil))
	l, err := Load(dir)
	require.NoError(t, err)
	require.Empty(t, l.Notes, "all of it is understood")
	require.Equal(t, show.Song("ember").Notes, l.Show.Song("ember").Notes)

	one, err := ReadOne("songs/ember/notes.toml", []byte("schema = 1\n\n[[note]]\nid = \"b-early\"\nat = \"2.1\"\ntext = \"early\"\nodd = 7\n"), nil)
	require.NoError(t, err, "version control hands it over by itself")
	b, err := one.Write(one.Show)
	require.NoError(t, err)
	require.True(t, strings.Contains(string(b), "odd = 7") && strings.Contains(string(b), `text = "early"`), "%s", b)
}

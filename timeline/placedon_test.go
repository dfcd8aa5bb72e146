package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// recorded makes a song name a recording by its hash.
func recorded(t testing.TB, s *Show, song ID, hash string) *Show {
	t.Helper()
	s, err := s.Edit(func(d *Draft) error {
		h := d.Show().Song(song).SongHead
		h.Audio.Path, h.Audio.FileHash = "audio/take.wav", hash
		d.Put("", &h)
		return nil
	})
	require.NoError(t, err)
	return s
}

func edited(t testing.TB, s *Show, e ...Edit) *Show {
	t.Helper()
	next, err := s.Edit(e...)
	require.NoError(t, err)
	return next
}

func TestCuesNoteTheirRecording(t *testing.T) {
	s := edited(t, small(t), func(d *Draft) error {
		d.Put("", &SongHead{Base: Base{ID: "new"}, Title: "New", Slug: "new"})
		d.Put("new", &Lane{Base: Base{ID: "l"}, Name: "lane"})
		return nil
	})
	s = recorded(t, s, "new", "one")
	require.Empty(t, s.Song("new").Audio.PlacedOn, "nothing stands on it yet")
	s = recorded(t, s, "new", "two")
	require.False(t, s.Song("new").Elsewhere())

	bare := s
	s = edited(t, s, func(d *Draft) error { d.Put("new", &Cue{Base: Base{ID: "c"}, Lane: "l"}); return nil })
	require.Equal(t, "two", s.Song("new").Audio.PlacedOn, "that of the first cue")
	require.False(t, s.Song("new").Elsewhere())
	again, err := Apply(bare, Diff(bare, s))
	require.NoError(t, err)
	require.Equal(t, fingerprint(s), fingerprint(again), "a journal brings back the same")

	s = recorded(t, s, "new", "three")
	require.True(t, s.Song("new").Elsewhere())
	s = edited(t, s, func(d *Draft) error { d.Put("new", &Cue{Base: Base{ID: "c2"}, Lane: "l"}); return nil })
	require.True(t, s.Song("new").Elsewhere(), "one more cue says nothing of the others")
	require.False(t, edited(t, s, ConfirmCues("new")).Song("new").Elsewhere())
	require.False(t, recorded(t, s, "new", "two").Song("new").Elsewhere(), "the old recording is back")

	s = edited(t, s, func(d *Draft) error {
		for _, c := range []ID{"c", "c2"} {
			if err := d.Remove(Ref{Kind: "cue", Song: "new", ID: c}); err != nil {
				return err
			}
		}
		return nil
	})
	require.Empty(t, s.Song("new").Audio.PlacedOn, "no cue stands anywhere")
	_, err = s.Edit(ConfirmCues("new"))
	require.ErrorContains(t, err, "has no cues yet")
	_, err = s.Edit(ConfirmCues("gone"))
	require.ErrorContains(t, err, "there is no such record")
}

// Cues of a show from before the note: whichever recording was named before another
// one is theirs.
func TestCuesOfOldShowsNoteTheirRecording(t *testing.T) {
	s := small(t)
	require.NotEmpty(t, s.Song("ember").Cues)
	_, err := s.Edit(ConfirmCues("ember"))
	require.ErrorContains(t, err, "names no recording by its hash")
	s = recorded(t, s, "ember", "one")
	require.Empty(t, s.Song("ember").Audio.PlacedOn, "cues were there before any recording")
	was := s
	s = recorded(t, s, "ember", "two")
	require.Equal(t, "one", s.Song("ember").Audio.PlacedOn)
	require.True(t, s.Song("ember").Elsewhere())
	back, err := Apply(s, Diff(was, s).Invert())
	require.NoError(t, err)
	require.Equal(t, fingerprint(was), fingerprint(back))
}

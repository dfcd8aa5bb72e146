//go:build unix

package session_test

import (
	"context"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"emberbeat/audio"
	"emberbeat/shows/session"
	"emberbeat/timeline/rule"

	"github.com/stretchr/testify/require"
)

// A recording that is a link out of the folder is neither read nor played, and
// the finding says which; one that is no file is told at once.
func TestRecordingsOutsideTheFolderAreNotRead(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, withCache(t, session.Options{}))
	defer s.Close()
	ctx := context.Background()
	id, err := s.AddSong(ctx, clicks(t, "a.wav", 4, 1), "", nil)
	require.NoError(t, err)
	head := &s.Show().Song(id).SongHead
	path := s.Recording(head)
	away := filepath.Join(t.TempDir(), "away.wav")
	require.NoError(t, os.Rename(path, away))
	require.NoError(t, os.Symlink(away, path))
	require.Empty(t, s.Recording(head))
	fact := s.Facts(ctx).Audio[id]
	require.Equal(t, rule.AudioMissing, fact.State)
	require.Contains(t, fact.Detail, "audio/a.wav is a link to")
	_, err = s.Peaks(ctx, head)
	require.Error(t, err)

	again, err := s.AddSong(ctx, away, "Again", nil)
	require.NoError(t, err)
	require.Equal(t, "audio/away.wav", s.Show().Song(again).Audio.Path)
	require.NoError(t, os.Rename(away, filepath.Join(filepath.Dir(away), "a.wav")))
	third, err := s.AddSong(ctx, filepath.Join(filepath.Dir(away), "a.wav"), "Third", nil)
	require.NoError(t, err)
	require.Equal(t, "audio/a-2.wav", s.Show().Song(third).Audio.Path, "the link has taken the name")

	require.NoError(t, os.Remove(path))
	require.NoError(t, syscall.Mkfifo(path, 0o644))
	fact = s.Facts(ctx).Audio[id]
	require.Equal(t, rule.AudioUnread, fact.State)
	require.Contains(t, fact.Detail, "is not a file")
	for _, none := range []string{path, "/dev/zero"} {
		_, err = s.AddSong(ctx, none, "", nil)
		var fe *audio.FileError
		require.ErrorAs(t, err, &fe)
		require.Equal(t, "is not a file", fe.What)
	}
}

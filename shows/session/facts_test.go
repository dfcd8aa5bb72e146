package session_test

import (
	"context"
	"encoding/binary"
	"os"
	"path/filepath"
	"testing"
	"time"

	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"

	"github.com/stretchr/testify/require"
)

func TestFactsAboutRecordings(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, withCache(t, session.Options{}))
	defer s.Close()
	ctx := context.Background()
	id, err := s.AddSong(ctx, clicks(t, "a.wav", 4, 1), "", nil)
	require.NoError(t, err)
	path := s.Recording(&s.Show().Song(id).SongHead)
	fact := func() rule.AudioFact { return s.Facts(ctx).Audio[id] }
	replace := func(b []byte) {
		require.NoError(t, os.WriteFile(path, b, 0o644))
		later := time.Now().Add(time.Hour) // clocks of file systems can be coarse
		require.NoError(t, os.Chtimes(path, later, later))
	}

	facts := s.Facts(ctx)
	require.Equal(t, rule.AudioFact{State: rule.AudioPresent}, facts.Audio[id])
	require.NotContains(t, facts.Audio, timeline.ID("ember"), "a song without audio was not looked at")

	b, err := os.ReadFile(path)
	require.NoError(t, err)
	tagged := append(b[:len(b):len(b)], "LIST\x0c\x00\x00\x00INFOITCH\x00\x00\x00\x00"...)
	binary.LittleEndian.PutUint32(tagged[4:], uint32(len(tagged)-8))
	replace(tagged)
	require.Equal(t, rule.AudioPresent, fact().State, "other tags, the same samples")

	other, err := os.ReadFile(clicks(t, "b.wav", 4, 0.5))
	require.NoError(t, err)
	replace(other)
	require.Equal(t, rule.AudioFact{State: rule.AudioChanged, Detail: "the same length, other samples"}, fact())

	longer, err := os.ReadFile(clicks(t, "c.wav", 5, 1))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, longer, 0o644))
	require.Equal(t, rule.AudioFact{State: rule.AudioChanged, Detail: "it is 0:05.0000 long, and was 0:04.0000"}, fact())

	require.NoError(t, os.WriteFile(path, []byte("no sound"), 0o644))
	require.Equal(t, rule.AudioUnread, fact().State)
	require.Contains(t, fact().Detail, "text file")

	require.NoError(t, os.Remove(path))
	require.Equal(t, rule.AudioMissing, fact().State)

	require.NoError(t, s.Do("lead astray", func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "song", ID: id}, "audio", timeline.Value{Text: "../a.wav"})
	}))
	require.Equal(t, rule.AudioFact{State: rule.AudioMissing, Detail: "the path leads out of the show folder"}, fact())
}

func TestCheck(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, withCache(t, session.Options{}))
	defer s.Close()
	id, err := s.AddSong(context.Background(), clicks(t, "a.wav", 4, 1), "", nil)
	require.NoError(t, err)
	require.NoError(t, os.Remove(filepath.Join(dir, "audio", "a.wav")))
	plan := s.Plan("")
	findings := s.CheckPlan(plan, s.Facts(context.Background()))
	require.Len(t, plan.Songs, 2)
	require.NotEmpty(t, findings)
	found := false
	for _, f := range findings {
		found = found || f.Song == id && f.Severity != rule.Note
	}
	require.True(t, found, "the missing recording is found: %v", findings)
	again := s.CheckPlan(s.Plan(""), s.Facts(context.Background()))
	require.Equal(t, findings, again)
}

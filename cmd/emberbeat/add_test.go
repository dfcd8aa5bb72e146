package main

import (
	"context"
	"io"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/ear"
	"emberbeat/audio/testsound"
	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// While add listens, another program may have the show, and what that changed
// stays.
func TestAddListensWithoutTheLock(t *testing.T) {
	inExampleFolder(t, true)
	asked := 0
	listen := func() (*session.Heard, error) {
		asked++
		lock, err := shows.Lock("tour")
		require.NoError(t, err)
		lock.Unlock()
		require.Zero(t, runIn(t, "edit", "tour", "show", "title=Changed meanwhile"))
		return session.Listen(context.Background(), audio.OpenCache(""), "song.wav", ear.Locks{}, nil)
	}
	talk := newTalk(nil, io.Discard, io.Discard)
	require.NoError(t, talk.add(context.Background(), "tour", "song.wav", "Late", listen))
	l, err := shows.Load("tour")
	require.NoError(t, err)
	require.Equal(t, "Changed meanwhile", l.Show.Head.Title)
	require.True(t, slices.ContainsFunc(l.Show.Songs, func(g *timeline.Song) bool { return g.Title == "Late" }))

	lock, err := shows.Lock("tour")
	require.NoError(t, err)
	defer lock.Unlock()
	require.Equal(t, exitFile, runIn(t, "add", "tour", "song.wav"), "who is locked out is told before listening")
	require.Equal(t, 1, asked)
}

// A recording that became another one while it was listened to is not added.
func TestAddOfARecordingThatChanges(t *testing.T) {
	inExampleFolder(t, true)
	before, err := os.ReadDir("tour/audio")
	require.NoError(t, err)
	listen := func() (*session.Heard, error) {
		heard, err := session.Listen(context.Background(), audio.OpenCache(""), "song.wav", ear.Locks{}, nil)
		require.NoError(t, testsound.WriteWAV16("song.wav", clickRate, 1, clickTrack(5, 90)))
		return heard, err
	}
	err = newTalk(nil, io.Discard, io.Discard).add(context.Background(), "tour", "song.wav", "", listen)
	require.ErrorContains(t, err, "song.wav: changed while it was listened to")
	after, err := os.ReadDir("tour/audio")
	require.NoError(t, err)
	require.Equal(t, len(before), len(after), "no copy is left")
}

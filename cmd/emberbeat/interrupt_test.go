package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/testsound"
	"emberbeat/shows"
)

// Ctrl+C while a song is listened to ends with 130 and leaves the old show.
func TestInterruptedAdd(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a program cannot send itself Ctrl+C there")
	}
	inExampleFolder(t, true)
	require.NoError(t, testsound.WriteWAV16("long.wav", clickRate, 1, clickTrack(600, 120)))
	before, err := shows.Load("tour")
	require.NoError(t, err)

	var out, errs bytes.Buffer
	code := make(chan int)
	go func() { code <- run([]string{"add", "tour", "long.wav"}, strings.NewReader(""), &out, &errs) }()
	for taken := false; !taken; time.Sleep(time.Millisecond) { // until the command takes the show
		select {
		case c := <-code:
			t.Fatalf("it ended by itself, with %d: %s", c, errs.String())
		default:
			_, err := os.Stat(filepath.Join("tour", ".lock"))
			taken = err == nil
		}
	}
	self, err := os.FindProcess(os.Getpid())
	require.NoError(t, err)
	require.NoError(t, self.Signal(os.Interrupt))

	require.Equal(t, exitInterrupted, <-code, errs.String())
	require.Empty(t, out.String())
	require.Contains(t, errs.String(), "emberbeat: interrupted")
	after, err := shows.Load("tour")
	require.NoError(t, err)
	require.Equal(t, before.Prints, after.Prints)
	left, err := filepath.Glob("tour/audio/*long*")
	require.NoError(t, err)
	require.Empty(t, left)
}

// A file that cannot be written whole is not there at all, and one that was
// there stays.
func TestOutputIsWholeOrNotThere(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "cues.csv")
	write := func() error {
		return replaceFile(name, func(w io.Writer) error {
			for range 10_000 {
				if _, err := io.WriteString(w, "half a cue list\n"); err != nil {
					return err
				}
			}
			return errors.New("the list has no end")
		})
	}
	require.Error(t, write())
	found, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Empty(t, found)

	require.NoError(t, os.WriteFile(name, []byte("old"), 0o644))
	require.Error(t, write())
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	require.Equal(t, "old", string(data))
}

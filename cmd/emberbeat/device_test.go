//go:build unix

package main

import (
	"io"
	"net"
	"os"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// A pipe without a writer, or a device without an end, is told at once by every
// verb that reads a file of the user's.
func TestVerbsReadNoPipesAndDevices(t *testing.T) {
	inExampleFolder(t, true)
	require.NoError(t, syscall.Mkfifo("pipe", 0o644))
	for _, file := range []string{"pipe", "/dev/zero"} {
		for _, args := range [][]string{
			{"add", "tour", file},
			{"analyse", file},
			{"match", "song.wav", file},
			{"import", "tour", file, "--song", "1"},
			{"unpack", file, "other"},
			{"timecode", "read", file},
		} {
			var out, errs strings.Builder
			require.Equal(t, exitFile, run(args, nil, &out, &errs), "%q: %s", args, errs.String())
			require.Contains(t, errs.String(), "is not a file", "%q", args)
		}
	}
	require.NoDirExists(t, "other")
}

// What could run with timecode, ticks or a sheet gets none: stdout takes no sound
// and no MIDI, and no verb writes into a pipe, a device or a socket, by its own
// name or by a link. Nothing is opened on the way: a pipe that nobody reads would
// wait for ever.
func TestVerbsWriteNoPipesAndDevices(t *testing.T) {
	inExampleFolder(t, true)
	require.NoError(t, syscall.Mkfifo("pipe", 0o644))
	require.NoError(t, os.Symlink("pipe", "link"))
	socket, err := net.Listen("unix", "socket")
	require.NoError(t, err)
	defer socket.Close()
	sounds := [][]string{
		{"export", "tour", "ltc", "--song", "1", "--out"},
		{"export", "tour", "ticks", "--song", "1", "--out"},
		{"export", "tour", "midi", "--song", "1", "--out"},
	}
	others := [][]string{
		{"export", "tour", "cue-list", "--format", "csv", "--out"},
		{"list", "tour", "commands", "--out"},
		{"check", "tour", "--out"},
		{"picture", "tour", "--song", "1", "--out"},
		{"pack", "tour", "--out"},
		{"analyse", "song.wav", "--click-out"},
		{"diff", "tour", "tour", "--out"},
		{"man", "--out"},
	}
	for _, args := range append(sounds, others...) {
		for _, to := range []string{"pipe", "link", "socket", "/dev/null"} {
			var out, errs strings.Builder
			require.Equal(t, exitFile, run(append(args[:len(args):len(args)], to), nil, &out, &errs), "%q %s: %s", args, to, errs.String())
			require.Contains(t, errs.String(), to+" is a device, a pipe or a socket; name a file", "%q", args)
			require.Empty(t, out.String())
		}
	}
	for _, args := range sounds {
		var out, errs strings.Builder
		require.Equal(t, exitUsage, run(append(args[:len(args):len(args)], "-"), nil, &out, &errs), "%q: %s", args, errs.String())
		require.Contains(t, errs.String(), "goes into a file and nowhere else", "%q", args)
		require.Empty(t, out.String())
	}
	info, err := os.Lstat("pipe")
	require.NoError(t, err)
	require.Equal(t, os.ModeNamedPipe, info.Mode().Type(), "nothing took its place")
	pipe, err := os.OpenFile("pipe", os.O_RDONLY|syscall.O_NONBLOCK, 0)
	require.NoError(t, err)
	defer pipe.Close()
	held, err := io.ReadAll(pipe)
	require.NoError(t, err)
	require.Empty(t, held)
}

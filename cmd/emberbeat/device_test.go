//go:build unix

package main

import (
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

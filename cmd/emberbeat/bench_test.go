package main

import (
	"bytes"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/example"
)

// exampleTour gives a copy of the example show, away from the user's own state
// and cache.
func exampleTour(b *testing.B) string {
	b.Helper()
	home := b.TempDir()
	b.Setenv("HOME", home)
	b.Setenv("EMBERBEAT_STATE", filepath.Join(home, "state"))
	b.Setenv("EMBERBEAT_CACHE", filepath.Join(home, "cache"))
	show := filepath.Join(home, "show")
	require.NoError(b, example.CopyTo(show))
	return show
}

func benchLine(b *testing.B, args ...string) {
	b.Helper()
	var out, errs bytes.Buffer
	require.LessOrEqual(b, run(args, strings.NewReader(""), &out, &errs), exitFindings, "%s%s", out.String(), errs.String())
}

// Every sheet of the example's night, from the folder on disk to files.
func BenchmarkAllSheets(b *testing.B) {
	for _, format := range []string{"csv", "pdf"} {
		b.Run(format, func(b *testing.B) {
			show, out := exampleTour(b), b.TempDir()
			for i := 0; b.Loop(); i++ {
				benchLine(b, "export", show, "all", "--night", "saltglass-first", "--format", format, "--out", filepath.Join(out, strconv.Itoa(i)), "--quiet")
			}
		})
	}
}

// What a verb costs before it does anything: the example loaded, one line said.
func BenchmarkLoad(b *testing.B) {
	show := exampleTour(b)
	for b.Loop() {
		benchLine(b, "list", show, "songs")
	}
}

// The example loaded, compiled and checked for its night.
func BenchmarkCheck(b *testing.B) {
	show := exampleTour(b)
	for b.Loop() {
		benchLine(b, "check", show, "--night", "saltglass-first")
	}
}

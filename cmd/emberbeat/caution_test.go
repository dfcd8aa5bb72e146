package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
)

// Whatever a verb prints of a plan says that it is no permission to fire, and so
// does the help of every verb, once.
func TestCautionStandsOnEverythingPrinted(t *testing.T) {
	require.Contains(t, report.Caution, strings.TrimSuffix(report.CautionLine, "."), "one wording")
	require.NotContains(t, report.CautionLine, "\n")
	inExampleFolder(t, true)
	printed := func(args ...string) string {
		var out, errs strings.Builder
		run(args, nil, &out, &errs)
		return out.String()
	}
	count := func(text string) int { return strings.Count(text, report.CautionLine) }
	for _, c := range newRoot(newTalk(nil, nil, nil)).Commands() {
		if c.IsAvailableCommand() {
			require.Equal(t, 1, count(printed(c.Name(), "--help")), c.Name())
		}
	}
	for _, args := range [][]string{
		{"--help"},
		{"check", "tour"}, {"check", "tour", "--song", "1"},
		{"list", "tour", "commands"}, {"list", "tour", "commands", "--sort", "output", "--together"},
		{"explain"}, {"explain", "recovery"}, {"explain", "circuit"},
	} {
		require.Equal(t, 1, count(printed(args...)), "%q", args)
	}
	require.Equal(t, 1, strings.Count(printed("man"), roff(report.CautionLine)))
	require.Contains(t, printed("check", "tour", "--long"), report.Caution)
	require.Contains(t, printed("list", "tour", "commands", "--json"), report.Caution)
	require.Contains(t, printed("check", "tour", "--json"), report.Caution)
}

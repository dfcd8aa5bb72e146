package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is done every night takes few commands: those of the script under the
// heading of each job are counted, and the script shows that they do it.
func TestUsualJobsTakeFewCommands(t *testing.T) {
	most := map[string]int{
		"arms and conditions under every hit of a song":                   1,
		"change 16 open times":                                            1,
		"thin the cues of a section":                                      1,
		"six effects out tonight, with a reason":                          1,
		"all that begin so out tonight":                                   1,
		"12 effects on 12 positions, named, grouped, addressed and wired": 1,
	}
	text, err := os.ReadFile("testdata/script/jobs.txtar")
	require.NoError(t, err)
	took, job := map[string]int{}, ""
	for _, line := range strings.Split(string(text), "\n") {
		name, heads := strings.CutPrefix(line, "# job: ")
		switch {
		case heads:
			job = name
		case strings.HasPrefix(line, "# "):
			job = ""
		case job != "" && strings.Contains(line, "exec emberbeat "):
			took[job]++
		}
	}
	require.Equal(t, most, took)
}

package main

import (
	"bytes"
	"os/exec"
	"testing"

	"emberbeat/timeline/testtool"
	"github.com/stretchr/testify/require"
)

// runTool runs an outside program.
func runTool(t *testing.T, name string, args ...string) (out, errs string) {
	t.Helper()
	testtool.Need(t, name)
	var o, e bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stdout, cmd.Stderr = &o, &e
	require.NoError(t, cmd.Run(), e.String())
	return o.String(), e.String()
}

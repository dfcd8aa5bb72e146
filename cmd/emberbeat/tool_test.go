package main

import (
	"bytes"
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"
)

// runTool runs an outside program. One that is missing skips the test, or
// fails it where EMBERBEAT_REQUIRE_TOOLS=1 says that all are there.
func runTool(t *testing.T, name string, args ...string) (out, errs string) {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("EMBERBEAT_REQUIRE_TOOLS") == "1" {
			t.Fatalf("%s is not installed, and EMBERBEAT_REQUIRE_TOOLS=1 asks for it", name)
		}
		t.Skipf("%s is not installed", name)
	}
	var o, e bytes.Buffer
	cmd := exec.Command(path, args...)
	cmd.Stdout, cmd.Stderr = &o, &e
	require.NoError(t, cmd.Run(), e.String())
	return o.String(), e.String()
}

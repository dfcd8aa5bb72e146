// Package testtool holds what tests need beside the code: outside programs and
// libraries to compare with, and the seed of random walks.
//
// Its one rule: no test passes by luck. A witness that is missing leaves its test
// out, and fails it where EMBERBEAT_REQUIRE_TOOLS=1 says that all are there; a
// walk starts from a seed that is known. Only tests import it.
package testtool

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// Missing ends a test for want of what it compares with.
func Missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("EMBERBEAT_REQUIRE_TOOLS") == "1" {
		t.Fatal(what + ", and EMBERBEAT_REQUIRE_TOOLS=1 asks for it")
	}
	t.Skip(what + ": nothing to compare with")
}

// Need ends a test unless all are there: programs by their names, files by
// absolute paths.
func Need(t testing.TB, names ...string) {
	t.Helper()
	for _, name := range names {
		_, err := os.Stat(name)
		if !filepath.IsAbs(name) {
			_, err = exec.LookPath(name)
		}
		if err != nil {
			Missing(t, name+" is not installed")
		}
	}
}

// Output runs a program that must find nothing to complain of, and gives what it
// writes.
func Output(t testing.TB, name string, args ...string) string {
	t.Helper()
	Need(t, name)
	cmd := exec.Command(name, args...)
	var complaints bytes.Buffer
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	require.NoError(t, err, complaints.String())
	require.Empty(t, complaints.String(), "%s complains", name)
	return string(out)
}

// Python finds a Python that has a module: the system's own first, for Debian's
// modules are installed for that one.
func Python(t testing.TB, module string) string {
	t.Helper()
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import "+module).Run() == nil {
			return name
		}
	}
	Missing(t, "no python3 with "+module+" is installed")
	return ""
}

// NPM gives a folder whose node_modules holds a package at a version. It is
// installed once into the user's cache, without a lock file, which would name
// the place it came from, and without running its scripts.
func NPM(t testing.TB, name, version string) string {
	t.Helper()
	Need(t, "node", "npm")
	cache, err := os.UserCacheDir()
	if err != nil {
		Missing(t, err.Error())
	}
	root := filepath.Join(cache, "emberbeat-tests", "npm")
	dir := filepath.Join(root, name+"-"+version)
	if _, err := os.Stat(dir); err == nil {
		return dir
	}
	require.NoError(t, os.MkdirAll(root, 0o755))
	fresh, err := os.MkdirTemp(root, "install-")
	require.NoError(t, err)
	defer os.RemoveAll(fresh)
	install := exec.Command("npm", "install", "--prefix", fresh, "--no-package-lock", "--no-save", "--no-audit", "--no-fund", "--ignore-scripts", name+"@"+version)
	if out, err := install.CombinedOutput(); err != nil {
		Missing(t, fmt.Sprintf("npm install %s@%s: %v\n%s", name, version, err, out))
	}
	// The name appears with the finished folder; another test may have been faster.
	if err := os.Rename(fresh, dir); err != nil {
		require.DirExists(t, dir)
	}
	return dir
}

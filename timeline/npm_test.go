package timeline_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// needTool returns the path of an outside program. Without it the test is
// skipped, or fails where EMBERBEAT_REQUIRE_TOOLS=1 says that all are there.
func needTool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		missingTool(t, fmt.Sprintf("%s is not installed", name))
	}
	return path
}

func missingTool(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("EMBERBEAT_REQUIRE_TOOLS") == "1" {
		t.Fatal(what)
	}
	t.Skip(what)
}

// npmPackage returns a folder whose node_modules holds the package at the
// version. It is installed once into the user's cache, without a lock file,
// which would name the place it came from, and without running its scripts.
func npmPackage(t *testing.T, name, version string) string {
	t.Helper()
	npm := needTool(t, "npm")
	cache, err := os.UserCacheDir()
	if err != nil {
		missingTool(t, err.Error())
	}
	root := filepath.Join(cache, "emberbeat-tests", "npm")
	dir := filepath.Join(root, name+"-"+version)
	if _, err := os.Stat(dir); err == nil {
		return dir
	}
	if err := os.MkdirAll(root, 0o755); err != nil {
		missingTool(t, err.Error())
	}
	fresh, err := os.MkdirTemp(root, "install-")
	if err != nil {
		missingTool(t, err.Error())
	}
	defer os.RemoveAll(fresh)
	install := exec.Command(npm, "install", "--prefix", fresh, "--no-package-lock", "--no-save",
		"--no-audit", "--no-fund", "--ignore-scripts", name+"@"+version)
	if out, err := install.CombinedOutput(); err != nil {
		missingTool(t, fmt.Sprintf("npm install %s@%s: %v\n%s", name, version, err, strings.TrimSpace(string(out))))
	}
	// The name appears with the finished folder; another test may have been faster.
	if err := os.Rename(fresh, dir); err != nil {
		if _, statErr := os.Stat(dir); statErr != nil {
			t.Fatal(err)
		}
	}
	return dir
}

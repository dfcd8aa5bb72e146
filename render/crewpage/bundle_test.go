package crewpage

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline/testtool"
)

// esbuild runs the bundler that the Makefile names, with its options.
func esbuild(t *testing.T, args ...string) {
	t.Helper()
	makefile, err := os.ReadFile("../../Makefile")
	require.NoError(t, err)
	m := regexp.MustCompile(`(?m)^ESBUILD := (\S+)$`).FindSubmatch(makefile)
	require.NotNil(t, m, "the Makefile names no ESBUILD")
	if exec.Command("go", "run", string(m[1]), "--version").Run() != nil {
		testtool.Missing(t, "esbuild cannot be built")
	}
	out, err := exec.Command("go", append([]string{"run", string(m[1])}, args...)...).CombinedOutput()
	require.NoError(t, err, "%s", out)
}

// The committed bundle is what the modules make.
func TestBundleIsOfTheModules(t *testing.T) {
	options, err := os.ReadFile("web/esbuild.txt")
	require.NoError(t, err)
	fresh := filepath.Join(t.TempDir(), "bundle.js")
	esbuild(t, append(append([]string{"web/main.js"}, strings.Fields(string(options))...), "--outfile="+fresh)...)
	got, err := os.ReadFile(fresh)
	require.NoError(t, err)
	require.Equal(t, script, string(got), "bundle.js is not what the modules make: make crew-page")
}

// Nothing in the scripts reaches outside of the page, or could end its element.
func TestScriptsStayInThePage(t *testing.T) {
	for _, word := range []string{"fetch(", "XMLHttpRequest", "WebSocket", "EventSource", "sendBeacon", "import(", "eval(", "new Function", "navigator.", "document.write", "postMessage",
		"requestMIDIAccess", "serviceWorker", "window.open", "document.cookie", "http:", "https:", "</script", "<!--"} {
		if word == "http:" {
			require.NotContains(t, strings.ReplaceAll(script, `"http://www.w3.org/2000/svg"`, ""), word)
			continue
		}
		require.NotContains(t, script, word)
	}
	require.NotContains(t, style, "url(")
	require.NotContains(t, style, "@import")
	require.NotContains(t, style, "</")
}

package shows_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"emberbeat/shows"
	"emberbeat/shows/example"
	"emberbeat/timeline/testtool"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Every file that is written is TOML 1.0 to others as well: to the library as a
// whole, of which we use the parser alone, and to Python's own reader.
func TestFilesAreTOMLToOthers(t *testing.T) {
	testtool.Need(t, "python3")
	all := t.TempDir() // what Python reads, all at once
	n := 0
	check := func(t require.TestingT, st *memory) {
		n++
		for name, b := range st.files {
			var tree map[string]any
			require.NoError(t, toml.Unmarshal(b, &tree), "%s\n%s", name, b)
			path := filepath.Join(all, string(rune('a'+n%26))+"-"+filepath.Base(filepath.Dir(name))+"-"+filepath.Base(name))
			require.NoError(t, os.WriteFile(path, b, 0o644))
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		st := newMemory()
		_, err := shows.SaveTo(st, drawShow(t), nil, shows.SaveOptions{})
		require.NoError(t, err)
		check(t, st)
	})
	st := newMemory()
	l, err := shows.LoadFrom(shows.FS(example.FS()))
	require.NoError(t, err)
	_, err = shows.SaveTo(st, l.Show, nil, shows.SaveOptions{})
	require.NoError(t, err)
	check(t, st)
	const read = "import sys, tomllib, pathlib\n" +
		"for p in sorted(pathlib.Path(sys.argv[1]).iterdir()):\n" +
		"    try: tomllib.loads(p.read_text(encoding='utf-8'))\n" +
		"    except Exception as e: print(p.name, e); print(p.read_text(encoding='utf-8')); sys.exit(1)\n"
	out, err := exec.Command("python3", "-c", read, all).CombinedOutput()
	require.NoError(t, err, string(out))
}

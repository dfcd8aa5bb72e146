package keymap_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render/desk/keymap"
	"emberbeat/render/widget"
	_ "emberbeat/timeline/testtool" // its seed
)

var table = []keymap.Command{{ID: "play", Group: "Play", Keys: []string{"Space"}}, {ID: "save", Group: "Show", Keys: []string{"Ctrl+S"}},
	{ID: "loop", Group: "Play", Keys: []string{"L"}}, {ID: "comma", Group: "Play", Keys: []string{"Ctrl+,", ","}}, {ID: "none", Group: "Show"}}

func of(t *testing.T, m *keymap.Map, key string) string {
	t.Helper()
	p, ok := keymap.ParsePress(key)
	require.True(t, ok, key)
	return m.Of(p)
}

func TestFileChangesKeys(t *testing.T) {
	m := keymap.New(table)
	m.Read("# mine\nplay = P Ctrl+Space\nsave =\nnothing = X\nloop = Hyper+L\n")
	require.Equal(t, []string{"P", "Ctrl+Space"}, m.Words("play"))
	require.Empty(t, of(t, m, "Space"))
	require.Equal(t, "play", of(t, m, "P"))
	require.Empty(t, m.Words("save"))
	require.Equal(t, []string{`keys.txt:4: there is no command "nothing"`, `loop: there is no key "Hyper+L"`}, m.Problems())
}

// A key goes over to whoever is given it last, and the other one loses its word.
func TestAKeyHasOneCommand(t *testing.T) {
	m := keymap.New(table)
	m.Read("loop = Space L")
	require.Equal(t, "loop", of(t, m, "Space"))
	require.Empty(t, m.Words("play"))
	require.Equal(t, []string{"Space", "L"}, m.Words("loop"))
}

func TestFileRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, n := keymap.New(table), keymap.New(table)
		for range rapid.IntRange(0, 6).Draw(t, "lines") {
			id := table[rapid.IntRange(0, len(table)-1).Draw(t, "command")].ID
			keys := rapid.SampledFrom([]string{"", "A", "Ctrl+A B", "Alt+, ,", "Shift+F7, Space", "Ctrl++"}).Draw(t, "keys")
			m.Read(id + " = " + keys)
		}
		require.Empty(t, m.Problems())
		n.Read(m.Write([]string{"Play", "Show"}))
		require.Empty(t, n.Problems())
		for _, c := range table {
			require.Equal(t, append([]string{}, m.Words(c.ID)...), append([]string{}, n.Words(c.ID)...), c.ID)
			for _, k := range m.Words(c.ID) {
				p, ok := keymap.ParsePress(k)
				require.True(t, ok)
				require.Equal(t, c.ID, m.Of(p))
				require.Equal(t, c.ID, n.Of(p))
			}
		}
	})
}

func TestLoad(t *testing.T) {
	require.Equal(t, "play", of(t, keymap.Load("", table), "Space"))
	dir := t.TempDir()
	require.Equal(t, "play", of(t, keymap.Load(dir, table), "Space"), "no file")
	require.NoError(t, os.WriteFile(filepath.Join(dir, keymap.File), []byte("play = P"), 0o600))
	m := keymap.Load(dir, table)
	require.Empty(t, m.Of(widget.Press{Key: widget.KeySpace}))
}

func FuzzRead(f *testing.F) {
	f.Add("play = P Ctrl+Space\n= \nloop")
	f.Fuzz(func(t *testing.T, text string) {
		m := keymap.New(table)
		m.Read(text)
		for _, c := range table {
			for _, k := range m.Words(c.ID) {
				p, ok := keymap.ParsePress(k)
				require.True(t, ok, k)
				require.Equal(t, c.ID, m.Of(p))
			}
		}
	})
}

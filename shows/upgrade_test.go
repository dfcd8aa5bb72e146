package shows

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

// An invented file kind whose second schema renamed a key and whose third
// turned a list into tables of its own.
func TestUpgradeStepsRunInOrder(t *testing.T) {
	fk := &fileKind{name: "rig", prefix: "rig:", tables: []string{"bank"}, steps: []step{
		func(d *document) {
			for i := range d.blocks {
				if kv := findPair(d.blocks[i].pairs, "label"); kv != nil {
					kv.key, kv.text = "name", "name"
				}
			}
		},
		func(d *document) {
			for i := range d.blocks {
				if kv := findPair(d.blocks[i].pairs, "name"); kv != nil {
					kv.value.text += " (from 2)"
				}
			}
		},
	}}
	require.Equal(t, 3, fk.schema())
	for schema, text := range map[int]string{
		1: "schema = 1\n[[bank]]\nid = \"b\"\n# of old\nlabel = \"Bank\"\nmore = 1\n",
		2: "schema = 2\n[[bank]]\nid = \"b\"\n# of old\nname = \"Bank\"\nmore = 1\n",
		3: "schema = 3\n[[bank]]\nid = \"b\"\n# of old\nname = \"Bank (from 2)\"\nmore = 1\n",
	} {
		f := readFile(fk, "rig.toml", "", []byte(text))
		require.Empty(t, f.problems)
		require.Equal(t, schema, f.schema)
		require.Len(t, f.records, 1)
		name := f.records[0].kind.Field("name").Get(f.records[0].rec)
		require.Equal(t, "Bank (from 2)", name.Text, "schema %d", schema)
	}
	f := readFile(fk, "rig.toml", "", []byte("schema = 4\n"))
	require.Equal(t, &NewerError{"rig.toml", 1, 4, 3}, f.newer)
}

// A stored example of every schema of every file kind must load for ever; see
// testdata/tidy for schema 1 of most.
func TestSchemasOfToday(t *testing.T) {
	for _, fk := range fileKinds {
		want := 1
		if fk == showKind {
			want = 2 // testdata/schema1
		}
		require.Equal(t, want, fk.schema(), "%s: store an example of the old schema and test its upgrade", fk.name)
	}
}

// A show.toml of schema 1 says its main set as it did, and opening leaves it as
// it is; the next save that touches it writes the new key where the old one was.
func TestMainSetOfSchema1(t *testing.T) {
	old, err := os.ReadFile("testdata/schema1/show.toml")
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "show.toml"), old, 0o644))
	l, err := Load(dir)
	require.NoError(t, err)
	require.Equal(t, timeline.ID("main"), l.Show.Head.Set)
	require.Len(t, l.Show.Sets, 2)
	require.Empty(t, l.Notes)
	require.Equal(t, []string{"show.toml"}, l.Old)
	same, err := os.ReadFile(filepath.Join(dir, "show.toml"))
	require.NoError(t, err)
	require.Equal(t, string(old), string(same))

	next, err := l.Show.Edit(func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "show", ID: "gravel01"}, "main-set", timeline.Value{Text: "short"})
	})
	require.NoError(t, err)
	_, err = SaveTo(OS(dir), next, l.Show, SaveOptions{Prints: l.Prints})
	require.NoError(t, err)
	now, err := os.ReadFile(filepath.Join(dir, "show.toml"))
	require.NoError(t, err)
	want := strings.Replace(string(old), "schema = 1", "schema = 2", 1)
	want = strings.Replace(want, `set = "main" #`, `main-set = "short" #`, 1)
	require.Equal(t, want, string(now))
}

// A journal that an older program left changes the main set under its old name.
func TestMainSetInAnOldJournal(t *testing.T) {
	cs, err := DecodeChanges([]byte(`[{"kind":"show","id":"gravel01","before":{"text":{"set":"main"}},"after":{"text":{"set":"short"}}}]`))
	require.NoError(t, err)
	require.Equal(t, timeline.ID("short"), cs[0].After.(*timeline.Head).Set)
}

package shows

import (
	"testing"

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
// testdata/tidy for schema 1.
func TestSchemasOfToday(t *testing.T) {
	for _, fk := range fileKinds {
		require.Equal(t, 1, fk.schema(), "%s: store an example of the old schema and test its upgrade", fk.name)
	}
}

package shows

import (
	"sort"

	"emberbeat/timeline"

	"github.com/pelletier/go-toml/v2/unstable"
)

// document is a TOML file taken apart without loss: every key, value and
// comment, with its place. Steps of an upgrade work on it.
type document struct {
	lines  []int    // offset of the start of each line
	head   block    // the keys before the first table
	blocks []block  // tables in file order
	end    []string // comments after everything
	text   string
}

// block is a table, or one element of an array of tables, up to the next
// header.
type block struct {
	path  []string // the parts of its name; nil for the head
	array bool     // [[path]]
	at    int      // offset of the header
	last  int      // offset of the end of its last line
	note  timeline.KeptKey
	pairs []pair
}

// pair is a key with its value.
type pair struct {
	key   string // decoded; dotted keys are joined with '.'
	plain bool   // one part only
	text  string // the key as it is written
	at    int
	note  timeline.KeptKey
	value value
	raw   string // the value as it is written
}

// value is a value of any type.
type value struct {
	kind  unstable.Kind
	text  string   // of scalars: without quotes and escapes
	at    int      // offset, of scalars and inline tables
	items []item   // of arrays
	end   []string // comments behind the last item
	open  string   // comment behind the opening bracket
	pairs []pair   // of inline tables
	inner []string // comments inside an inline table
}

// item is an element of an array.
type item struct {
	value
	note timeline.KeptKey
}

// line gives the number, from 1, of the line an offset is in.
func (d *document) line(offset int) int {
	return sort.Search(len(d.lines), func(i int) bool { return d.lines[i] > offset })
}

// name gives a block's name as its header would write it.
func (b *block) name() string {
	s := ""
	for i, p := range b.path {
		if i > 0 {
			s += "."
		}
		s += bareKey(p)
	}
	if b.array {
		return "[[" + s + "]]"
	}
	return "[" + s + "]"
}

// raw gives the block as the file wrote it, header and keys.
func (d *document) raw(b *block) string { return d.text[b.at:b.last] }

// pair finds a key of a list, or nil.
func findPair(pairs []pair, key string) *pair {
	for i := range pairs {
		if pairs[i].key == key && pairs[i].plain {
			return &pairs[i]
		}
	}
	return nil
}

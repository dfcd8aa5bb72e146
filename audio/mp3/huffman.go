package mp3

import (
	"strconv"
	"strings"

	"emberbeat/audio/bits"
)

// huffman decodes one code by table: the first bits lead to a value or, where
// the code is longer, to a second table.
type huffman struct {
	entries []huffEntry
}

// huffEntry is a value with the length of its code, or the place of a second
// table with the number of bits that lead into it.
type huffEntry struct {
	value uint16
	bits  uint8
	more  bool
}

// huffRoot is the number of bits that lead into the first table.
const huffRoot = 8

// decode gives the value of the code at the top of window and its length.
func (t *huffman) decode(window uint64) (value, bits int) {
	e := t.entries[window>>(64-huffRoot)]
	if e.more {
		e2 := t.entries[int(e.value)+int(window<<huffRoot>>(64-e.bits))]
		return int(e2.value), int(e2.bits)
	}
	return int(e.value), int(e.bits)
}

// parseCodes reads a table of codeTables.
func parseCodes(text string) (list []bits.Code) {
	var next uint // the code that follows, in 32 bits
	for _, leaf := range strings.Fields(text) {
		length, err1 := strconv.ParseUint(leaf[:1], 36, 8)
		value, err2 := strconv.ParseUint(leaf[1:], 16, 8)
		if err1 != nil || err2 != nil {
			panic("bad code " + leaf)
		}
		list = append(list, bits.Code{Bits: next >> (32 - length), Length: uint(length), Value: uint32(value)})
		next += 1 << (32 - length)
	}
	return list
}

// newHuffman builds the tables for a list of codes.
func newHuffman(codes []bits.Code) *huffman {
	t := &huffman{entries: make([]huffEntry, 1<<huffRoot)}
	depth := map[uint]uint{} // longest rest of the codes below a root entry
	for _, c := range codes {
		if c.Length > huffRoot {
			root := c.Bits >> (c.Length - huffRoot)
			depth[root] = max(depth[root], c.Length-huffRoot)
		}
	}
	for _, c := range codes {
		if c.Length <= huffRoot {
			t.fill(0, c.Bits<<(huffRoot-c.Length), huffRoot-c.Length, c)
			continue
		}
		rest := c.Length - huffRoot
		root, d := c.Bits>>rest, depth[c.Bits>>rest]
		if !t.entries[root].more {
			t.entries[root] = huffEntry{uint16(len(t.entries)), uint8(d), true}
			t.entries = append(t.entries, make([]huffEntry, 1<<d)...)
		}
		t.fill(uint(t.entries[root].value), c.Bits&(1<<rest-1)<<(d-rest), d-rest, c)
	}
	return t
}

// fill enters a code at all places that begin with it.
func (t *huffman) fill(base, first, free uint, c bits.Code) {
	for i := range uint(1) << free {
		t.entries[base+first+i] = huffEntry{value: uint16(c.Value), bits: uint8(c.Length)}
	}
}

// tables are the 32 tables for pairs and the two for quadruples; nil where
// all values are zero. linBits is the number of bits that extend a 15.
var (
	tables  [34]*huffman
	linBits = [32]int{16: 1, 2, 3, 4, 6, 8, 10, 13, 4, 5, 6, 7, 8, 9, 11, 13}
)

func init() {
	for n, text := range codeTables {
		tables[n] = newHuffman(parseCodes(text))
	}
	for n := 17; n < 32; n++ {
		if n != 24 {
			tables[n] = tables[n/24*8+16]
		}
	}
}

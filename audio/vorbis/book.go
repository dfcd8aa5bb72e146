package vorbis

import (
	"math"
	mathbits "math/bits"

	"emberbeat/audio/bits"
)

// book is a codebook (Vorbis I §3): codes for entries, and maybe a vector
// of values for each entry.
type book struct {
	dims    int
	entries int
	values  []float32 // dims for each entry; nil for books of numbers only
	table   []tableEntry
}

// tableEntry is what some bits mean: an entry and how many of the bits it took,
// or where the table for the bits that follow begins and how many those are.
type tableEntry struct {
	value uint32
	bits  uint8
	more  bool
}

// Bits that lead into the first table, and into each one behind.
const (
	rootBits   = 10
	branchBits = 8
)

// What all codebooks of a stream may hold together. Real ones have a tenth.
const (
	maxEntries = 1 << 18
	maxValues  = 1 << 22
)

// entry reads a code.
func (b *book) entry(r *bitReader) int {
	w := r.window()
	c := b.table[w&(1<<rootBits-1)]
	for used := rootBits; c.more; used += branchBits {
		c = b.table[uint64(c.value)+w>>used&(1<<c.bits-1)]
	}
	r.pos += int(c.bits)
	return int(c.value)
}

// vector gives the values of an entry.
func (b *book) vector(entry int) []float32 {
	return b.values[entry*b.dims : (entry+1)*b.dims]
}

// read reads a codebook. budget is what may still be allocated; it is used up.
func (b *book) read(r *bitReader, budget *budget) bool {
	if r.read(24) != 0x564342 {
		return false
	}
	b.dims, b.entries = r.read(16), r.read(24)
	if b.dims == 0 || b.entries == 0 || !budget.take(b.entries, 0) {
		return false
	}
	lengths := make([]uint8, b.entries)
	if r.flag() {
		if !readOrdered(r, lengths) {
			return false
		}
	} else {
		readLengths(r, lengths)
	}
	codes, ok := codesOf(lengths)
	if !ok || r.over() {
		return false
	}
	b.build(codes)
	return b.readValues(r, budget)
}

// budget is how many entries and values the codebooks may still have.
type budget struct{ entries, values int }

// take uses up some of it, if there is enough.
func (m *budget) take(entries, values int) bool {
	m.entries -= entries
	m.values -= values
	return m.entries >= 0 && m.values >= 0
}

// readOrdered reads lengths of codes that never fall.
func readOrdered(r *bitReader, lengths []uint8) bool {
	length := r.read(5) + 1
	for done := 0; done < len(lengths); length++ {
		n := r.read(mathbits.Len(uint(len(lengths) - done)))
		if n > len(lengths)-done || length > 32 || r.over() {
			return false
		}
		for i := range n {
			lengths[done+i] = uint8(length)
		}
		done += n
	}
	return true
}

// readLengths reads the length of each code; 0 is an entry without one.
func readLengths(r *bitReader, lengths []uint8) {
	sparse := r.flag()
	for i := range lengths {
		if !sparse || r.flag() {
			lengths[i] = uint8(r.read(5) + 1)
		}
		if r.over() {
			return
		}
	}
}

// codesOf gives each entry that has a length the lowest code still free of
// that length. It fails unless the codes are complete, or at most one: some
// encoders write books that they never use, without any code.
func codesOf(lengths []uint8) (codes []bits.Code, ok bool) {
	var free [33]uint32 // the free code of each length, in the top bits; 0 if none
	for i, n := range lengths {
		if n == 0 {
			continue
		}
		if len(codes) == 0 {
			for k := uint8(1); k <= n; k++ {
				free[k] = 1 << (32 - k)
			}
			codes = append(codes, bits.Code{Bits: 0, Length: uint(n), Value: uint32(i)})
			continue
		}
		k := n
		for k > 0 && free[k] == 0 {
			k--
		}
		if k == 0 {
			return nil, false
		}
		at := free[k]
		free[k] = 0
		for j := k + 1; j <= n; j++ {
			free[j] = at | 1<<(32-j)
		}
		codes = append(codes, bits.Code{Bits: uint(at >> (32 - n)), Length: uint(n), Value: uint32(i)})
	}
	if len(codes) == 0 {
		codes = []bits.Code{{}}
	}
	if len(codes) == 1 {
		return []bits.Code{{Bits: 0, Length: 1, Value: codes[0].Value}, {Bits: 1, Length: 1, Value: codes[0].Value}}, true
	}
	for _, f := range free {
		if f != 0 {
			return nil, false
		}
	}
	return codes, true
}

// build makes the tables for codes, which are read from their top bit on.
func (b *book) build(codes []bits.Code) {
	b.table = make([]tableEntry, 1<<rootBits)
	depth := map[uint64]uint{} // longest rest below each branch
	for _, c := range codes {
		for used := uint(rootBits); used < c.Length; used += branchBits {
			at := branchKey(c, used)
			depth[at] = max(depth[at], c.Length-used)
		}
	}
	for _, c := range codes {
		b.enter(c, depth)
	}
}

// branchKey names the branch that the first used bits of a code lead to.
func branchKey(c bits.Code, used uint) uint64 {
	return uint64(c.Bits>>(c.Length-used)) | uint64(used)<<32
}

// enter puts one code into the tables.
func (b *book) enter(c bits.Code, depth map[uint64]uint) {
	reversed := mathbits.Reverse32(uint32(c.Bits)) >> (32 - c.Length)
	base, width, used := uint(0), uint(rootBits), uint(0)
	for c.Length-used > width {
		i := base + uint(reversed>>used)&(1<<width-1)
		used += width
		if !b.table[i].more {
			w := min(depth[branchKey(c, used)], branchBits)
			b.table[i] = tableEntry{uint32(len(b.table)), uint8(w), true}
			b.table = append(b.table, make([]tableEntry, 1<<w)...)
		}
		base, width = uint(b.table[i].value), uint(b.table[i].bits)
	}
	rest := c.Length - used
	for i := uint(reversed >> used); i < 1<<width; i += 1 << rest {
		b.table[base+i] = tableEntry{value: c.Value, bits: uint8(c.Length)}
	}
}

// readValues reads the vectors of the entries (Vorbis I §3.2.1, lookup types 1 and 2).
func (b *book) readValues(r *bitReader, budget *budget) bool {
	kind := r.read(4)
	if kind == 0 {
		return true
	}
	if kind > 2 || !budget.take(0, b.entries*b.dims) {
		return false
	}
	low, step := float(r.read(32)), float(r.read(32))
	width := r.read(4) + 1
	sums := r.flag()
	steps := b.entries * b.dims
	if kind == 1 {
		steps = latticeSide(b.entries, b.dims)
	}
	if width*steps > r.end-r.pos {
		return false
	}
	side := make([]float64, steps)
	for i := range side {
		side[i] = low + step*float64(r.read(width))
	}
	b.values = make([]float32, b.entries*b.dims)
	for e := range b.entries {
		b.fillVector(e, side, kind == 1, sums)
	}
	return true
}

// fillVector sets the vector of entry e: in a lattice its digits to the base
// of the side choose the values, else they stand in a row. With sums each
// value is added to the one before.
func (b *book) fillVector(e int, side []float64, lattice, sums bool) {
	digits, last := e, 0.0
	for d := range b.dims {
		i := e*b.dims + d
		if lattice {
			i = digits % len(side)
			digits /= len(side)
		}
		v := side[i]
		if sums {
			v += last
			last = v
		}
		b.values[e*b.dims+d] = float32(v)
	}
}

// latticeSide is the largest number whose power dims is at most entries.
func latticeSide(entries, dims int) int {
	side := int(math.Pow(float64(entries), 1/float64(dims)))
	for !powerFits(side, dims, entries) {
		side--
	}
	for powerFits(side+1, dims, entries) {
		side++
	}
	return side
}

// powerFits tells whether side to the power dims is at most limit.
func powerFits(side, dims, limit int) bool {
	if side <= 1 {
		return side <= limit
	}
	p := 1
	for range dims {
		if p *= side; p > limit {
			return false
		}
	}
	return true
}

// float is a number in the way Vorbis writes it: 21 bits of mantissa, 10
// of exponent, a sign.
func float(v int) float64 {
	m := float64(v & 0x1FFFFF)
	if v>>31&1 == 1 {
		m = -m
	}
	return math.Ldexp(m, v>>21&0x3FF-788)
}

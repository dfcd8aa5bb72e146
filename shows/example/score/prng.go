package score

// noise is a small seeded generator (xorshift with shifts 13, 7, 17, after
// G. Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8(14), 2003).
// The standard library's generators may change between releases; this one
// must not, since the rendered bytes hang on it.
type noise struct{ state uint64 }

func newNoise(seed uint64) *noise {
	// A zero state would stay zero for ever.
	n := &noise{state: seed*0x9e3779b97f4a7c15 + 0x1234567}
	for range 8 {
		n.next()
	}
	return n
}

// next gives a value from -1 up to 1.
func (n *noise) next() float64 {
	n.state ^= n.state << 13
	n.state ^= n.state >> 7
	n.state ^= n.state << 17
	return float64(int64(n.state)>>11) / (1 << 52)
}

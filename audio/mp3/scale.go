package mp3

import "emberbeat/audio/bits"

// scaleFactors holds the scale factors of one channel: of the long bands first,
// then three for each short band.
type scaleFactors struct {
	long  [22]int
	short [13][3]int
	// limits are the values that mean "no intensity position", by band.
	longLimit  [22]int
	shortLimit [13]int
}

// widths are the widths of scale factors in MPEG 1, for the lower and the
// upper bands.
var widths = [16][2]int{
	{0, 0}, {0, 1}, {0, 2}, {0, 3}, {3, 0}, {1, 1}, {1, 2}, {1, 3},
	{2, 1}, {2, 2}, {2, 3}, {3, 1}, {3, 2}, {3, 3}, {4, 2}, {4, 3},
}

// read reads the scale factors of MPEG 1. share tells which groups of bands
// keep those of granule 0.
func (s *scaleFactors) read(g *granule, share *[4]bool, second bool, r *bits.Reader) {
	w := widths[g.scaleBits]
	if g.hasShort() {
		s.readShort(g, w, r)
		return
	}
	for i, group := range [4][2]int{{0, 6}, {6, 11}, {11, 16}, {16, 21}} {
		if second && share[i] {
			continue
		}
		for b := group[0]; b < group[1]; b++ {
			s.long[b] = r.Read(w[i/2])
		}
	}
	s.long[21] = 0
}

// readShort reads the scale factors of a short or mixed block of MPEG 1.
func (s *scaleFactors) readShort(g *granule, w [2]int, r *bits.Reader) {
	first := 0
	if g.mixed {
		for b := range 8 {
			s.long[b] = r.Read(w[0])
		}
		first = 3
	}
	for b := first; b < 12; b++ {
		for win := range s.short[b] {
			s.short[b][win] = r.Read(w[b/6])
		}
	}
	s.short[12] = [3]int{}
}

// lowRateBands is the number of scale factors in each of four groups in MPEG 2:
// by the six ways to write the widths, and for long, short and mixed blocks.
var lowRateBands = [6][3][4]int{
	{{6, 5, 5, 5}, {9, 9, 9, 9}, {6, 9, 9, 9}},
	{{6, 5, 7, 3}, {9, 9, 12, 6}, {6, 9, 12, 6}},
	{{11, 10, 0, 0}, {18, 18, 0, 0}, {15, 18, 0, 0}},
	{{7, 7, 7, 0}, {12, 12, 12, 0}, {6, 15, 12, 0}},
	{{6, 6, 6, 3}, {12, 9, 9, 6}, {6, 12, 9, 6}},
	{{8, 8, 5, 0}, {15, 12, 9, 0}, {6, 18, 9, 0}},
}

// lowWidths gives the widths of the four groups, and the row of lowRateBands.
func lowWidths(code int, intensity bool) (w [4]int, row int) {
	if intensity {
		switch code >>= 1; {
		case code < 180:
			return [4]int{code / 36, code % 36 / 6, code % 6}, 3
		case code < 244:
			code -= 180
			return [4]int{code >> 4 & 3, code >> 2 & 3, code & 3}, 4
		}
		code -= 244
		return [4]int{code / 3, code % 3}, 5
	}
	switch {
	case code < 400:
		return [4]int{code >> 4 / 5, code >> 4 % 5, code >> 2 & 3, code & 3}, 0
	case code < 500:
		code -= 400
		return [4]int{code >> 2 / 5, code >> 2 % 5, code & 3}, 1
	}
	code -= 500
	return [4]int{code / 3, code % 3}, 2
}

// readLow reads the scale factors of MPEG 2 and 2.5. intensity is set for the
// right channel of intensity stereo, whose factors are positions.
func (s *scaleFactors) readLow(g *granule, intensity bool, r *bits.Reader) {
	w, row := lowWidths(g.scaleBits, intensity)
	g.preEmphasis = row == 2
	kind := 0
	if g.hasShort() {
		kind = 1
		if g.mixed {
			kind = 2
		}
	}
	n := 0
	for i, count := range lowRateBands[row][kind] {
		for range count {
			limit := -1 // all positions without any bits are fine
			if w[i] > 0 {
				limit = 1<<w[i] - 1
			}
			s.put(kind, n, r.Read(w[i]), limit)
			n++
		}
	}
	s.long[21], s.short[12] = 0, [3]int{}
}

// put stores factor number n of a long, short or mixed block.
func (s *scaleFactors) put(kind, n, v, limit int) {
	const mixedLong, mixedShort = 6, 3
	if kind == 0 || kind == 2 && n < mixedLong {
		s.long[n], s.longLimit[n] = v, limit
		return
	}
	if kind == 2 {
		n += 3*mixedShort - mixedLong
	}
	s.short[n/3][n%3], s.shortLimit[n/3] = v, limit
}

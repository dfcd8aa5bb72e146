package mp3

import "emberbeat/audio/bits"

// readLines reads the spectral lines of a granule, up to bit end, without
// their gain. It gives the number of lines up to the last that is not zero.
func readLines(g *granule, r *bits.Reader, end int, lines *[lineCount]float32) int {
	n := 0
	limits := [3]int{min(g.regions[0], 2*g.bigValues), min(g.regions[1], 2*g.bigValues), 2 * g.bigValues}
	for i, table := range g.tables {
		if tables[table] == nil {
			for ; n < limits[i]; n++ {
				lines[n] = 0
			}
			continue
		}
		n = readPairs(tables[table], linBits[table], r, end, lines, n, limits[i])
	}
	n = readQuads(tables[32+g.quadTable], r, end, lines, n)
	clear(lines[n:])
	for n > 0 && lines[n-1] == 0 {
		n--
	}
	return n
}

// readPairs reads lines from n to limit, two a code.
func readPairs(t *huffman, linBits int, r *bits.Reader, end int, lines *[lineCount]float32, n, limit int) int {
	for ; n < limit && n+1 < lineCount && r.Pos < end; n += 2 {
		w := r.Window()
		v, used := t.decode(w)
		w <<= used
		b := pairReader{w, used}
		lines[n] = b.line(v>>4, linBits)
		lines[n+1] = b.line(v&15, linBits)
		r.Pos += b.used
	}
	return n
}

// pairReader reads what follows a code: more bits of a large value, and signs.
type pairReader struct {
	window uint64
	used   int
}

// line gives the line whose code said v.
func (b *pairReader) line(v, linBits int) float32 {
	if v == 0 {
		return 0
	}
	if v == 15 && linBits > 0 {
		v += int(b.window >> (64 - linBits))
		b.window <<= linBits
		b.used += linBits
	}
	x := power[v]
	if b.window>>63 == 1 {
		x = -x
	}
	b.window <<= 1
	b.used++
	return x
}

// readQuads reads lines from n on that are 0 or ±1, four a code. The last code
// counts only if it ends by bit end.
func readQuads(t *huffman, r *bits.Reader, end int, lines *[lineCount]float32, n int) int {
	for n+4 <= lineCount && r.Pos < end {
		w := r.Window()
		v, used := t.decode(w)
		w <<= used
		for i := range 4 {
			lines[n+i] = 0
			if v&(8>>i) != 0 {
				lines[n+i] = 1 - 2*float32(w>>63)
				w <<= 1
				used++
			}
		}
		if r.Pos += used; r.Pos > end {
			break
		}
		n += 4
	}
	return n
}

// scaleLines gives lines the gain of their bands.
func scaleLines(h header, g *granule, s *scaleFactors, lines *[lineCount]float32, used int) {
	bands := &bands[h.table()]
	gain, shift := g.gain-210, 1
	if h.middleSide() {
		gain -= 2 // both are divided by the root of 2
	}
	if g.coarse {
		shift = 2
	}
	longEnd, shortBegin := longBands(h, g)
	for b := 0; b < longEnd && bands.long[b] < used; b++ {
		f := s.long[b]
		if g.preEmphasis {
			f += preEmphases[b]
		}
		multiply(lines[bands.long[b]:bands.long[b+1]], quarter(gain-f<<shift))
	}
	for b := shortBegin; b < 13 && 3*bands.short[b] < used; b++ {
		width := bands.short[b+1] - bands.short[b]
		for win := range 3 {
			at := 3*bands.short[b] + win*width
			e := gain - 8*g.windowGain[win] - s.short[b][win]<<shift
			multiply(lines[at:at+width], quarter(e))
		}
	}
}

// longBands tells how many long bands a granule has, and its first short band.
func longBands(h header, g *granule) (longEnd, shortBegin int) {
	switch {
	case !g.hasShort():
		return 22, 13
	case g.mixed:
		return mixedLongBands(h)
	}
	return 0, 0
}

func multiply(lines []float32, by float32) {
	for i := range lines {
		lines[i] *= by
	}
}

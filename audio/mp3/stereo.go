package mp3

import "math"

// stereo undoes joint stereo.
func (d *frameDecoder) stereo(h header, g *[2]granule) {
	if h.channels() < 2 {
		return
	}
	if h.intensity() {
		d.intensity(h, &g[1])
	} else if h.middleSide() {
		d.middleSide(0, lineCount)
	}
	if h.intensity() || h.middleSide() {
		d.used[0] = max(d.used[0], d.used[1])
		d.used[1] = d.used[0]
	}
}

// middleSide makes left and right of middle and side, whose gain is already
// reduced by the root of 2.
func (d *frameDecoder) middleSide(from, to int) {
	left, right := d.lines[0][from:to], d.lines[1][from:to]
	for i, m := range left {
		s := right[i]
		left[i], right[i] = m+s, m-s
	}
}

// intensity makes both channels of the left one where the right one has no
// more lines; below, it undoes middle and side stereo if that is on too.
func (d *frameDecoder) intensity(h header, g *granule) {
	bands, s := &bands[h.table()], &d.scales[1]
	longEnd, shortBegin := longBands(h, g)
	var found [3]bool // the right channel has lines in this window
	for b := 12; b >= shortBegin; b-- {
		width := bands.short[b+1] - bands.short[b]
		from := min(b, 11) // the last band takes its neighbour's position
		for win := 2; win >= 0; win-- {
			at := 3*bands.short[b] + win*width
			found[win] = found[win] || !allZero(d.lines[1][at:at+width])
			d.place(h, g, at, at+width, s.short[from][win], s.shortLimit[from], found[win])
		}
	}
	any := found[0] || found[1] || found[2]
	for b := longEnd - 1; b >= 0; b-- {
		at, end := bands.long[b], bands.long[b+1]
		from := min(b, 20)
		any = any || !allZero(d.lines[1][at:end])
		d.place(h, g, at, end, s.long[from], s.longLimit[from], any)
	}
}

func allZero(lines []float32) bool {
	for _, v := range lines {
		if v != 0 {
			return false
		}
	}
	return true
}

// place gives both channels their share of a band in intensity stereo. Where
// the right channel has lines of its own, or the position is the forbidden
// one, the band is plain or middle and side stereo.
func (d *frameDecoder) place(h header, g *granule, at, end, position, limit int, own bool) {
	if !h.lowRate() {
		limit = 7
	}
	if own || position == limit {
		if h.middleSide() {
			d.middleSide(at, end)
		}
		return
	}
	l, r := intensityShares(h, g, position)
	if h.middleSide() { // this gain was taken off for the whole granule
		l, r = l*math.Sqrt2, r*math.Sqrt2
	}
	for i := at; i < end; i++ {
		v := d.lines[0][i]
		d.lines[0][i], d.lines[1][i] = v*l, v*r
	}
}

// intensityShares are the shares of left and right at a position.
func intensityShares(h header, g *granule, position int) (left, right float32) {
	if !h.lowRate() {
		if position >= 6 {
			return 1, 0
		}
		t := math.Tan(float64(position) * math.Pi / 12)
		return float32(t / (1 + t)), float32(1 / (1 + t))
	}
	step := 1 + g.scaleBits&1 // quarters of a power of two
	if position&1 == 1 {
		return quarter(-step * (position + 1) / 2), 1
	}
	return 1, quarter(-step * position / 2)
}

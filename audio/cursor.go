package audio

// cursor is an exact place in a song, for a device of another rate: frame pos
// and frac/ratio.den more.
type cursor struct {
	pos, frac int64
}

// ratio is the number of song frames in a device frame, num/den in lowest
// terms.
type ratio struct{ num, den int64 }

// newRatio reduces num/den.
func newRatio(num, den int64) ratio {
	a, b := num, den
	for b != 0 {
		a, b = b, a%b
	}
	return ratio{num / a, den / a}
}

// advance moves on by n device frames.
func (c cursor) advance(n int64, r ratio) cursor {
	total := c.frac + n*r.num
	return cursor{c.pos + floorDiv(total, r.den), total - floorDiv(total, r.den)*r.den}
}

// until is the number of device frames until the cursor is at frame or past
// it; 0 or less if it is already.
func (c cursor) until(frame int64, r ratio) int64 {
	return -floorDiv(c.frac-(frame-c.pos)*r.den, r.num)
}

// convert keeps the place where another ratio takes over.
func (c cursor) convert(from, to ratio) cursor {
	return cursor{c.pos, c.frac * to.den / from.den}
}

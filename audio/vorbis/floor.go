package vorbis

import (
	"math"
	"math/bits"
	"slices"
)

// floor is a floor of type 1 (Vorbis I §7): the rough spectrum, as lines
// between points.
type floor struct {
	parts   []int // class of each partition
	classes [16]floorClass
	factor  int
	x       []int // of the points, the ends first
	order   []int // points by x
	low     []int // for each point the neighbours among those before it
	high    []int
	y       []int // of the points in the current packet
	used    []bool
}

// floorClass is how the points of a partition are coded.
type floorClass struct {
	dims, bits int
	master     int
	books      [8]int // -1 for points that stay 0
}

// read reads a floor.
func (f *floor) read(r *bitReader, books int) bool {
	f.parts = make([]int, r.read(5))
	classes := 0
	for i := range f.parts {
		f.parts[i] = r.read(4)
		classes = max(classes, f.parts[i]+1)
	}
	for i := range classes {
		if !f.classes[i].read(r, books) {
			return false
		}
	}
	f.factor = r.read(2) + 1
	width := r.read(4)
	f.x = append(f.x, 0, 1<<width)
	for _, p := range f.parts {
		for range f.classes[p].dims {
			f.x = append(f.x, r.read(width))
		}
	}
	return !r.over() && f.sort()
}

// read reads a class.
func (c *floorClass) read(r *bitReader, books int) bool {
	c.dims, c.bits = r.read(3)+1, r.read(2)
	if c.bits > 0 {
		c.master = r.read(8)
	}
	ok := c.master < books
	for i := range 1 << c.bits {
		c.books[i] = r.read(8) - 1
		ok = ok && c.books[i] < books
	}
	return ok
}

// sort finds the order and the neighbours of the points; it fails if two are at
// one place.
func (f *floor) sort() bool {
	n := len(f.x)
	f.y, f.used = make([]int, n), make([]bool, n)
	f.low, f.high = make([]int, n), make([]int, n)
	for i := range n {
		f.order = append(f.order, i)
		f.low[i], f.high[i] = 0, 1
		for j := range i {
			if f.x[j] < f.x[i] && f.x[j] > f.x[f.low[i]] {
				f.low[i] = j
			}
			if f.x[j] > f.x[i] && f.x[j] < f.x[f.high[i]] {
				f.high[i] = j
			}
		}
	}
	slices.SortFunc(f.order, func(a, b int) int { return f.x[a] - f.x[b] })
	for i, p := range f.order[1:] {
		if f.x[p] == f.x[f.order[i]] {
			return false
		}
	}
	return true
}

// ranges is the number of values a point can have, by factor.
var ranges = [5]int{0, 256, 128, 86, 64}

// decode reads the points of a packet; false if the channel is silent.
func (f *floor) decode(r *bitReader, books []book) bool {
	if !r.flag() {
		return false
	}
	width := bits.Len(uint(ranges[f.factor] - 1))
	f.y[0], f.y[1] = r.read(width), r.read(width)
	n := 2
	for _, p := range f.parts {
		c := &f.classes[p]
		which := 0
		if c.bits > 0 {
			which = books[c.master].entry(r)
		}
		for range c.dims {
			f.y[n] = 0
			if b := c.books[which&(1<<c.bits-1)]; b >= 0 {
				f.y[n] = books[b].entry(r)
			}
			which >>= c.bits
			n++
		}
	}
	if r.over() {
		return false
	}
	f.unfold()
	return true
}

// unfold makes heights of what was read, which is how far each point is off the
// line between its neighbours.
func (f *floor) unfold() {
	top := ranges[f.factor]
	f.used[0], f.used[1] = true, true
	for i := 2; i < len(f.x); i++ {
		a, b := f.low[i], f.high[i]
		line := f.y[a] + (f.y[b]-f.y[a])*(f.x[i]-f.x[a])/(f.x[b]-f.x[a])
		v := f.y[i]
		if f.used[i] = v > 0; f.used[i] {
			f.used[a], f.used[b] = true, true
		}
		f.y[i] = max(0, min(top-1, line+unfoldOffset(v, line, top)))
	}
}

// unfoldOffset is the signed offset that v stands for: to both sides in turn
// while there is room on both, then to the side that has room.
func unfoldOffset(v, line, top int) int {
	above, below := top-line, line
	switch room := 2 * min(above, below); {
	case v >= room && above > below:
		return v - below
	case v >= room:
		return above - v - 1
	case v&1 == 1:
		return -(v + 1) / 2
	}
	return v / 2
}

// apply multiplies a spectrum with the floor.
func (f *floor) apply(spectrum []float32) {
	x, y := 0, f.y[0]*f.factor
	for _, p := range f.order[1:] {
		if f.used[p] {
			drawFloor(spectrum, x, y, f.x[p], f.y[p]*f.factor)
			x, y = f.x[p], f.y[p]*f.factor
		}
	}
	if x < len(spectrum) {
		level := levels[min(255, y)]
		for i := range spectrum[x:] {
			spectrum[x+i] *= level
		}
	}
}

// drawFloor multiplies a spectrum, from x0 to before x1, with a line of levels,
// whole as Bresenham draws them (Vorbis I §9.2.7).
func drawFloor(spectrum []float32, x0, y0, x1, y1 int) {
	dx, dy := x1-x0, y1-y0
	base := dy / dx
	step, rest := 1, dy-base*dx
	if dy < 0 {
		step, rest = -1, -rest
	}
	y, err := y0, 0
	for x := x0; x < min(x1, len(spectrum)); x++ {
		spectrum[x] *= levels[max(0, min(255, y))]
		y += base
		if err += rest; err >= dx {
			err -= dx
			y += step
		}
	}
}

// levels are the levels of a floor: 256 steps up to 1, over 140 dB. The
// table in Vorbis I §10.1 is these numbers, to eight digits.
var levels = func() (t [256]float32) {
	for i := range t {
		t[i] = float32(math.Pow(10, 7*float64(i+1)/256-7))
	}
	return t
}()

package ltc

import (
	"math"
	"math/bits"
	"slices"

	"emberbeat/timeline"
)

// Frame is one frame read from a sound.
type Frame struct {
	Label timeline.Timecode
	Word  Word
	// Start and End are where its first bit begins and its last one ends, in
	// samples and parts of them. Played backwards, Start comes after End.
	Start, End float64
	Level      float64 // amplitude, full scale 1
}

// Reverse reports whether the frame was played backwards.
func (f *Frame) Reverse() bool { return f.Start > f.End }

// Decoder finds frames in a sound of one channel: at any level that stands
// out of the noise, any polarity and offset, forwards or backwards, at any
// steady or slowly changing speed. It keeps a few frames in memory.
type Decoder struct {
	found   func(Frame)
	finder  *edgeFinder
	edges   []float64 // not yet understood
	cell    float64   // samples of a bit; 0 = not known
	misses  int       // intervals in a row that fit nothing
	last    uint16    // bits 64 to 79 of the newest 80
	first   uint64    // bits 0 to 63
	count   int       // bits in a row, up to 80
	starts  [wordBits]float64
	next    int   // place in starts
	passed  int64 // edges understood before these
	sorted  [acquireEdges - 1]float64
	slides  int64   // the edge at which the window begins that follows the sorted one; 0 = none does
	oldest  float64 // the interval that leaves it then
	invalid int64
}

// acquireEdges is the number of edges from which the length of a bit is taken:
// more than a frame holds at most.
const acquireEdges = 2*wordBits + 1

// NewDecoder hands every frame found to a function, in the order of the sound.
func NewDecoder(sampleRate int, found func(Frame)) *Decoder {
	d := &Decoder{found: found}
	d.finder = newEdgeFinder(sampleRate, d.edge)
	return d
}

// Write takes the next samples, full scale ±1.
func (d *Decoder) Write(samples []float32) error {
	d.finder.write(samples)
	return nil
}

// Close reads what is left; the end of the sound counts as an edge.
func (d *Decoder) Close() error {
	end := d.finder.close()
	d.edges = append(d.edges, float64(end))
	d.understand(true)
	return nil
}

// edge takes the next edge.
func (d *Decoder) edge(place float64) {
	d.edges = append(d.edges, place)
	if len(d.edges) >= 2*acquireEdges {
		d.understand(false)
	}
}

// understand makes bits of the edges. Unless the sound has ended, enough of
// them are kept to learn the length of a bit again.
func (d *Decoder) understand(ended bool) {
	keep := acquireEdges
	if ended {
		keep = 1
	}
	i := 0
	for len(d.edges)-i > keep {
		if d.cell == 0 && !d.acquire(d.passed+int64(i), d.edges[i:min(i+acquireEdges, len(d.edges))]) {
			i++
			continue
		}
		i += d.bit(d.edges[i:])
	}
	d.edges, d.passed = append(d.edges[:0], d.edges[i:]...), d.passed+int64(i)
}

// acquire learns the length of a bit from the edges ahead, of which the first is
// the at-th of the sound. Whatever a frame
// says, at least 15 in 100 of its intervals are halves, for the sync word has
// thirteen ones, and at least 7 are wholes.
func (d *Decoder) acquire(at int64, edges []float64) bool {
	if len(edges) < wordBits {
		return false
	}
	sorted := d.sortIntervals(at, edges)
	half, whole := sorted[len(sorted)*12/100], sorted[len(sorted)*94/100]
	if whole < 1.5*half || whole > 2.7*half || whole < 4 {
		return false
	}
	d.cell = (2*half + whole) / 2
	d.misses, d.count = 0, 0
	return true
}

// sortIntervals gives the intervals between edges, shortest first. In music no bit
// is ever learned, and a window follows the other an edge later: then one interval
// goes and one comes.
func (d *Decoder) sortIntervals(at int64, edges []float64) []float64 {
	n := len(edges) - 1
	sorted := d.sorted[:n]
	if n == len(d.sorted) && d.slides > 0 && d.slides == at {
		newest := edges[n] - edges[n-1]
		from, _ := slices.BinarySearch(sorted, d.oldest)
		to, _ := slices.BinarySearch(sorted, newest)
		if to > from {
			to--
			copy(sorted[from:to], sorted[from+1:to+1])
		} else {
			copy(sorted[to+1:from+1], sorted[to:from])
		}
		sorted[to] = newest
	} else {
		for i := range sorted {
			sorted[i] = edges[i+1] - edges[i]
		}
		slices.Sort(sorted)
	}
	if d.slides, d.oldest = at+1, edges[1]-edges[0]; n < len(d.sorted) {
		d.slides = 0
	}
	return sorted
}

// Shares of a bit's length that tell intervals apart.
const (
	wholeFrom  = 0.75
	wholeTo    = 1.5
	halfFrom   = 0.25
	follow     = 0.1 // how fast the length follows the speed
	mostMisses = 12
)

// bit reads one bit from the edges ahead and gives the number of intervals it
// took.
func (d *Decoder) bit(edges []float64) int {
	a := edges[1] - edges[0]
	switch {
	case a > wholeTo*d.cell:
		d.cell, d.count = 0, 0 // silence, or another speed
		return 1
	case a >= wholeFrom*d.cell:
		d.push(0, edges[0], edges[1])
		return 1
	}
	if len(edges) > 2 && a >= halfFrom*d.cell {
		b := edges[2] - edges[1]
		if both := a + b; b >= halfFrom*d.cell && b < wholeFrom*d.cell && both >= wholeFrom*d.cell && both < wholeTo*d.cell {
			d.push(1, edges[0], edges[2])
			return 2
		}
	}
	d.count = 0
	if d.misses++; d.misses > mostMisses {
		d.cell = 0
	}
	return 1
}

// push takes the next bit and looks for the sync word at either end of the
// newest 80.
func (d *Decoder) push(bit uint16, start, end float64) {
	d.cell += follow * (end - start - d.cell)
	d.first = d.first>>1 | uint64(d.last&1)<<63
	d.last = d.last>>1 | bit<<15
	d.starts[d.next] = start
	d.next = (d.next + 1) % wordBits
	if d.count++; d.count < wordBits {
		return
	}
	d.count = wordBits
	switch {
	case d.last == syncWord:
		d.frame(d.first, d.last, d.starts[d.next], end)
	case uint16(d.first) == bits.Reverse16(syncWord):
		first := bits.Reverse64(d.first>>16 | uint64(d.last)<<48)
		d.frame(first, syncWord, end, d.starts[d.next])
	}
}

// frame hands on what 80 bits say.
func (d *Decoder) frame(first uint64, last uint16, start, end float64) {
	f := Frame{Start: start, End: end, Level: d.finder.amplitude}
	for i := range lastTimeByte {
		f.Word[i] = byte(first >> (8 * i))
	}
	f.Word[8], f.Word[9] = byte(last), byte(last>>8)
	d.count, d.misses = 0, 0
	var ok bool
	if f.Label, ok = f.Word.Label(); !ok {
		d.invalid++
		return
	}
	d.found(f)
}

// length is how long a frame took, in samples.
func (f *Frame) length() float64 { return math.Abs(f.End - f.Start) }

// from and to are its places in the sound, whichever way it was played.
func (f *Frame) from() float64 { return min(f.Start, f.End) }
func (f *Frame) to() float64   { return max(f.Start, f.End) }

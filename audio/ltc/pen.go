package ltc

import (
	"encoding/binary"
	"io"
	"math"
)

// height is one of the three levels that the wave rests at.
type height int

const (
	silent height = iota
	low
	high
	heights
)

// value is the height's part of the peak level.
func (h height) value() float64 { return [heights]float64{0, -1, 1}[h] }

// pen draws the wave from edge to edge and writes it in blocks.
type pen struct {
	w       io.Writer
	err     error
	written int64

	bytes int // of a sample
	reach int64
	// shapes holds for every pair of heights and every part of a sample that
	// an edge can lie at the samples it touches, ready to be copied.
	shapes [heights][heights][]byte
	rests  [heights][]byte // a block of each height

	at  int64 // next sample to draw
	now height
	buf []byte
}

// penBlock is the number of bytes written at once: whole samples of 2 and 3.
const penBlock = 3 << 15

func newPen(w io.Writer, s *Stripe) *pen {
	p := &pen{w: w, bytes: s.Bits / 8, reach: s.reach(), buf: make([]byte, 0, penBlock)}
	peak := math.Pow(10, s.Level/20) * float64(int64(1)<<(s.Bits-1)-1)
	for from := range heights {
		p.rests[from] = p.appendSamples(nil, penBlock/p.bytes, func(int) float64 { return from.value() * peak })
		for to := range heights {
			if from != to {
				p.shapes[from][to] = p.shape(from.value()*peak, to.value()*peak, float64(s.SampleRate))
			}
		}
	}
	return p
}

// shape gives the samples of an edge for all parts of a sample.
func (p *pen) shape(from, to, rate float64) []byte {
	var all []byte
	width := edgeTime * rate
	for phase := range phases {
		middle := float64(p.reach) + float64(phase)/phases
		all = p.appendSamples(all, p.edgeSamples(), func(i int) float64 {
			x := min(max((float64(i)-middle)/width+0.5, 0), 1)
			return from + (to-from)*(1-math.Cos(math.Pi*x))/2
		})
	}
	return all
}

// edgeSamples is how many samples an edge is drawn with.
func (p *pen) edgeSamples() int { return int(2*p.reach) + 1 }

func (p *pen) appendSamples(b []byte, n int, value func(int) float64) []byte {
	for i := range n {
		v := int32(math.RoundToEven(value(i)))
		b = binary.LittleEndian.AppendUint16(b, uint16(v))
		if p.bytes == 3 {
			b = append(b, byte(v>>16))
		}
	}
	return b
}

// word draws the biphase marks of a frame: an edge where each bit starts and,
// for a one, another in its middle.
func (p *pen) word(w Word, start, length int64) {
	level := low
	flip := func(half int64) {
		next := low + high - level
		p.edge(start+length*half/(2*wordBits), level, next)
		level = next
	}
	for i := range wordBits {
		flip(int64(2 * i))
		if w.bit(i) == 1 {
			flip(int64(2*i + 1))
		}
	}
}

// edge draws a change of height whose middle is at a place, in parts of a
// sample, and the rest before it. Edges further apart than they are long never
// meet; where one is cut by the start of the sound, its later part is drawn.
func (p *pen) edge(place int64, from, to height) {
	sample, phase := place>>phaseBits, place&(phases-1)
	first := sample - p.reach
	p.now = from
	p.to(first)
	size := p.edgeSamples() * p.bytes
	shape := p.shapes[from][to][int(phase)*size:][:size]
	skip := max(0, p.at-first)
	p.put(shape[int(skip)*p.bytes:])
	p.at = first + int64(p.edgeSamples())
	p.now = to
}

// to rests until a sample.
func (p *pen) to(sample int64) {
	for p.at < sample {
		rest := p.rests[p.now]
		n := min(sample-p.at, int64(len(rest)/p.bytes))
		p.put(rest[:int(n)*p.bytes])
		p.at += n
	}
}

func (p *pen) put(b []byte) {
	if len(p.buf)+len(b) > cap(p.buf) {
		p.flush()
	}
	p.buf = append(p.buf, b...)
}

func (p *pen) flush() {
	if p.err == nil && len(p.buf) > 0 {
		var n int
		n, p.err = p.w.Write(p.buf)
		p.written += int64(n)
	}
	p.buf = p.buf[:0]
}

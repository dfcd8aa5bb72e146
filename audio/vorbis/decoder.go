package vorbis

import (
	mathbits "math/bits"

	"emberbeat/audio/bits"
)

// Decoder turns packets of Vorbis I into samples.
//
// github.com/jfreymuth/oggvorbis 1.0.5 was to do this. It refuses files of six
// channels, makes 330 allocations for each second of sound, and a header can
// make it allocate any amount.
type Decoder struct {
	setup
	headers  int // read so far
	bits     bitReader
	mdct     [2]*mdct
	spectrum [][]float32 // by channel
	mixed    []float32   // residue of several channels in turn
	silent   []bool      // by channel: no residue in this block
	raw      [][]float32 // samples of the current block, by channel
	half     [][]float32 // second half of the block before
	halfSize int         // size of that block, 0 if there is none

	vectors [][]float32 // of one submap
	skips   []bool
	one     [1][]float32 // all channels of a submap in turn
	place   []int        // of each channel among the samples given
}

// Header reads the next of the three packets that begin a stream.
func (d *Decoder) Header(packet []byte) error {
	d.headers++
	switch {
	case d.headers == 1 && !d.readIdentity(packet):
		return errHeader()
	case d.headers == 3:
		return d.readSetup(packet)
	}
	return nil
}

// Shape is the number of frames a second and of samples a frame, once the first
// header is read.
func (d *Decoder) Shape() (rate, channels int) { return d.rate, d.channels }

// Longest is the largest number of frames that Decode gives.
func (d *Decoder) Longest() int { return d.sizes[1] }

// Frames is how many frames packets will give, decoded next.
func (d *Decoder) Frames(packets [][]byte) (n int64) {
	before := d.halfSize
	for _, p := range packets {
		size := d.blockSize(p)
		if size > 0 && before > 0 {
			n += int64(before/4 + size/4)
		}
		if size > 0 {
			before = size
		}
	}
	return n
}

// Forget is for packets that were lost: the next block joins nothing.
func (d *Decoder) Forget() { d.halfSize = 0 }

// Prepare makes the buffers, once the headers are read.
func (d *Decoder) Prepare() {
	n := d.sizes[1]
	for i, size := range d.sizes {
		d.mdct[i] = newMDCT(size)
	}
	for range d.channels {
		d.spectrum = append(d.spectrum, make([]float32, n/2))
		d.raw = append(d.raw, make([]float32, n))
		d.half = append(d.half, make([]float32, n/2))
	}
	d.silent = make([]bool, d.channels)
	d.mixed = make([]float32, d.channels*n/2)
	for ch := range d.channels {
		d.place = append(d.place, placeOf(ch, d.channels))
	}
}

// Decode decodes a packet and gives the number of frames that are now ready:
// none for the first block, nor for a packet that holds no block.
func (d *Decoder) Decode(packet []byte, out []float32) int {
	size := d.blockSize(packet)
	if size == 0 {
		return 0
	}
	r := &d.bits
	r.reset(packet)
	r.read(1)
	mode := d.modes[r.read(mathbits.Len(uint(len(d.modes)-1)))]
	if mode.long == 1 {
		r.read(2) // sizes of the neighbours, which their own packets say too
	}
	m := &d.mappings[mode.mapping]
	d.readFloors(r, m, size/2)
	d.readResidues(r, m, size/2)
	d.decouple(m, size/2)
	for ch := range d.channels {
		spectrum := d.spectrum[ch][:size/2]
		if d.silent[ch] {
			clear(spectrum)
		}
		d.mdct[mode.long].inverse(spectrum, d.raw[ch][:size])
	}
	n := d.overlap(size, out)
	for ch := range d.channels {
		copy(d.half[ch], d.raw[ch][size/2:size])
	}
	d.halfSize = size
	return n
}

// readFloors reads the floors of all channels, and applies them to ones: the
// residue will multiply with them.
func (d *Decoder) readFloors(r *bitReader, m *mapping, n int) {
	for ch := range d.channels {
		f := &d.floors[m.floors[m.submap[ch]]]
		d.silent[ch] = !f.decode(r, d.books)
		curve := d.raw[ch][:n]
		for i := range curve {
			curve[i] = 1
		}
		if !d.silent[ch] {
			f.apply(curve)
		}
	}
}

// readResidues reads the residue of all channels.
func (d *Decoder) readResidues(r *bitReader, m *mapping, n int) {
	for ch := range d.channels {
		clear(d.spectrum[ch][:n])
	}
	for s, residue := range m.residues {
		d.vectors, d.skips = d.vectors[:0], d.skips[:0]
		for ch := range d.channels {
			if m.submap[ch] == s {
				d.vectors = append(d.vectors, d.spectrum[ch][:n])
				d.skips = append(d.skips, d.skip(m, ch))
			}
		}
		if len(d.vectors) > 0 {
			d.readResidue(r, &d.residues[residue])
		}
	}
}

// skip tells whether the packet holds no residue of a channel: it is silent,
// and so is what it is coupled with.
func (d *Decoder) skip(m *mapping, ch int) bool {
	silent := d.silent[ch]
	for _, c := range m.couplings {
		if c[0] == ch || c[1] == ch {
			silent = silent && d.silent[c[0]] && d.silent[c[1]]
		}
	}
	return silent
}

// readResidue reads the residue of the channels of one submap.
func (d *Decoder) readResidue(r *bitReader, x *residue) {
	if x.kind < 2 {
		x.decode(r, d.books, d.vectors, d.skips)
		return
	}
	for _, skip := range d.skips {
		if !skip {
			d.readMixed(r, x)
			return
		}
	}
}

// readMixed reads a residue of type 2, where the channels take turns.
func (d *Decoder) readMixed(r *bitReader, x *residue) {
	channels := len(d.vectors)
	all := d.mixed[:channels*len(d.vectors[0])]
	clear(all)
	d.one[0] = all
	x.decode(r, d.books, d.one[:], none[:])
	for ch, v := range d.vectors {
		for i := range v {
			v[i] = all[i*channels+ch]
		}
	}
}

// none is set for nothing.
var none [1]bool

// decouple undoes the coupling of channels and multiplies with the floors.
func (d *Decoder) decouple(m *mapping, n int) {
	for i := len(m.couplings) - 1; i >= 0; i-- {
		c := m.couplings[i]
		magnitude, angle := d.spectrum[c[0]][:n], d.spectrum[c[1]][:n]
		for k, a := range angle {
			magnitude[k], angle[k] = decoupled(magnitude[k], a)
		}
	}
	for ch := range d.channels {
		curve := d.raw[ch][:n]
		for i, v := range d.spectrum[ch][:n] {
			d.spectrum[ch][i] = v * curve[i]
		}
	}
}

// decoupled gives both channels of magnitude and angle (Vorbis I §4.3.5).
func decoupled(m, a float32) (float32, float32) {
	switch {
	case m > 0 && a > 0:
		return m, m - a
	case m > 0:
		return m + a, m
	case a > 0:
		return m, m + a
	}
	return m - a, m
}

// overlap joins the block with the half of the one before, and gives the frames
// between the middles of both.
func (d *Decoder) overlap(size int, out []float32) int {
	before := d.halfSize
	if before == 0 {
		return 0
	}
	short := min(before, size)
	slope := d.mdct[0].window
	if short == d.sizes[1] {
		slope = d.mdct[1].window
	}
	// The blocks meet at before/4; that is where the slopes cross.
	from, to, n := before/4-short/4, before/4+short/4, before/4+size/4
	shift := size/4 - before/4
	for ch := range d.channels {
		old, now := d.half[ch], d.raw[ch]
		for t := from; t < to; t++ {
			old[t] = old[t]*slope[to-1-t] + now[t+shift]*slope[t-from]
		}
		at := d.place[ch]
		for _, v := range old[:min(to, n)] {
			out[at] = bits.Sane(v)
			at += d.channels
		}
		for _, v := range now[min(to, n)+shift : n+shift] {
			out[at] = bits.Sane(v)
			at += d.channels
		}
	}
	return n
}

// placeOf is where channel ch of n goes: Vorbis has the centre second and
// the low frequency effects last (Vorbis I §4.3.9), WAV has them third and fourth.
func placeOf(ch, n int) int {
	order := map[int][]int{
		3: {0, 2, 1},
		5: {0, 2, 1, 3, 4},
		6: {0, 2, 1, 4, 5, 3},
		7: {0, 2, 1, 5, 6, 4, 3},
		8: {0, 2, 1, 6, 7, 4, 5, 3},
	}[n]
	if order == nil {
		return ch
	}
	return order[ch]
}

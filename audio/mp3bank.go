package audio

import "math"

// Sizes of the hybrid filter bank: 32 subbands of 18 lines.
const (
	mp3Subbands = 32
	mp3Slots    = 18
)

// mp3Bank is the filter bank of one channel, and what it carries over.
type mp3Bank struct {
	overlap [mp3Subbands][mp3Slots]float32
	slots   [mp3Slots][mp3Subbands]float32
	alive   int // subbands whose overlap may be other than zero
	synth   mp3Synth
}

// run makes 576 samples of a granule's lines, every stride-th of out.
func (b *mp3Bank) run(h mp3Header, g *mp3Granule, lines *[mp3Lines]float32, used int, out []float32, stride int) {
	longSubbands := mp3Subbands
	if g.hasShort() {
		longSubbands = 0
		if g.mixed {
			long, _ := mixedLongBands(h)
			longSubbands = mp3Bands[h.table()].long[long] / mp3Slots
		}
		reorder(h, lines, longSubbands*mp3Slots)
		used = mp3Lines // lines have moved within their bands
	}
	antialias(lines, min(longSubbands, used/mp3Slots+2))
	subbands := min(mp3Subbands, (used+mp3Slots-1)/mp3Slots+1)
	for sb := range mp3Subbands {
		if sb >= subbands && sb >= b.alive {
			b.put(sb, &zeroSlots)
			continue
		}
		b.transform(g, lines, sb, sb < longSubbands)
	}
	b.alive = subbands
	for i := range b.slots {
		b.synth.step(&b.slots[i], out[i*mp3Subbands*stride:], stride)
	}
}

var zeroSlots [mp3Slots]float32

// transform makes the 18 samples of subband sb.
func (b *mp3Bank) transform(g *mp3Granule, lines *[mp3Lines]float32, sb int, long bool) {
	in := (*[mp3Slots]float32)(lines[sb*mp3Slots:])
	var x [2 * mp3Slots]float32
	switch {
	case long && g.mixed && (sb < 2 || g.hasShort()):
		imdct36(in, &mp3Windows[mp3Normal], &x)
	case long:
		imdct36(in, &mp3Windows[g.block], &x)
	default:
		imdct12(in, &x)
	}
	old := &b.overlap[sb]
	for i := range old {
		x[i] += old[i]
		old[i] = x[i+mp3Slots]
	}
	b.put(sb, (*[mp3Slots]float32)(x[:mp3Slots]))
}

// put hands the samples of subband sb to the synthesis, every second one of odd
// subbands inverted.
func (b *mp3Bank) put(sb int, x *[mp3Slots]float32) {
	for i, v := range x {
		if sb&i&1 == 1 {
			v = -v
		}
		b.slots[i][sb] = v
	}
}

// reorder brings the lines of short blocks, from line begin on, from the order
// band, window, line into band, line, window.
func reorder(h mp3Header, lines *[mp3Lines]float32, begin int) {
	bands := &mp3Bands[h.table()].short
	var tmp [mp3Lines]float32
	for b := range 13 {
		at, width := 3*bands[b], bands[b+1]-bands[b]
		if at < begin {
			continue
		}
		for win := range 3 {
			for i := range width {
				tmp[at+3*i+win] = lines[at+win*width+i]
			}
		}
	}
	copy(lines[begin:], tmp[begin:])
}

// mp3Alias are the butterflies against aliasing (ISO/IEC 11172-3 table B.9).
var mp3Alias = func() (t [8][2]float32) {
	for i, c := range []float64{-0.6, -0.535, -0.33, -0.185, -0.095, -0.041, -0.0142, -0.0037} {
		t[i] = [2]float32{float32(1 / math.Sqrt(1+c*c)), float32(c / math.Sqrt(1+c*c))}
	}
	return t
}()

// antialias undoes the aliasing between the first subbands.
func antialias(lines *[mp3Lines]float32, subbands int) {
	for sb := 1; sb < subbands; sb++ {
		below, above := (*[8]float32)(lines[sb*mp3Slots-8:]), (*[8]float32)(lines[sb*mp3Slots:])
		for i, c := range &mp3Alias {
			x, y := below[7-i], above[i]
			below[7-i] = x*c[0] - y*c[1]
			above[i] = y*c[0] + x*c[1]
		}
	}
}

package mp3

import "math"

// Sizes of the hybrid filter bank: 32 subbands of 18 lines.
const (
	subbandCount = 32
	slotCount    = 18
)

// bank is the filter bank of one channel, and what it carries over.
type bank struct {
	overlap [subbandCount][slotCount]float32
	slots   [slotCount][subbandCount]float32
	alive   int // subbands whose overlap may be other than zero
	synth   synth
}

// run makes 576 samples of a granule's lines, every stride-th of out.
func (b *bank) run(h header, g *granule, lines *[lineCount]float32, used int, out []float32, stride int) {
	longSubbands := subbandCount
	if g.hasShort() {
		longSubbands = 0
		if g.mixed {
			long, _ := mixedLongBands(h)
			longSubbands = bands[h.table()].long[long] / slotCount
		}
		reorder(h, lines, longSubbands*slotCount)
		used = lineCount // lines have moved within their bands
	}
	antialias(lines, min(longSubbands, used/slotCount+2))
	subbands := min(subbandCount, (used+slotCount-1)/slotCount+1)
	for sb := range subbandCount {
		if sb >= subbands && sb >= b.alive {
			b.put(sb, &zeroSlots)
			continue
		}
		b.transform(g, lines, sb, sb < longSubbands)
	}
	b.alive = subbands
	for i := range b.slots {
		b.synth.step(&b.slots[i], out[i*subbandCount*stride:], stride)
	}
}

var zeroSlots [slotCount]float32

// transform makes the 18 samples of subband sb.
func (b *bank) transform(g *granule, lines *[lineCount]float32, sb int, long bool) {
	in := (*[slotCount]float32)(lines[sb*slotCount:])
	var x [2 * slotCount]float32
	switch {
	case long && g.mixed && (sb < 2 || g.hasShort()):
		imdct36(in, &windows[normalBlock], &x)
	case long:
		imdct36(in, &windows[g.block], &x)
	default:
		imdct12(in, &x)
	}
	old := &b.overlap[sb]
	for i := range old {
		x[i] += old[i]
		old[i] = x[i+slotCount]
	}
	b.put(sb, (*[slotCount]float32)(x[:slotCount]))
}

// put hands the samples of subband sb to the synthesis, every second one of odd
// subbands inverted.
func (b *bank) put(sb int, x *[slotCount]float32) {
	for i, v := range x {
		if sb&i&1 == 1 {
			v = -v
		}
		b.slots[i][sb] = v
	}
}

// reorder brings the lines of short blocks, from line begin on, from the order
// band, window, line into band, line, window.
func reorder(h header, lines *[lineCount]float32, begin int) {
	bands := &bands[h.table()].short
	var tmp [lineCount]float32
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

// aliases are the butterflies against aliasing (ISO/IEC 11172-3 table B.9).
var aliases = func() (t [8][2]float32) {
	for i, c := range []float64{-0.6, -0.535, -0.33, -0.185, -0.095, -0.041, -0.0142, -0.0037} {
		t[i] = [2]float32{float32(1 / math.Sqrt(1+c*c)), float32(c / math.Sqrt(1+c*c))}
	}
	return t
}()

// antialias undoes the aliasing between the first subbands.
func antialias(lines *[lineCount]float32, subbands int) {
	for sb := 1; sb < subbands; sb++ {
		below, above := (*[8]float32)(lines[sb*slotCount-8:]), (*[8]float32)(lines[sb*slotCount:])
		for i, c := range &aliases {
			x, y := below[7-i], above[i]
			below[7-i] = x*c[0] - y*c[1]
			above[i] = y*c[0] + x*c[1]
		}
	}
}

package audio

// mp3Lines is the number of spectral lines, and of samples, in a granule.
const mp3Lines = 576

// Block types.
const (
	mp3Normal = 0
	mp3Start  = 1
	mp3Short  = 2
	mp3Stop   = 3
)

// mp3Side is the side information of a frame.
type mp3Side struct {
	mainBegin int        // bytes before this frame's main data where it begins
	share     [2][4]bool // scale factors of granule 0 hold in 1 (scfsi)
	granules  [2][2]mp3Granule
}

// mp3Granule is the side information of one channel in one granule.
type mp3Granule struct {
	length      int // bits of scale factors and lines
	bigValues   int // pairs of lines
	gain        int
	scaleBits   int // which widths the scale factors have
	block       int
	mixed       bool
	tables      [3]int
	regions     [2]int // lines in which table 0 and table 1 hold end
	windowGain  [3]int
	preEmphasis bool
	coarse      bool // scale factors count double
	quadTable   int
}

// read reads the side information of a frame with header h.
func (s *mp3Side) read(h mp3Header, r *bitReader) {
	if h.lowRate() {
		s.mainBegin = r.read(8)
		r.read(h.channels()) // private
	} else {
		s.mainBegin = r.read(9)
		r.read([]int{0, 5, 3}[h.channels()])
		for ch := range h.channels() {
			for i := range s.share[ch] {
				s.share[ch][i] = r.flag()
			}
		}
	}
	for g := range h.granules() {
		for ch := range h.channels() {
			s.granules[g][ch].read(h, r)
		}
	}
}

// read reads the part of one granule and channel.
func (g *mp3Granule) read(h mp3Header, r *bitReader) {
	*g = mp3Granule{length: r.read(12), bigValues: min(r.read(9), mp3Lines/2), gain: r.read(8)}
	if h.lowRate() {
		g.scaleBits = r.read(9)
	} else {
		g.scaleBits = r.read(4)
	}
	if r.flag() {
		g.readSwitched(h, r)
	} else {
		g.readNormal(h, r)
	}
	if !h.lowRate() {
		g.preEmphasis = r.flag()
	}
	g.coarse = r.flag()
	g.quadTable = r.read(1)
}

// readSwitched reads what stands there if the window is not the normal one.
func (g *mp3Granule) readSwitched(h mp3Header, r *bitReader) {
	g.block = r.read(2)
	g.mixed = r.flag()
	g.tables[0], g.tables[1] = r.read(5), r.read(5)
	for i := range g.windowGain {
		g.windowGain[i] = r.read(3)
	}
	bands := &mp3Bands[h.table()]
	g.regions = [2]int{bands.long[8], mp3Lines}
	if g.block == mp3Short {
		g.regions[0] = 3 * bands.short[3]
	}
}

// readNormal reads what stands there for the normal window.
func (g *mp3Granule) readNormal(h mp3Header, r *bitReader) {
	for i := range g.tables {
		g.tables[i] = r.read(5)
	}
	first := r.read(4) + 1
	second := first + r.read(3) + 1
	long := &mp3Bands[h.table()].long
	g.regions = [2]int{long[min(first, len(long)-1)], long[min(second, len(long)-1)]}
}

// hasShort tells whether some of the bands are short.
func (g *mp3Granule) hasShort() bool { return g.block == mp3Short }

// mixedLongBands is the number of long bands that begin a mixed block, and the
// short band with which it goes on: line 36, or 72 at 8 kHz, in both.
func mixedLongBands(h mp3Header) (long, short int) {
	if h.lowRate() {
		return 6, 3
	}
	return 8, 3
}

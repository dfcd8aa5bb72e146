package mp3

import "emberbeat/audio/bits"

// lineCount is the number of spectral lines, and of samples, in a granule.
const lineCount = 576

// Block types.
const (
	normalBlock = 0
	startBlock  = 1
	shortBlock  = 2
	stopBlock   = 3
)

// sideInfo is the side information of a frame.
type sideInfo struct {
	mainBegin int        // bytes before this frame's main data where it begins
	share     [2][4]bool // scale factors of granule 0 hold in 1 (scfsi)
	granules  [2][2]granule
}

// granule is the side information of one channel in one granule.
type granule struct {
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
func (s *sideInfo) read(h header, r *bits.Reader) {
	if h.lowRate() {
		s.mainBegin = r.Read(8)
		r.Read(h.channels()) // private
	} else {
		s.mainBegin = r.Read(9)
		r.Read([]int{0, 5, 3}[h.channels()])
		for ch := range h.channels() {
			for i := range s.share[ch] {
				s.share[ch][i] = r.Flag()
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
func (g *granule) read(h header, r *bits.Reader) {
	*g = granule{length: r.Read(12), bigValues: min(r.Read(9), lineCount/2), gain: r.Read(8)}
	if h.lowRate() {
		g.scaleBits = r.Read(9)
	} else {
		g.scaleBits = r.Read(4)
	}
	if r.Flag() {
		g.readSwitched(h, r)
	} else {
		g.readNormal(h, r)
	}
	if !h.lowRate() {
		g.preEmphasis = r.Flag()
	}
	g.coarse = r.Flag()
	g.quadTable = r.Read(1)
}

// readSwitched reads what stands there if the window is not the normal one.
func (g *granule) readSwitched(h header, r *bits.Reader) {
	g.block = r.Read(2)
	g.mixed = r.Flag()
	g.tables[0], g.tables[1] = r.Read(5), r.Read(5)
	for i := range g.windowGain {
		g.windowGain[i] = r.Read(3)
	}
	bands := &bands[h.table()]
	g.regions = [2]int{bands.long[8], lineCount}
	if g.block == shortBlock {
		g.regions[0] = 3 * bands.short[3]
	}
}

// readNormal reads what stands there for the normal window.
func (g *granule) readNormal(h header, r *bits.Reader) {
	for i := range g.tables {
		g.tables[i] = r.Read(5)
	}
	first := r.Read(4) + 1
	second := first + r.Read(3) + 1
	long := &bands[h.table()].long
	g.regions = [2]int{long[min(first, len(long)-1)], long[min(second, len(long)-1)]}
}

// hasShort tells whether some of the bands are short.
func (g *granule) hasShort() bool { return g.block == shortBlock }

// mixedLongBands is the number of long bands that begin a mixed block, and the
// short band with which it goes on: line 36, or 72 at 8 kHz, in both.
func mixedLongBands(h header) (long, short int) {
	if h.lowRate() {
		return 6, 3
	}
	return 8, 3
}

package vorbis

import (
	mathbits "math/bits"

	"emberbeat/audio/bits"
)

// setup is what the three headers of a Vorbis stream say (Vorbis I §4.2).
type setup struct {
	rate, channels int
	sizes          [2]int // of short and long blocks
	books          []book
	floors         []floor
	residues       []residue
	mappings       []mapping
	modes          []mode
}

// mapping says how the channels of a block are coded.
type mapping struct {
	couplings [][2]int // magnitude and angle
	submap    []int    // of each channel
	floors    []int    // of each submap
	residues  []int
}

// mode is a kind of block.
type mode struct {
	long    int // 1 for long blocks
	mapping int
}

// LongestPacket is the size of the longest packet that is believed.
const LongestPacket = 1 << 22

// Begins tells whether a packet is the first of a Vorbis stream.
func Begins(packet []byte) bool { return isHeader(packet, 1) }

// isHeader tells whether a packet is the header of that kind: 1, 3 or 5.
func isHeader(packet []byte, kind byte) bool {
	return len(packet) > 7 && packet[0] == kind && bits.HasAt(packet, 1, "vorbis")
}

// readIdentity reads the first header.
func (s *setup) readIdentity(packet []byte) bool {
	if !isHeader(packet, 1) || len(packet) < 30 {
		return false
	}
	var r bitReader
	r.reset(packet[7:])
	version := r.read(32)
	s.channels, s.rate = r.read(8), r.read(32)
	r.pos += 3 * 32 // bit rates
	s.sizes = [2]int{1 << r.read(4), 1 << r.read(4)}
	const shortest, longest = 64, 8192
	return version == 0 && s.sizes[0] >= shortest && s.sizes[0] <= s.sizes[1] && s.sizes[1] <= longest && r.flag()
}

// readSetup reads the third header.
func (s *setup) readSetup(packet []byte) error {
	if !isHeader(packet, 5) {
		return errHeader()
	}
	var r bitReader
	r.reset(packet[7:])
	s.books = make([]book, r.read(8)+1)
	budget := budget{maxEntries, maxValues}
	for i := range s.books {
		if !s.books[i].read(&r, &budget) {
			return errHeader()
		}
	}
	for range r.read(6) + 1 { // time domain transforms: none exist
		if r.read(16) != 0 {
			return errHeader()
		}
	}
	if err := s.readFloors(&r); err != nil {
		return err
	}
	s.residues = make([]residue, r.read(6)+1)
	for i := range s.residues {
		if !s.residues[i].read(&r, s.books) {
			return errHeader()
		}
	}
	if !s.readMappings(&r) || !s.readModes(&r) {
		return errHeader()
	}
	return nil
}

// errHeader is for a header that makes no sense.
func errHeader() error {
	return bits.Wrong(bits.WantAgain, "is an Ogg Vorbis file with a damaged header")
}

// readFloors reads the floors.
func (s *setup) readFloors(r *bitReader) error {
	s.floors = make([]floor, r.read(6)+1)
	for i := range s.floors {
		switch kind := r.read(16); {
		case kind == 0:
			return bits.Wrong("encode the song again", "is an Ogg Vorbis file by an encoder of before 2002 (floor 0), which is not read")
		case kind != 1 || !s.floors[i].read(r, len(s.books)):
			return errHeader()
		}
	}
	return nil
}

// readMappings reads the mappings.
func (s *setup) readMappings(r *bitReader) bool {
	s.mappings = make([]mapping, r.read(6)+1)
	for i := range s.mappings {
		if !s.mappings[i].read(r, s) || r.over() {
			return false
		}
	}
	return true
}

// read reads a mapping of the stream s.
func (m *mapping) read(r *bitReader, s *setup) bool {
	if r.read(16) != 0 {
		return false
	}
	submaps := 1
	if r.flag() {
		submaps = r.read(4) + 1
	}
	if r.flag() {
		width := mathbits.Len(uint(s.channels - 1))
		for range r.read(8) + 1 {
			c := [2]int{r.read(width), r.read(width)}
			if c[0] == c[1] || max(c[0], c[1]) >= s.channels {
				return false
			}
			m.couplings = append(m.couplings, c)
		}
	}
	ok := r.read(2) == 0
	m.submap = make([]int, s.channels)
	for i := range m.submap {
		if submaps > 1 {
			m.submap[i] = r.read(4)
		}
		ok = ok && m.submap[i] < submaps
	}
	for range submaps {
		r.read(8)
		floor, residue := r.read(8), r.read(8)
		ok = ok && floor < len(s.floors) && residue < len(s.residues)
		m.floors, m.residues = append(m.floors, floor), append(m.residues, residue)
	}
	return ok
}

// readModes reads the modes, and the bit behind all.
func (s *setup) readModes(r *bitReader) bool {
	s.modes = make([]mode, r.read(6)+1)
	ok := true
	for i := range s.modes {
		s.modes[i].long = r.read(1)
		kinds := r.read(32)
		s.modes[i].mapping = r.read(8)
		ok = ok && kinds == 0 && s.modes[i].mapping < len(s.mappings)
	}
	return ok && r.flag() && !r.over()
}

// blockSize is the size of the block in a packet; 0 if it holds none.
func (s *setup) blockSize(packet []byte) int {
	if len(packet) == 0 || packet[0]&1 == 1 {
		return 0
	}
	mode := int(packet[0]>>1) & (1<<mathbits.Len(uint(len(s.modes)-1)) - 1)
	if mode >= len(s.modes) {
		return 0
	}
	return s.sizes[s.modes[mode].long]
}

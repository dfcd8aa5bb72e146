package audio

import (
	"encoding/binary"
	"io"
	"slices"

	"emberbeat/audio/bits"
	"emberbeat/audio/vorbis"
)

// oggPages goes over the pages of one logical stream in an Ogg file (RFC 3533).
type oggPages struct {
	in     bits.Window
	serial uint32
	bound  bool // serial is set: pages of other streams are passed over
	page   oggPage
	carry  []byte // the beginning of a packet that goes on on the next page
	joined []byte // the packet that ended here and began on an earlier page
	broken bool   // what continues here began on a page that is lost
	lost   bool   // something was passed over before the current page
	last   uint32 // number of the last page
	count  int    // pages so far
	cut    bool   // the current page is the last and not whole
	passed bool   // damaged bytes were passed over before the current page
	begun  bool   // pages behind the first ones of the streams have come
	// chained is set at io.EOF where another stream begins instead.
	chained bool
	known   map[uint32]bool  // the streams whose first page came
	strange map[uint32]int64 // those whose did not, with their last position
}

// oggPage is one page.
type oggPage struct {
	flags    byte
	position int64 // of the end of the last packet that ends here; -1 if none does
	serial   uint32
	number   uint32
	packets  [][]byte // those that end here; valid until the next page
}

// Flags of a page.
const (
	oggContinued = 1
	oggFirst     = 2
	oggLast      = 4
)

// Sizes of a page's header, and the most a page can have.
const (
	oggHead    = 27
	oggLongest = oggHead + 255 + 255*255
)

// next reads the next page of the stream; io.EOF behind the last.
func (o *oggPages) next() error {
	o.lost, o.passed = false, false
	for {
		b, err := o.in.Peek(oggLongest)
		if err != nil {
			return err
		}
		if len(b) < oggHead {
			return io.EOF
		}
		size := oggSize(b)
		if size == 0 && len(b) < oggLongest && o.salvage(b) {
			return nil
		}
		if size == 0 || !oggIntact(b[:size]) {
			o.lost, o.passed = true, true
			o.in.Drop(1)
			if err := o.seekMark(); err != nil {
				return err
			}
			continue
		}
		if o.bound && o.begun && b[5]&oggFirst != 0 {
			o.chained = true // RFC 3533, section 4: streams one behind the other
			return io.EOF
		}
		o.in.Drop(size)
		if o.take(b[:size]) {
			return nil
		}
	}
}

// salvage takes the packets that are whole in a page at whose middle the file
// ends.
func (o *oggPages) salvage(b []byte) bool {
	head := oggHead
	if bits.HasAt(b, 0, "OggS") {
		head += int(b[26])
	}
	if head == oggHead || len(b) < head {
		return false
	}
	o.in.Drop(len(b))
	table, left := b[oggHead:head], len(b)-head
	for i, n := range table {
		if left -= int(n); left < 0 {
			table = table[:i]
			break
		}
	}
	p := slices.Concat(b[:oggHead], table, b[head:])
	p[26] = byte(len(table))
	p[5] &^= oggLast
	for i := range 8 {
		p[6+i] = 0xFF // no position
	}
	o.cut = true
	return o.take(p)
}

// oggSize is the size of the page at the head of b, 0 if there is none whole.
func oggSize(b []byte) int {
	if len(b) < oggHead || !bits.HasAt(b, 0, "OggS") || b[4] != 0 {
		return 0
	}
	segments := int(b[26])
	size := oggHead + segments
	if len(b) < size {
		return 0
	}
	for _, n := range b[oggHead:size] {
		size += int(n)
	}
	if len(b) < size {
		return 0
	}
	return size
}

// seekMark moves on to the next place that may begin a page.
func (o *oggPages) seekMark() error {
	for {
		b, err := o.in.Peek(4)
		if err != nil {
			return err
		}
		if len(b) < 4 {
			return io.EOF
		}
		if bits.HasAt(b, 0, "OggS") {
			return nil
		}
		o.in.Drop(1)
	}
}

// oggIntact checks the checksum of a page.
func oggIntact(b []byte) bool {
	return oggChecksum(b) == binary.LittleEndian.Uint32(b[22:])
}

// oggChecksum is the checksum of a page.
func oggChecksum(b []byte) (crc uint32) {
	for i, v := range b {
		if i >= 22 && i < 26 { // where it stands itself
			v = 0
		}
		crc = crc<<8 ^ oggCRC[byte(crc>>24)^v]
	}
	return crc
}

// oggCRC is the checksum of Ogg: polynomial 0x04c11db7 from 0.
var oggCRC = func() (t [256]uint32) {
	for i := range t {
		v := uint32(i) << 24
		for range 8 {
			v = v<<1 ^ v>>31*0x04c11db7
		}
		t[i] = v
	}
	return t
}()

// take splits a page into packets, if it is one of the stream.
func (o *oggPages) take(b []byte) bool {
	le := binary.LittleEndian
	p := &o.page
	p.flags, p.position = b[5], int64(le.Uint64(b[6:]))
	p.serial, p.number = le.Uint32(b[14:]), le.Uint32(b[18:])
	o.remember(p)
	if o.bound && p.serial != o.serial {
		return false
	}
	o.begun = o.begun || p.flags&oggFirst == 0
	gap := o.lost || o.bound && o.count > 0 && p.number != o.last+1
	o.lost, o.last = gap, p.number
	o.count++
	if gap || p.flags&oggContinued == 0 {
		o.carry = o.carry[:0]
	}
	o.broken = p.flags&oggContinued != 0 && len(o.carry) == 0
	o.split(b[oggHead:oggHead+int(b[26])], b[oggHead+int(b[26]):])
	return true
}

// remember knows the streams apart whose first page is there and whose is not.
func (o *oggPages) remember(p *oggPage) {
	const enough = 16 // streams; more are noise
	switch {
	case p.flags&oggFirst != 0:
		if o.known == nil {
			o.known = map[uint32]bool{}
		}
		if len(o.known) < enough {
			o.known[p.serial] = true
		}
	case !o.known[p.serial] && p.position > 0 && (len(o.strange) < enough || o.strange[p.serial] > 0):
		if o.strange == nil {
			o.strange = map[uint32]int64{}
		}
		o.strange[p.serial] = p.position
	}
}

// oggChained reports whether a stream begins behind another one, so that the end
// of the sound cannot be told by its last page.
func oggChained(r io.ReadSeeker) (bool, error) {
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return false, err
	}
	o := oggPages{in: bits.NewWindow(r)}
	for {
		b, err := o.in.Peek(oggHead + 255)
		if err != nil || len(b) < oggHead {
			return false, err
		}
		if !bits.HasAt(b, 0, "OggS") || b[4] != 0 || len(b) < oggHead+int(b[26]) {
			o.in.Drop(1)
			if err := o.seekMark(); err == io.EOF {
				return false, nil
			} else if err != nil {
				return false, err
			}
			continue
		}
		if o.begun && b[5]&oggFirst != 0 {
			return true, nil
		}
		o.begun = o.begun || b[5]&oggFirst == 0
		size := oggHead + int(b[26])
		for _, n := range b[oggHead:size] {
			size += int(n)
		}
		if err := o.in.Skip(size); err == io.ErrUnexpectedEOF {
			return false, nil
		} else if err != nil {
			return false, err
		}
	}
}

// split cuts the body into packets by the table of segments.
func (o *oggPages) split(table, body []byte) {
	o.page.packets = o.page.packets[:0]
	size := 0
	for _, n := range table {
		size += int(n)
		if n == 255 {
			continue // it goes on
		}
		packet := body[:size]
		if len(o.carry) > 0 {
			o.joined = append(append(o.joined[:0], o.carry...), packet...)
			packet, o.carry = o.joined, o.carry[:0]
		}
		if !o.broken {
			o.page.packets = append(o.page.packets, packet)
		}
		o.broken = false
		body, size = body[size:], 0
	}
	if !o.broken && len(o.carry)+size <= vorbis.LongestPacket {
		o.carry = append(o.carry, body[:size]...)
	}
}

package audio

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
)

// PyramidVersion changes whenever a Pyramid would come out differently for
// the same song: part of a cache key.
const PyramidVersion = 2

// peakMagic begins an encoded Pyramid: a mark and the version.
const peakMagic = "peaks\x00\x00\x01"

// Sizes in an encoded Pyramid, in bytes.
const (
	peakHead = len(peakMagic) + 4 + 8
	peakSize = 9
	peakTail = 4
)

// Encode writes the pyramid's base level with a checksum; the others follow
// from it.
func (p *Pyramid) Encode() []byte {
	le := binary.LittleEndian
	base := p.levels[0]
	b := make([]byte, 0, peakHead+len(base)*peakSize+peakTail)
	b = append(b, peakMagic...)
	b = le.AppendUint32(b, uint32(p.Rate))
	b = le.AppendUint64(b, uint64(p.Frames))
	for _, q := range base {
		b = le.AppendUint16(b, uint16(q.Min))
		b = le.AppendUint16(b, uint16(q.Max))
		b = le.AppendUint16(b, q.RMS)
		b = append(b, q.Low, q.Mid, q.High)
	}
	return le.AppendUint32(b, crc32.ChecksumIEEE(b))
}

// DecodePyramid reads what Encode wrote, and refuses anything else.
func DecodePyramid(b []byte) (*Pyramid, error) {
	le := binary.LittleEndian
	switch body := len(b) - peakHead - peakTail; {
	case body < 0 || string(b[:len(peakMagic)]) != peakMagic:
		return nil, errors.New("not encoded peaks of this version")
	case body%peakSize != 0 || crc32.ChecksumIEEE(b[:len(b)-peakTail]) != le.Uint32(b[len(b)-peakTail:]):
		return nil, errors.New("encoded peaks are damaged")
	}
	rate := int(le.Uint32(b[len(peakMagic):]))
	frames := int64(le.Uint64(b[len(peakMagic)+4:]))
	rows := b[peakHead : len(b)-peakTail]
	count := int64(len(rows) / peakSize)
	if frames < 0 || frames > count*PyramidBase || frames <= (count-1)*PyramidBase {
		return nil, fmt.Errorf("encoded peaks hold %d peaks for %d frames", count, frames)
	}
	return decodePeaks(rate, frames, rows), nil
}

// decodePeaks rebuilds a pyramid from the rows of its base level.
func decodePeaks(rate int, frames int64, rows []byte) *Pyramid {
	le := binary.LittleEndian
	p := &Pyramid{Rate: rate, levels: [][]Peak{make([]Peak, 0, len(rows)/peakSize)}}
	for ; len(rows) > 0; rows = rows[peakSize:] {
		p.Frames = min(frames, p.Frames+PyramidBase)
		p.push(Peak{
			Min: int16(le.Uint16(rows)), Max: int16(le.Uint16(rows[2:])), RMS: le.Uint16(rows[4:]),
			Low: rows[6], Mid: rows[7], High: rows[8],
		})
	}
	return p
}

package audio

import "encoding/binary"

// RepairOgg puts right the checksums of all pages in b.
func RepairOgg(b []byte) {
	for at := 0; at < len(b); {
		size := oggSize(b[at:])
		if size == 0 {
			at++
			continue
		}
		binary.LittleEndian.PutUint32(b[at+22:], oggChecksum(b[at:at+size]))
		at += size
	}
}

// Holds reports whether the page of a frame is in memory.
func (s *Spool) Holds(frame int64) bool { return s.pages[frame/spoolPage].Load() != nil }

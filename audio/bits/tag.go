package bits

import "bytes"

// IsTag tells whether b begins like one of the tags that programs put behind
// sound.
func IsTag(b []byte) bool {
	return HasAt(b, 0, "TAG") || HasAt(b, 0, "APET") || HasAt(b, 0, "LYRI") || HasAt(b, 0, "ID3")
}

// TagSize is the size of the ID3v2 tag whose ten bytes of header are b.
func TagSize(b []byte) int {
	n := 10
	if b[5]&0x10 != 0 {
		n += 10 // a footer
	}
	return n + int(b[6]&127)<<21 + int(b[7]&127)<<14 + int(b[8]&127)<<7 + int(b[9]&127)
}

// HasAt tells whether text stands in head at offset.
func HasAt(head []byte, offset int, text string) bool {
	return len(head) >= offset && bytes.HasPrefix(head[offset:], []byte(text))
}

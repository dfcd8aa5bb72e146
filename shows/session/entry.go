package session

import (
	"bytes"
	"encoding/json"
	"fmt"
	"hash/crc32"
)

// A line of a journal is the checksum of the rest, a space, and an entry as
// JSON.

func encodeEntry(e entry) ([]byte, error) {
	b, err := json.Marshal(e)
	if err != nil {
		return nil, err
	}
	line := fmt.Appendf(nil, "%08x ", crc32.ChecksumIEEE(b))
	return append(append(line, b...), '\n'), nil
}

// decodeEntries reads a journal up to its first line that is not whole. It
// gives the length of the good part; what is behind it was lost in a crash, or
// damaged.
func decodeEntries(b []byte) (list []entry, good int) {
	for good < len(b) {
		end := bytes.IndexByte(b[good:], '\n')
		if end < 0 {
			break
		}
		e, ok := decodeEntry(b[good : good+end])
		if !ok {
			break
		}
		list = append(list, e)
		good += end + 1
	}
	return list, good
}

func decodeEntry(line []byte) (e entry, ok bool) {
	sum, rest, ok := bytes.Cut(line, []byte(" "))
	if !ok || string(sum) != fmt.Sprintf("%08x", crc32.ChecksumIEEE(rest)) {
		return e, false
	}
	return e, json.Unmarshal(rest, &e) == nil
}

package audio

import (
	"bytes"
	"io"
)

// wantFormats is the remedy for a file that is no sound at all.
const wantFormats = "use a WAV, FLAC, MP3 or Ogg Vorbis file"

// sniff tells the format by the first bytes and leaves r at its start.
func sniff(r io.ReadSeeker) (Format, error) {
	head := make([]byte, 64)
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return "", err
	}
	n, err := io.ReadFull(r, head)
	if err != nil && err != io.ErrUnexpectedEOF {
		return "", err
	}
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return "", err
	}
	return formatOf(head[:n])
}

// formatOf tells the format by a file's first bytes.
func formatOf(head []byte) (Format, error) {
	switch {
	case hasAt(head, 8, "WAVE") && (hasAt(head, 0, "RIFF") || hasAt(head, 0, "RF64") || hasAt(head, 0, "BW64")):
		return WAV, nil
	}
	return "", wrong(wantFormats, "is not a sound file that can be read")
}

// hasAt tells whether text stands in head at offset.
func hasAt(head []byte, offset int, text string) bool {
	return len(head) >= offset && bytes.HasPrefix(head[offset:], []byte(text))
}

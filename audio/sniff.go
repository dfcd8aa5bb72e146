package audio

import (
	"bytes"
	"io"
	"unicode/utf8"

	"emberbeat/audio/bits"
	"emberbeat/audio/mp3"
)

// sniffLimit is how far into a file the first frame of an MP3 is looked for.
const sniffLimit = 1 << 17

// sniff tells the format by the first bytes, those behind an ID3 tag if there
// is one, and where the sound begins. It leaves r there.
func sniff(r io.ReadSeeker) (format Format, start int64, err error) {
	head, err := readHead(r, 0)
	for err == nil && bits.HasAt(head, 0, "ID3") && len(head) >= 10 {
		start += int64(bits.TagSize(head))
		head, err = readHead(r, start)
	}
	if err != nil {
		return "", 0, err
	}
	format, err = formatOf(head)
	if err != nil && isMP3(r, start) {
		format, err = MP3, nil
	}
	if err != nil {
		return "", 0, err
	}
	_, err = r.Seek(start, io.SeekStart)
	return format, start, err
}

// readHead reads the bytes that tell the format, from offset.
func readHead(r io.ReadSeeker, offset int64) ([]byte, error) {
	head := make([]byte, 512)
	if _, err := r.Seek(offset, io.SeekStart); err != nil {
		return nil, err
	}
	n, err := io.ReadFull(r, head)
	if err == io.ErrUnexpectedEOF || err == io.EOF {
		err = nil
	}
	return head[:n], err
}

// isMP3 tells whether frames of MPEG audio begin not far behind start.
func isMP3(r io.ReadSeeker, start int64) bool {
	if _, err := r.Seek(start, io.SeekStart); err != nil {
		return false
	}
	return mp3.Begins(io.LimitReader(r, sniffLimit))
}

// formatOf tells the format by a file's first bytes.
func formatOf(head []byte) (Format, error) {
	wave := bits.HasAt(head, 8, "WAVE")
	switch {
	case wave && (bits.HasAt(head, 0, "RIFF") || bits.HasAt(head, 0, "RF64") || bits.HasAt(head, 0, "BW64")):
		return WAV, nil
	case bits.HasAt(head, 0, "fLaC"):
		return FLAC, nil
	case bits.HasAt(head, 0, "OggS"):
		return OGG, refuseOgg(head)
	}
	return "", refuse(head)
}

// refuseOgg refuses Ogg files with something other than Vorbis in them.
func refuseOgg(head []byte) error {
	for _, other := range []struct{ mark, name string }{
		{"OpusHead", "Opus"}, {"\x7fFLAC", "FLAC"}, {"Speex   ", "Speex"}, {"\x80theora", "Theora video"},
	} {
		if bytes.Contains(head, []byte(other.mark)) {
			return bits.Wrong(bits.WantFormats, "is an Ogg file with %s in it, which is not read", other.name)
		}
	}
	return nil
}

// others are well-known kinds of files, by the text at an offset.
var others = []struct {
	offset     int
	mark, name string
}{
	{8, "AIF", "an AIFF file"},
	{0, "caff", "a Core Audio file"},
	{4, "ftyp", "an MP4, M4A or MOV file"},
	{0, "RIFX", "a big-endian WAV file"},
	{8, "AVI ", "an AVI video"},
	{0, "riff", "a Wave64 file"},
	{0, "MThd", "a MIDI file"},
	{0, "\x30\x26\xb2\x75", "a Windows Media file"},
	{0, "wvpk", "a WavPack file"},
	{0, "MAC ", "a Monkey's Audio file"},
	{0, "\x1aE\xdf\xa3", "a Matroska or WebM file"},
	{0, ".snd", "a Sun audio file"},
	{0, "PK\x03\x04", "a ZIP archive"},
	{0, "%PDF", "a PDF"},
	{0, "\x89PNG", "a picture"},
	{0, "\xff\xd8\xff", "a picture"},
	{0, "\xff\xf1", "an AAC file"},
	{0, "\xff\xf9", "an AAC file"},
	{0, "\xff\xfe", "a text file"},
}

// refuse says what a file is that is no sound we read.
func refuse(head []byte) error {
	for _, o := range others {
		if bits.HasAt(head, o.offset, o.mark) {
			return bits.Wrong(bits.WantFormats, "is %s, which is not read", o.name)
		}
	}
	if len(head) == 0 {
		return bits.Wrong(bits.WantAgain, "holds nothing but a tag")
	}
	if isText(head) {
		return bits.Wrong(bits.WantFormats, "is a text file, not a sound file")
	}
	return bits.Wrong(bits.WantFormats, "is not a sound file that can be read")
}

// isText tells whether head looks like text.
func isText(head []byte) bool {
	for i := range min(3, len(head)) { // the end may cut a character
		head := head[:len(head)-i]
		if utf8.Valid(head) && bytes.IndexFunc(head, isControl) < 0 {
			return true
		}
	}
	return false
}

// isControl tells control characters that text files do not hold.
func isControl(r rune) bool {
	return r < ' ' && r != '\n' && r != '\r' && r != '\t' && r != '\f'
}

package audio

import (
	"io"

	"emberbeat/audio/flac"
	"emberbeat/audio/mp3"
)

// decoder turns the bytes of one file into samples.
type decoder interface {
	Rate() int
	Channels() int
	Frames() int64 // that Read gives, -1 while unknown
	Warnings() []string
	Read(dst []float32) (frames int, err error) // as a Source does
}

// decoded is what a decoder makes of a file, as a Source.
type decoded struct {
	format Format
	decoder
}

// Info says what the decoder knows by now.
func (d decoded) Info() Info {
	return Info{Format: d.format, Rate: d.Rate(), Channels: d.Channels(), Frames: d.Frames(), Warnings: d.Warnings()}
}

// Close does nothing: the file belongs to who opened it.
func (d decoded) Close() error { return nil }

func openMP3(r io.ReadSeeker, _ int64) (Source, error) {
	d, err := mp3.New(r)
	if err != nil {
		return nil, err
	}
	return decoded{MP3, d}, nil
}

func openFLAC(r io.ReadSeeker, _ int64) (Source, error) {
	d, err := flac.New(r)
	if err != nil {
		return nil, err
	}
	return decoded{FLAC, d}, checkShape(d.Channels(), d.Rate())
}

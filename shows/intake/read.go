package intake

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"

	"emberbeat/audio"
	"emberbeat/timeline"
)

// Format is a kind of file that can be taken in.
type Format int

// The formats. A file that is none of the others is taken for a table.
const (
	TableFormat Format = iota // lines with columns: cue lists of other programs
	MIDIFormat
	WaveFormat
	GDTFFormat
	MVRFormat
)

// SceneText is the file in an archive that makes it a drawing of DIN SPEC 15801
// (MVR), "root file definition".
const SceneText = "GeneralSceneDescription.xml"

// FormatOf tells what a file is, by its content and not its name.
func FormatOf(path string) (Format, error) {
	file, err := audio.OpenFile(path)
	if err != nil {
		return 0, err
	}
	defer file.Close()
	var head [4]byte
	if _, err := io.ReadFull(file, head[:]); err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return 0, err
	}
	switch string(head[:]) {
	case "MThd":
		return MIDIFormat, nil
	case "RIFF", "RF64", "BW64":
		return WaveFormat, nil
	case "PK\x03\x04", "PK\x05\x06":
		return packedFormat(file)
	}
	return TableFormat, nil
}

// packedFormat tells what a ZIP archive is. One that cannot be read is taken for
// GDTF, whose reader says why.
func packedFormat(file *os.File) (Format, error) {
	info, err := file.Stat()
	if err != nil {
		return 0, err
	}
	a, _ := zip.NewReader(file, info.Size()) // its names alone: whoever reads it looks at all of it
	if a != nil && slices.ContainsFunc(a.File, func(f *zip.File) bool { return f.Name == SceneText }) {
		return MVRFormat, nil
	}
	return GDTFFormat, nil
}

// ReadFile reads a Standard MIDI File or a Broadcast WAV file; its content,
// not its name, tells which. rate is that of the show.
func ReadFile(path string, rate timeline.Rate) (*Found, error) {
	file, err := audio.OpenFile(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return nil, err
	}
	var head [4]byte
	if _, err := file.ReadAt(head[:], 0); err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	found, err := readAs(string(head[:]), file, info.Size(), rate)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return found, nil
}

func readAs(head string, file io.ReaderAt, size int64, rate timeline.Rate) (*Found, error) {
	switch head {
	case "MThd":
		if size > MaxMIDIBytes {
			return nil, fmt.Errorf("the MIDI file has %d bytes; up to %d are read", size, int64(MaxMIDIBytes))
		}
		data, err := io.ReadAll(io.NewSectionReader(file, 0, size))
		if err != nil {
			return nil, err
		}
		m, err := ReadMIDI(data)
		if err != nil {
			return nil, err
		}
		return m.Found()
	case "RIFF", "RF64", "BW64":
		b, err := ReadBroadcast(file, size)
		if err != nil {
			return nil, err
		}
		return b.Found(rate)
	}
	return nil, errors.New("this is neither a MIDI file nor a WAV file")
}

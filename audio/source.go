package audio

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"emberbeat/audio/bits"
)

// Format names a container that can be read.
type Format string

// The formats that Open knows.
const (
	WAV  Format = "wav"
	FLAC Format = "flac"
	MP3  Format = "mp3"
	OGG  Format = "ogg"
)

// Info says what a Source holds.
type Info struct {
	Format   Format
	Rate     int   // frames a second
	Channels int   // samples a frame
	Frames   int64 // exact number of frames that Read gives; -1 while unknown
	// Warnings lists, in whole sentences, what was found wrong with the file
	// and read around. It can grow while reading.
	Warnings []string
}

// Source is sound that is read once from front to back.
type Source interface {
	// Info says what is known by now; Frames may become known only at the end.
	Info() Info
	// Read fills dst with interleaved samples, full scale ±1, all of them
	// finite, and gives the number of whole frames. It gives fewer than fit
	// only before the end or an error; io.EOF comes alone, with 0 frames.
	Read(dst []float32) (frames int, err error)
	// Close frees the file. Read must not be called afterwards.
	Close() error
}

// Open opens the sound file at path; its content, not its name, tells the
// format. Errors are *FileError.
func Open(path string) (Source, error) {
	f, err := OpenFile(path)
	if err != nil {
		return nil, err
	}
	st, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, at(path, err)
	}
	src, err := NewSource(f, st.Size(), path)
	if err != nil {
		f.Close()
		return nil, err
	}
	return &closing{src, f}, nil
}

// OpenFile opens a file that is to be read to its end. Devices, pipes and folders
// are refused before they are opened, since a pipe without a writer waits for ever
// and a device need not end. Errors are *FileError.
func OpenFile(path string) (*os.File, error) {
	st, err := os.Stat(path)
	if err != nil {
		return nil, openError(path, err)
	}
	if !st.Mode().IsRegular() {
		return nil, &FileError{Path: path, What: "is not a file", Want: "name a file, not a folder, device or pipe"}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, openError(path, err)
	}
	return f, nil
}

// openError puts the causes that a person can mend into words.
func openError(path string, err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &FileError{Path: path, What: "does not exist", Want: "check the name, or say where the file went", Err: err}
	case errors.Is(err, fs.ErrPermission):
		return &FileError{Path: path, What: "may not be read", Want: "give yourself permission to read it", Err: err}
	}
	return at(path, err)
}

// at makes err a *FileError about path.
func at(path string, err error) error {
	var fe *FileError
	if errors.As(err, &fe) {
		if fe.Path == "" {
			fe.Path = path
		}
		return err
	}
	var f *bits.Fault
	if errors.As(err, &f) {
		return &FileError{Path: path, What: f.What, Want: f.Want}
	}
	return &FileError{Path: path, What: fmt.Sprintf("cannot be read (%v)", err), Err: err}
}

// closing is a Source that owns its file.
type closing struct {
	Source
	file io.Closer
}

// Close closes both the decoder and the file.
func (c *closing) Close() error {
	return errors.Join(c.Source.Close(), c.file.Close())
}

// NewSource reads sound from r, which holds size bytes. name stands for the
// file in errors. Closing the Source leaves r open.
func NewSource(r io.ReadSeeker, size int64, name string) (Source, error) {
	if size == 0 {
		return nil, &FileError{Path: name, What: "is empty (0 bytes)", Want: bits.WantFormats}
	}
	format, start, err := sniff(r)
	if err != nil {
		return nil, at(name, err)
	}
	if start > 0 {
		r, size = &section{r, start}, size-start
	}
	g := &guarded{name: name}
	if err := g.try(func() error { return g.open(format, r, size) }); err != nil {
		return nil, err
	}
	return g, nil
}

// decoders opens each format.
var decoders = map[Format]func(r io.ReadSeeker, size int64) (Source, error){
	WAV:  newWAV,
	FLAC: openFLAC,
	MP3:  openMP3,
	OGG:  newOGG,
}

// section is a reader without its first bytes.
type section struct {
	io.ReadSeeker
	start int64
}

// Seek seeks in what is left.
func (s *section) Seek(offset int64, whence int) (int64, error) {
	if whence == io.SeekStart {
		offset += s.start
	}
	at, err := s.ReadSeeker.Seek(offset, whence)
	return at - s.start, err
}

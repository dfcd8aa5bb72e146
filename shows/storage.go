package shows

import (
	"bytes"
	"io"
)

// Storage is the folder of a show. Names are relative to it and use '/'; ""
// is the folder itself. Errors wrap those of io/fs. It may be used by several
// goroutines at once.
type Storage interface {
	// ReadFile gives the bytes of a file.
	ReadFile(name string) ([]byte, error)
	// List gives what is in a folder, sorted by name.
	List(dir string) ([]Entry, error)
	// Write makes a new file, or empties the one there, and writes all of r
	// to it. The bytes are on the disk when it returns.
	Write(name string, r io.Reader) error
	// Rename gives a file another name; it replaces a file there at once.
	Rename(from, to string) error
	// Remove takes away a file or an empty folder.
	Remove(name string) error
	// MkdirAll makes a folder and those above it, where they are missing.
	MkdirAll(dir string) error
	// SyncDir waits until the renames and removals in a folder are on the
	// disk.
	SyncDir(dir string) error
}

// Entry is one file or folder in a folder.
type Entry struct {
	Name string // without the folder
	Dir  bool
}

// writeBytes writes a whole file.
func writeBytes(st Storage, name string, b []byte) error { return st.Write(name, bytes.NewReader(b)) }

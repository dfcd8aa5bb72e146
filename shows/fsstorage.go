package shows

import (
	"io"
	"io/fs"
)

// FS is a storage that can only be read, such as an embedded show; writing
// gives fs.ErrPermission.
func FS(fsys fs.FS) Storage { return fsStorage{fsys} }

type fsStorage struct{ fsys fs.FS }

func (s fsStorage) ReadFile(name string) ([]byte, error) { return fs.ReadFile(s.fsys, name) }

func (s fsStorage) List(dir string) ([]Entry, error) {
	if dir == "" {
		dir = "."
	}
	found, err := fs.ReadDir(s.fsys, dir)
	if err != nil {
		return nil, err
	}
	return entries(found, func(name string) (fs.FileInfo, error) { return fs.Stat(s.fsys, join(dir, name)) }), nil
}

func readOnly(op, name string) error {
	return &fs.PathError{Op: op, Path: name, Err: fs.ErrPermission}
}

func (s fsStorage) Write(name string, _ io.Reader) error { return readOnly("write", name) }
func (s fsStorage) Rename(from, _ string) error          { return readOnly("rename", from) }
func (s fsStorage) Remove(name string) error             { return readOnly("remove", name) }
func (s fsStorage) MkdirAll(dir string) error            { return readOnly("mkdir", dir) }
func (s fsStorage) SyncDir(dir string) error             { return readOnly("sync", dir) }

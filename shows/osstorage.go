package shows

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
)

// OS is the storage in a folder of the computer.
func OS(dir string) Storage { return osStorage(dir) }

type osStorage string

func (s osStorage) path(name string) (string, error) {
	if name == "" {
		return string(s), nil
	}
	if !fs.ValidPath(name) {
		return "", &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	return filepath.Join(string(s), filepath.FromSlash(name)), nil
}

func (s osStorage) ReadFile(name string) ([]byte, error) {
	p, err := s.path(name)
	if err != nil {
		return nil, err
	}
	return os.ReadFile(p)
}

func (s osStorage) List(dir string) ([]Entry, error) {
	p, err := s.path(dir)
	if err != nil {
		return nil, err
	}
	found, err := os.ReadDir(p)
	if err != nil {
		return nil, err
	}
	return entries(found, func(name string) (fs.FileInfo, error) { return os.Stat(filepath.Join(p, name)) }), nil
}

// entries turns directory entries into ours; a link counts as what it leads to.
func entries(found []fs.DirEntry, stat func(name string) (fs.FileInfo, error)) []Entry {
	list := make([]Entry, len(found))
	for i, e := range found {
		list[i] = Entry{e.Name(), e.IsDir()}
		if e.Type()&fs.ModeSymlink != 0 {
			if info, err := stat(e.Name()); err == nil {
				list[i].Dir = info.IsDir()
			}
		}
	}
	return list
}

func (s osStorage) Write(name string, r io.Reader) error {
	p, err := s.path(name)
	if err != nil {
		return err
	}
	f, err := os.Create(p)
	if err != nil {
		return err
	}
	_, err = io.Copy(f, r)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

func (s osStorage) Rename(from, to string) error {
	a, err := s.path(from)
	if err != nil {
		return err
	}
	b, err := s.path(to)
	if err != nil {
		return err
	}
	return os.Rename(a, b)
}

func (s osStorage) Remove(name string) error {
	p, err := s.path(name)
	if err != nil {
		return err
	}
	return os.Remove(p)
}

func (s osStorage) MkdirAll(dir string) error {
	p, err := s.path(dir)
	if err != nil {
		return err
	}
	return os.MkdirAll(p, 0o755)
}

func (s osStorage) SyncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil // folders cannot be flushed there
	}
	p, err := s.path(dir)
	if err != nil {
		return err
	}
	f, err := os.Open(p)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

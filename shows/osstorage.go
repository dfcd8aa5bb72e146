package shows

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// OS is the storage in a folder of the computer. It stays in that folder: a link
// that leads out of it is neither read nor written through (*LinkError), what is
// no plain file is not opened, and a new file never goes through a link that
// stands in its place.
func OS(dir string) Storage { return osStorage(dir) }

type osStorage string

// mostText is the largest show file that is read, as in an archive.
var mostText = UsualLimits().Text

// LinkError says that a file of a show is reached through a link that is not
// followed.
type LinkError struct {
	File string // the link, relative to the show folder
	To   string // what it says
}

func (e *LinkError) Error() string {
	return fmt.Sprintf("%s is a link to %q, and links are followed only inside the show folder, and written relative to it; put the file itself there", e.File, e.To)
}

// Outward gives a *LinkError where a name in a show folder leads out of it, else
// nil: also for what is not there.
func Outward(dir, name string) error {
	err := osStorage(dir).in(filepath.ToSlash(name), func(r *os.Root, p string) error {
		_, err := r.Stat(p)
		return err
	})
	var out *LinkError
	if errors.As(err, &out) {
		return out
	}
	return nil
}

// in does something with a name in the folder, which it cannot leave.
func (s osStorage) in(name string, do func(r *os.Root, p string) error) error {
	if name == "" {
		name = "."
	}
	if !fs.ValidPath(name) {
		return &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	r, err := os.OpenRoot(string(s))
	if err != nil {
		return err
	}
	defer r.Close()
	err = do(r, filepath.FromSlash(name))
	if !escapes(err) {
		return err
	}
	return linkIn(r, name)
}

// escapes reports whether an error of os.Root says that a path leads out of it;
// the error has no name of its own.
func escapes(err error) bool { return err != nil && strings.Contains(err.Error(), "path escapes") }

// linkIn finds the link through which a name leads out.
func linkIn(r *os.Root, name string) error {
	parts := strings.Split(name, "/")
	for i := range parts {
		at := strings.Join(parts[:i+1], "/")
		p := filepath.FromSlash(at)
		if _, err := r.Stat(p); escapes(err) {
			to, _ := r.Readlink(p) // what it says is only said
			return &LinkError{at, to}
		}
	}
	return &LinkError{File: name}
}

// open opens a plain file. Opening another kind could wait for ever.
func (s osStorage) open(name string) (f *os.File, err error) {
	err = s.in(name, func(r *os.Root, p string) error {
		info, err := r.Stat(p)
		if err == nil && !info.Mode().IsRegular() {
			err = &fs.PathError{Op: "open", Path: name, Err: errNoFile(info.Mode())}
		}
		if err == nil {
			f, err = r.Open(p)
		}
		return err
	})
	return f, err
}

func errNoFile(m fs.FileMode) error {
	what := "a device"
	switch {
	case m.IsDir():
		what = "a folder"
	case m&fs.ModeNamedPipe != 0:
		what = "a pipe"
	case m&fs.ModeSocket != 0:
		what = "a socket"
	}
	return fmt.Errorf("it is not a file but %s; take it away", what)
}

func (s osStorage) ReadFile(name string) ([]byte, error) {
	f, err := s.open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err == nil && info.Size() > mostText {
		err = &fs.PathError{Op: "read", Path: name, Err: fmt.Errorf("it has more than the %d bytes that a show file may have", mostText)}
	}
	if err != nil {
		return nil, err
	}
	buf := bytes.NewBuffer(make([]byte, 0, info.Size()+bytes.MinRead)) // room to see the end
	_, err = buf.ReadFrom(io.LimitReader(f, mostText))
	return buf.Bytes(), err
}

func (s osStorage) List(dir string) (list []Entry, err error) {
	err = s.in(dir, func(r *os.Root, p string) error {
		found, err := fs.ReadDir(r.FS(), filepath.ToSlash(p))
		if err != nil {
			return err
		}
		// What a link out of the folder leads to counts as well: who goes on to
		// look at it is told.
		list = entries(found, func(name string) (fs.FileInfo, error) { return os.Stat(filepath.Join(string(s), p, name)) })
		return nil
	})
	return list, err
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

func (s osStorage) Write(name string, from io.Reader) error {
	return s.in(name, func(r *os.Root, p string) error {
		if err := r.Remove(p); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		f, err := r.OpenFile(p, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if err != nil {
			return err
		}
		_, err = io.Copy(f, from)
		if err == nil {
			err = f.Sync()
		}
		return errors.Join(err, f.Close())
	})
}

func (s osStorage) Rename(from, to string) error {
	return s.in(from, func(r *os.Root, a string) error {
		return s.in(to, func(_ *os.Root, b string) error { return r.Rename(a, b) })
	})
}

func (s osStorage) Remove(name string) error {
	return s.in(name, func(r *os.Root, p string) error { return r.Remove(p) })
}

func (s osStorage) MkdirAll(dir string) error {
	return s.in(dir, func(r *os.Root, p string) error { return r.MkdirAll(p, 0o755) })
}

func (s osStorage) SyncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil // folders cannot be flushed there
	}
	return s.in(dir, func(r *os.Root, p string) error {
		f, err := r.Open(p)
		if err != nil {
			return err
		}
		return errors.Join(f.Sync(), f.Close())
	})
}

package shows

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
)

// A save of several files is one step: all new files are written beside the
// old ones, then a list of what is to happen is put in place, and from then on
// the save has happened, whatever breaks. Reading looks through the list, and
// the next writer carries it out.

const (
	pendingFile = ".saving"
	pendingHead = "emberbeat save 1\n"
)

// besideName is the name under which a new file waits beside the old one.
func besideName(name string) string {
	dir, base := path.Split(name)
	return dir + "." + base + ".new"
}

// pending is a save that is decided but perhaps not carried out.
type pending struct {
	put    []string // files to be replaced by those beside them
	remove []string
}

func (p *pending) encode() []byte {
	b := []byte(pendingHead)
	for _, n := range p.put {
		b = append(b, "put "+n+"\n"...)
	}
	for _, n := range p.remove {
		b = append(b, "remove "+n+"\n"...)
	}
	sum := sha256.Sum256(b)
	return append(b, "sum "+hex.EncodeToString(sum[:])+"\n"...)
}

// decodePending reads the list; nil if it is not whole, for then it was never
// put in place by us.
func decodePending(b []byte) *pending {
	i := bytes.LastIndex(b, []byte("sum "))
	if i < 0 || !bytes.HasPrefix(b, []byte(pendingHead)) {
		return nil
	}
	sum := sha256.Sum256(b[:i])
	if string(b[i:]) != "sum "+hex.EncodeToString(sum[:])+"\n" {
		return nil
	}
	p := &pending{}
	for line := range strings.Lines(string(b[len(pendingHead):i])) {
		verb, name, _ := strings.Cut(strings.TrimSuffix(line, "\n"), " ")
		if !fs.ValidPath(name) || !strings.HasSuffix(name, ".toml") {
			return nil
		}
		switch verb {
		case "put":
			p.put = append(p.put, name)
		case "remove":
			p.remove = append(p.remove, name)
		}
	}
	return p
}

func readPending(st Storage) (*pending, error) {
	b, err := st.ReadFile(pendingFile)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, &FileError{File: pendingFile, Doing: "read", Err: err}
	}
	return decodePending(b), nil
}

// carryOut makes the renames and removals of a decided save. It may be called
// again after it failed or was interrupted.
func (p *pending) carryOut(st Storage) error {
	dirs := map[string]bool{"": true}
	for _, name := range p.put {
		dirs[dirOf(name)] = true
		if err := st.Rename(besideName(name), name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return unfinished(name, err)
		}
	}
	for _, name := range p.remove {
		dirs[dirOf(name)] = true
		if err := st.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return unfinished(name, err)
		}
	}
	if err := syncAll(st, dirs); err != nil {
		return err
	}
	for _, name := range p.remove {
		if dir := dirOf(name); strings.Contains(dir, "/") {
			_ = st.Remove(dir) // a song's folder, if nothing else is in it
		}
	}
	if err := st.Remove(pendingFile); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return unfinished(pendingFile, err)
	}
	return nil
}

func syncAll(st Storage, dirs map[string]bool) error {
	names := slices.Sorted(maps.Keys(dirs))
	errs := make([]error, len(names))
	eachOf(len(names), waiting, func(i int) { errs[i] = st.SyncDir(names[i]) })
	for i, err := range errs {
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return unfinished(names[i], err)
		}
	}
	return nil
}

func unfinished(name string, err error) error {
	return &FileError{File: name, Doing: "replaced", Err: err, Safe: "the new show is on disk and is put in place the next time it is saved"}
}

func dirOf(name string) string {
	dir, _ := path.Split(name)
	return strings.TrimSuffix(dir, "/")
}

// finishPending carries out a save that was interrupted.
func finishPending(st Storage) error {
	p, err := readPending(st)
	if p == nil || err != nil {
		return err
	}
	return p.carryOut(st)
}

// settled gives the storage as it will be once an interrupted save is carried
// out.
func settled(st Storage) (Storage, error) {
	p, err := readPending(st)
	if p == nil || err != nil {
		return st, err
	}
	return settledStorage{st, p}, nil
}

type settledStorage struct {
	Storage
	p *pending
}

func (s settledStorage) ReadFile(name string) ([]byte, error) {
	if slices.Contains(s.p.put, name) {
		if b, err := s.Storage.ReadFile(besideName(name)); !errors.Is(err, fs.ErrNotExist) {
			return b, err
		}
	}
	if slices.Contains(s.p.remove, name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return s.Storage.ReadFile(name)
}

func (s settledStorage) List(dir string) ([]Entry, error) {
	list, err := s.Storage.List(dir)
	if err != nil {
		return nil, err
	}
	list = slices.DeleteFunc(slices.Clone(list), func(e Entry) bool { return slices.Contains(s.p.remove, join(dir, e.Name)) })
	for _, name := range s.p.put {
		if dirOf(name) == dir && !slices.ContainsFunc(list, func(e Entry) bool { return e.Name == path.Base(name) }) {
			list = append(list, Entry{Name: path.Base(name)})
		}
	}
	slices.SortFunc(list, func(a, b Entry) int { return strings.Compare(a.Name, b.Name) })
	return list, nil
}

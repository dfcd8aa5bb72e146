package shows_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"
	"syscall"

	"emberbeat/shows"
)

// memory is a storage in memory that breaks when told to.
type memory struct {
	mu    sync.Mutex
	files map[string][]byte
	room  int                         // bytes that may still be written, -1 = any number
	fail  func(op, name string) error // asked before each operation
	ops   int                         // operations that change something
}

func newMemory() *memory { return &memory{files: map[string][]byte{}, room: -1} }

func memoryOf(files map[string]string) *memory {
	m := newMemory()
	for name, text := range files {
		m.files[name] = []byte(text)
	}
	return m
}

func (m *memory) clone() *memory {
	c := newMemory()
	c.files = maps.Clone(m.files)
	return c
}

func (m *memory) dump() string {
	var b strings.Builder
	for _, name := range slices.Sorted(maps.Keys(m.files)) {
		fmt.Fprintf(&b, "--- %s\n%s", name, m.files[name])
	}
	return b.String()
}

func (m *memory) enter(op, name string) error {
	m.mu.Lock()
	if op != "read" && op != "list" {
		m.ops++
	}
	if m.fail != nil {
		return m.fail(op, name)
	}
	return nil
}

func missing(op, name string) error { return &fs.PathError{Op: op, Path: name, Err: fs.ErrNotExist} }

func (m *memory) ReadFile(name string) ([]byte, error) {
	defer m.mu.Unlock()
	if err := m.enter("read", name); err != nil {
		return nil, err
	}
	b, ok := m.files[name]
	if !ok {
		return nil, missing("open", name)
	}
	return bytes.Clone(b), nil
}

func (m *memory) List(dir string) ([]shows.Entry, error) {
	defer m.mu.Unlock()
	if err := m.enter("list", dir); err != nil {
		return nil, err
	}
	found := map[string]bool{}
	for name := range m.files {
		rest := name
		if dir != "" {
			var ok bool
			if rest, ok = strings.CutPrefix(name, dir+"/"); !ok {
				continue
			}
		}
		first, _, deep := strings.Cut(rest, "/")
		found[first] = found[first] || deep
	}
	if len(found) == 0 && dir != "" {
		return nil, missing("list", dir)
	}
	var list []shows.Entry
	for _, name := range slices.Sorted(maps.Keys(found)) {
		list = append(list, shows.Entry{Name: name, Dir: found[name]})
	}
	return list, nil
}

func (m *memory) Write(name string, r io.Reader) error {
	b, err := io.ReadAll(r)
	if err != nil {
		return err
	}
	defer m.mu.Unlock()
	if err := m.enter("write", name); err != nil {
		return err
	}
	if m.room >= 0 && len(b) > m.room {
		m.files[name] = b[:m.room]
		m.room = 0
		return &fs.PathError{Op: "write", Path: name, Err: syscall.ENOSPC}
	}
	if m.room >= 0 {
		m.room -= len(b)
	}
	m.files[name] = b
	return nil
}

func (m *memory) Rename(from, to string) error {
	defer m.mu.Unlock()
	if err := m.enter("rename", from); err != nil {
		return err
	}
	b, ok := m.files[from]
	if !ok {
		return missing("rename", from)
	}
	delete(m.files, from)
	m.files[to] = b
	return nil
}

func (m *memory) Remove(name string) error {
	defer m.mu.Unlock()
	if err := m.enter("remove", name); err != nil {
		return err
	}
	if _, ok := m.files[name]; ok {
		delete(m.files, name)
		return nil
	}
	for f := range m.files {
		if path.Dir(f) == name {
			return errors.New("folder is not empty")
		}
	}
	return missing("remove", name)
}

func (m *memory) MkdirAll(dir string) error {
	defer m.mu.Unlock()
	return m.enter("mkdir", dir)
}

func (m *memory) SyncDir(dir string) error {
	defer m.mu.Unlock()
	return m.enter("sync", dir)
}

package shows

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
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
	pendingFile  = ".saving"
	pendingHead  = "emberbeat save 2\n"
	pendingHead1 = "emberbeat save 1\n" // of lists without prints, which an older program may have left
)

// besideName is the name under which a new file waits beside the old one.
func besideName(name string) string {
	dir, base := path.Split(name)
	return dir + "." + base + ".new"
}

// pending is a save that is decided but perhaps not carried out.
type pending struct {
	put    []swap // files to be replaced by those beside them
	remove []swap
	old    bool // read from a list without prints
}

// swap is what a save does with one file.
type swap struct {
	name  string
	was   Print // of what it replaces; zero = there was no such file
	comes Print // of what takes its place
}

// noPrint stands in the list for a file that is not there.
const noPrint = "-"

func (p Print) String() string {
	if p == (Print{}) {
		return noPrint
	}
	return hex.EncodeToString(p[:])
}

func parsePrint(text string) (p Print, ok bool) {
	if text == noPrint {
		return p, true
	}
	n, err := hex.Decode(p[:], []byte(text))
	return p, err == nil && n == len(p)
}

func (p *pending) encode() []byte {
	b := []byte(pendingHead)
	for _, f := range p.put {
		b = fmt.Appendf(b, "put %s %s %s\n", f.was, f.comes, f.name)
	}
	for _, f := range p.remove {
		b = fmt.Appendf(b, "remove %s %s %s\n", f.was, f.comes, f.name)
	}
	sum := sha256.Sum256(b)
	return append(b, "sum "+hex.EncodeToString(sum[:])+"\n"...)
}

// decodePending reads the list; nil if it is not whole, for then it was never
// put in place by us.
func decodePending(b []byte) *pending {
	p := &pending{old: bytes.HasPrefix(b, []byte(pendingHead1))}
	i := bytes.LastIndex(b, []byte("sum "))
	if i < 0 || !p.old && !bytes.HasPrefix(b, []byte(pendingHead)) {
		return nil
	}
	sum := sha256.Sum256(b[:i])
	if string(b[i:]) != "sum "+hex.EncodeToString(sum[:])+"\n" {
		return nil
	}
	for line := range strings.Lines(string(b[len(pendingHead):i])) {
		verb, rest, _ := strings.Cut(strings.TrimSuffix(line, "\n"), " ")
		f, ok := p.decodeSwap(rest)
		if !ok || !fs.ValidPath(f.name) || !strings.HasSuffix(f.name, ".toml") {
			return nil
		}
		switch verb {
		case "put":
			p.put = append(p.put, f)
		case "remove":
			p.remove = append(p.remove, f)
		}
	}
	return p
}

func (p *pending) decodeSwap(text string) (f swap, ok bool) {
	if p.old {
		return swap{name: text}, true
	}
	was, text, _ := strings.Cut(text, " ")
	comes, name, _ := strings.Cut(text, " ")
	var ok1, ok2 bool
	f.name = name
	f.was, ok1 = parsePrint(was)
	f.comes, ok2 = parsePrint(comes)
	return f, ok1 && ok2
}

// puts finds a file among those to be replaced.
func (p *pending) puts(name string) bool { return hasSwap(p.put, name) }

// removes finds a file among those to be removed.
func (p *pending) removes(name string) bool { return hasSwap(p.remove, name) }

func hasSwap(list []swap, name string) bool {
	return slices.ContainsFunc(list, func(f swap) bool { return f.name == name })
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
	for _, f := range p.put {
		dirs[dirOf(f.name)] = true
		if err := st.Rename(besideName(f.name), f.name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return unfinished(f.name, err)
		}
	}
	for _, f := range p.remove {
		dirs[dirOf(f.name)] = true
		if err := st.Remove(f.name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return unfinished(f.name, err)
		}
	}
	if name, err := syncAll(st, withParents(dirs)); err != nil {
		return unfinished(p.fileIn(name), err)
	}
	for _, f := range p.remove {
		removeEmpty(st, dirOf(f.name))
	}
	if err := st.Remove(pendingFile); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return unfinished(pendingFile, err)
	}
	return nil
}

// removeEmpty takes away the folder of a song or played night, and those it was in,
// if nothing else is in them. The folders that every show has stay.
func removeEmpty(st Storage, dir string) {
	for ; strings.Contains(dir, "/"); dir = dirOf(dir) {
		if st.Remove(dir) != nil {
			return
		}
	}
}

// withParents adds the folders that folders are in, which may be new as well.
func withParents(dirs map[string]bool) map[string]bool {
	all := map[string]bool{}
	for dir := range dirs {
		for all[dir] = true; dir != ""; all[dir] = true {
			dir = dirOf(dir)
		}
	}
	return all
}

// syncAll makes sure of what happened in folders, and names the one where that
// failed. A folder that is no longer there has nothing to make sure of.
func syncAll(st Storage, dirs map[string]bool) (failed string, err error) {
	names := slices.Sorted(maps.Keys(dirs))
	errs := make([]error, len(names))
	eachOf(len(names), waiting, func(i int) { errs[i] = st.SyncDir(names[i]) })
	for i, err := range errs {
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return names[i], err
		}
	}
	return "", nil
}

// unfinished says what is on the disk once a save is decided, and does not come
// to its end.
func unfinished(name string, err error) error {
	return &FileError{File: name, Doing: "replaced", Err: err, Safe: "the new show is on disk and is put in place the next time it is saved"}
}

// fileIn names a file of the save in a folder.
func (p *pending) fileIn(dir string) string {
	for _, f := range slices.Concat(p.put, p.remove) {
		if dirOf(f.name) == dir {
			return f.name
		}
	}
	return pendingFile
}

func dirOf(name string) string {
	dir, _ := path.Split(name)
	return strings.TrimSuffix(dir, "/")
}

// finishPending carries out a save that was interrupted, unless that would
// override what came to be on the disk since (*LeftSaveError).
func finishPending(st Storage) error {
	p, err := standing(st)
	if p == nil || err != nil {
		return err
	}
	return p.carryOut(st)
}

// settled gives the storage as it will be once an interrupted save is carried
// out. A save that cannot be carried out any more is a *LeftSaveError.
func settled(st Storage) (Storage, error) {
	p, err := standing(st)
	if p == nil || err != nil {
		return st, err
	}
	return settledStorage{st, p}, nil
}

// standing reads the list of an interrupted save and holds it against the disk.
// Another program may be carrying it out meanwhile: then the list is another one
// or gone, and is read again.
func standing(st Storage) (*pending, error) {
	for tries := 1; ; tries++ {
		p, err := readPending(st)
		if p == nil || p.old || err != nil {
			return p, err
		}
		foreign, err := p.foreign(st)
		if err != nil || len(foreign) == 0 {
			return p, err
		}
		again, err := readPending(st)
		if err != nil {
			return nil, err
		}
		if again != nil && bytes.Equal(again.encode(), p.encode()) || tries == triesToRead {
			return nil, &LeftSaveError{foreign}
		}
	}
}

// foreign lists the files of the save that are neither what it replaces nor what
// it puts there. A file that was taken away is in nobody's way.
func (p *pending) foreign(st Storage) (names []string, err error) {
	for _, f := range p.put {
		ok, err := f.stands(st)
		if err != nil {
			return nil, err
		}
		if !ok {
			names = append(names, f.name)
		}
	}
	for _, f := range p.remove {
		now, err := printOf(st, f.name)
		if err != nil {
			return nil, err
		}
		if now != f.was && now != (Print{}) {
			names = append(names, f.name)
		}
	}
	return names, nil
}

// stands reports whether a file can still be put in place, or is there already.
func (f swap) stands(st Storage) (bool, error) {
	for range 2 { // the second time it may have been put in place in between
		now, err := printOf(st, f.name)
		if err != nil || now == f.comes {
			return true, err
		}
		beside, err := printOf(st, besideName(f.name))
		if err != nil {
			return false, err
		}
		if beside == f.comes {
			return now == f.was || now == Print{}, nil
		}
	}
	return false, nil
}

// printOf gives the print of a file, zero where there is none.
func printOf(st Storage, name string) (Print, error) {
	b, err := st.ReadFile(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return Print{}, nil
	case err != nil:
		return Print{}, &FileError{File: name, Doing: "read", Err: err}
	}
	return sha256.Sum256(b), nil
}

type settledStorage struct {
	Storage
	p *pending
}

func (s settledStorage) ReadFile(name string) ([]byte, error) {
	if s.p.puts(name) {
		if b, err := s.Storage.ReadFile(besideName(name)); !errors.Is(err, fs.ErrNotExist) {
			return b, err
		}
	}
	if s.p.removes(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return s.Storage.ReadFile(name)
}

func (s settledStorage) List(dir string) ([]Entry, error) {
	list, err := s.Storage.List(dir)
	if err != nil {
		return nil, err
	}
	list = slices.DeleteFunc(slices.Clone(list), func(e Entry) bool {
		return s.p.removes(join(dir, e.Name)) || join(dir, e.Name) == pendingFile || slices.ContainsFunc(s.p.put, func(f swap) bool { return besideName(f.name) == join(dir, e.Name) })
	})
	for _, f := range s.p.put {
		if dirOf(f.name) == dir && !slices.ContainsFunc(list, func(e Entry) bool { return e.Name == path.Base(f.name) }) {
			list = append(list, Entry{Name: path.Base(f.name)})
		}
	}
	slices.SortFunc(list, func(a, b Entry) int { return strings.Compare(a.Name, b.Name) })
	return list, nil
}

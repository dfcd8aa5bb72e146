package shows

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"runtime"
	"slices"
	"sync"

	"emberbeat/timeline"
)

// Loaded is a show as its folder says it.
type Loaded struct {
	Show   *timeline.Show
	Places Places
	Prints Prints    // of the files that were read
	Notes  []Problem // what is not known but kept
	Old    []string  // files of an older schema; they are read all the same
	Strays []string  // files that interrupted work left behind; the next save takes them away
}

// Prints holds the print of each show file by its name.
type Prints map[string]Print

// Load reads the show in a folder. It changes nothing on disk. Errors:
// *NoShowError, *NewerError, *FileError, or *UnreadableError with every
// problem; with the last, Loaded still holds what could be read, to be looked
// at and never to be saved.
func Load(dir string) (*Loaded, error) {
	l, err := LoadFrom(OS(dir))
	var none *NoShowError
	if errors.As(err, &none) {
		none.Dir = dir
	}
	return l, err
}

// LoadFrom is Load for any storage.
func LoadFrom(st Storage) (*Loaded, error) {
	files, found, err := readSteady(st)
	if err != nil {
		return nil, err
	}
	problems := found.problems
	for _, f := range files {
		if f.newer != nil {
			return nil, f.newer
		}
		problems = append(problems, f.problems...)
	}
	a := assembler{problems: problems}
	a.loaded.Notes, a.loaded.Strays = found.copies, found.strays
	own, kept, dirs := partPlayed(files)
	l := a.assemble(own)
	a.problems = append(a.problems, l.played(kept, dirs)...)
	if len(a.problems) > 0 {
		sortProblems(a.problems)
		return l, &UnreadableError{a.problems}
	}
	return l, nil
}

// triesToRead is the number of times a show is read that somebody else is
// saving meanwhile.
const triesToRead = 5

// readSteady reads all files of one and the same save.
func readSteady(st Storage) (files []*fileRead, in *found, err error) {
	for range triesToRead {
		view, err := settled(st)
		if err != nil {
			return nil, nil, err
		}
		if in, err = findFiles(view); err != nil {
			return nil, nil, err
		}
		files, err = readAll(view, in.jobs)
		if isSteady(st, files) {
			return files, in, err
		}
	}
	return nil, nil, &FileError{File: "the show folder", Doing: "read", Err: errors.New("another program goes on writing it; try again")}
}

// isSteady reports whether files still are what they were when they were read.
// That can only be otherwise while somebody has the show open.
func isSteady(st Storage, files []*fileRead) bool {
	if _, err := st.ReadFile(lockFile); err != nil {
		return true
	}
	view, err := settled(st)
	if err != nil {
		return false
	}
	in, err := findFiles(view)
	if err != nil || len(in.jobs) != len(files) {
		return false
	}
	for i, j := range in.jobs {
		b, err := view.ReadFile(j.name)
		if err != nil || files[i] == nil || files[i].name != j.name || files[i].print != sha256.Sum256(b) {
			return false
		}
	}
	return true
}

// readJob is one file to read.
type readJob struct {
	kind *fileKind
	name string
}

// readAll reads files side by side and gives them in the order of the jobs.
func readAll(st Storage, jobs []readJob) ([]*fileRead, error) {
	files := make([]*fileRead, len(jobs))
	errs := make([]error, len(jobs))
	next := make(chan int)
	var wg sync.WaitGroup
	for range min(len(jobs), runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for i := range next {
				files[i], errs[i] = readOne(st, jobs[i])
			}
		})
	}
	for i := range jobs {
		next <- i
	}
	close(next)
	wg.Wait()
	return files, errors.Join(errs...)
}

func readOne(st Storage, j readJob) (*fileRead, error) {
	data, err := st.ReadFile(j.name)
	if err != nil {
		return nil, &FileError{File: j.name, Doing: "read", Err: err}
	}
	return readFile(j.kind, j.name, slugOf(j.kind, j.name), data), nil
}

// Digest is one text for the whole state of a show on disk: it changes when
// any of its files does.
func (p Prints) Digest() string {
	sum := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(p)) {
		print := p[name]
		fmt.Fprintf(sum, "%s %x\n", name, print[:])
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// Digest is one text for all that a show says, as Prints.Digest of its files would
// be once it is saved: what two people can compare to see that they have the same.
func Digest(s *timeline.Show) string {
	p := Prints{}
	for _, j := range filesOf(s) {
		if w := j.write(s); w.bytes != nil {
			p[w.name] = sha256.Sum256(w.bytes)
		}
	}
	return p.Digest()
}

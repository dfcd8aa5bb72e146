package shows

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"runtime"
	"slices"
	"strings"
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
	files, problems, err := readSteady(st)
	if err != nil {
		return nil, err
	}
	for _, f := range files {
		if f.newer != nil {
			return nil, f.newer
		}
		problems = append(problems, f.problems...)
	}
	a := assembler{problems: problems}
	l := a.assemble(files)
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
func readSteady(st Storage) (files []*fileRead, problems []Problem, err error) {
	for range triesToRead {
		view, err := settled(st)
		if err != nil {
			return nil, nil, err
		}
		var jobs []readJob
		if jobs, problems, err = findFiles(view); err != nil {
			return nil, nil, err
		}
		files, err = readAll(view, jobs)
		if isSteady(st, files) {
			return files, problems, err
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
	jobs, _, err := findFiles(view)
	if err != nil || len(jobs) != len(files) {
		return false
	}
	for i, j := range jobs {
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

// findFiles lists the files of a show. Only show.toml must be there.
func findFiles(st Storage) (jobs []readJob, problems []Problem, err error) {
	top, err := st.List("")
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, &NoShowError{".", err}
	}
	if err != nil {
		return nil, nil, &FileError{File: "the show folder", Doing: "read", Err: err}
	}
	has := func(list []Entry, name string, dir bool) bool {
		for _, e := range list {
			if e.Name == name && e.Dir == dir {
				return true
			}
		}
		return false
	}
	if !has(top, showFile, false) {
		return nil, nil, &NoShowError{".", fs.ErrNotExist}
	}
	for _, j := range []readJob{{showKind, showFile}, {stockKind, stockFile}, {rigKind, rigFile}, {rulesKind, rulesFile}} {
		if has(top, j.name, false) {
			jobs = append(jobs, j)
		}
	}
	for _, d := range []readJob{{venueKind, venuesDir}, {nightKind, nightsDir}, {songKind, songsDir}} {
		if !has(top, d.name, true) {
			continue
		}
		list, err := st.List(d.name)
		if err != nil {
			return nil, nil, &FileError{File: d.name, Doing: "read", Err: err}
		}
		for _, e := range list {
			switch name := d.name + "/" + e.Name; {
			case hidden(e.Name):
			case d.kind != songKind && !e.Dir && strings.HasSuffix(e.Name, ".toml"):
				jobs = append(jobs, readJob{d.kind, name})
			case d.kind == songKind && e.Dir:
				inside, err := st.List(name)
				if err != nil {
					return nil, nil, &FileError{File: name, Doing: "read", Err: err}
				}
				song, cues := has(inside, songFile, false), has(inside, cuesFile, false)
				if song {
					jobs = append(jobs, readJob{songKind, name + "/" + songFile})
				}
				if cues {
					jobs = append(jobs, readJob{cuesKind, name + "/" + cuesFile})
				}
				if cues && !song {
					problems = append(problems, Problem{name + "/" + cuesFile, 0, "there is no " + songFile + " beside it", "put the song's file back, or remove the folder"})
				}
			}
		}
	}
	return jobs, problems, nil
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

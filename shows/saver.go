package shows

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// saver carries one save along its steps.
type saver struct {
	st Storage
	SaveOptions
	files  []written        // those looked at
	extra  []string         // files to be removed if they are there
	todo   []written        // files to write
	gone   []string         // files to remove
	unsure []string         // files that are as they should be, and perhaps not for good
	was    map[string]Print // of the files on disk that are written or removed

	notKept error
}

// plan encodes what may have changed.
func (s *saver) plan(show, before *timeline.Show) {
	jobs := filesOf(show)
	names := map[string]bool{}
	var changed []fileJob
	for _, j := range jobs {
		names[j.name] = true
		if before == nil || !j.unchanged(show, before) {
			changed = append(changed, j)
		}
	}
	s.files = make([]written, len(changed))
	each(len(changed), func(i int) { s.files[i] = changed[i].write(show) })
	if before != nil {
		for _, j := range filesOf(before) {
			if !names[j.name] {
				s.extra = append(s.extra, j.name)
			}
		}
		return
	}
	in, err := findFiles(s.st)
	if err != nil {
		return // no show here yet
	}
	for _, j := range in.jobs {
		if !names[j.name] {
			s.extra = append(s.extra, j.name)
		}
	}
}

// ChangedError says that somebody else has changed files of the show since it
// was opened.
type ChangedError struct{ Files []string }

func (e *ChangedError) Error() string {
	return fmt.Sprintf("changed by another program since the show was opened: %s; nothing was saved: save a copy, or open the show again", strings.Join(e.Files, ", "))
}

// compare looks at what is on disk and decides what is to be done.
func (s *saver) compare() error {
	old := make([][]byte, len(s.files))
	errs := make([]error, len(s.files))
	each(len(s.files), func(i int) { old[i], errs[i] = s.readOld(s.files[i].name) })
	if err := errors.Join(errs...); err != nil {
		return err
	}
	changed := &ChangedError{}
	s.was = map[string]Print{}
	check := func(name string, b []byte) {
		if b != nil {
			s.was[name] = sha256.Sum256(b)
		}
		want, known := s.Prints[name]
		if s.Prints != nil && (known != (b != nil) || known && want != sha256.Sum256(b)) {
			changed.Files = append(changed.Files, name)
		}
	}
	for i, f := range s.files {
		switch {
		case f.bytes == nil && old[i] == nil, old[i] != nil && bytes.Equal(f.bytes, old[i]):
			// There already, but not as it was last known: put there by a save that
			// could not make sure of it.
			if known, ok := s.Prints[f.name]; s.Prints != nil && ok != (old[i] != nil) || ok && known != sha256.Sum256(old[i]) {
				s.unsure = append(s.unsure, f.name)
			}
			continue
		case f.bytes == nil:
			s.gone = append(s.gone, f.name)
		default:
			s.todo = append(s.todo, f)
		}
		check(f.name, old[i])
	}
	for _, name := range s.extra {
		b, err := s.readOld(name)
		if err != nil {
			return err
		}
		if b != nil {
			s.gone = append(s.gone, name)
			check(name, b)
		}
	}
	if len(changed.Files) > 0 {
		return changed
	}
	return nil
}

// readOld gives a file's bytes, nil when there is none.
func (s *saver) readOld(name string) ([]byte, error) {
	b, err := s.st.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, &FileError{File: name, Doing: "read", Err: err, Safe: oldIsSafe}
	}
	if b == nil {
		b = []byte{}
	}
	return b, nil
}

func (s *saver) prints() Prints {
	prints := maps.Clone(s.Prints)
	if prints == nil {
		prints = Prints{}
	}
	for _, f := range s.files {
		if f.bytes != nil {
			prints[f.name] = sha256.Sum256(f.bytes)
		}
	}
	for _, name := range s.gone {
		delete(prints, name)
	}
	return prints
}

func (s *saver) result() *Saved {
	r := &Saved{Prints: s.prints(), Removed: s.gone, NotKept: s.notKept}
	changed := map[string]map[timeline.Ref]int{}
	for _, f := range s.files {
		if f.of == nil { // records stand where the show itself has them
			changed[f.name] = f.lines
		}
	}
	for _, name := range s.gone {
		changed[name] = nil
	}
	for _, f := range s.todo {
		r.Written = append(r.Written, f.name)
	}
	slices.Sort(r.Written)
	r.Places = s.Places.with(changed)
	return r
}

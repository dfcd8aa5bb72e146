package shows

import (
	"bytes"
	"crypto/sha256"
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

// SaveOptions say more about a save; the zero value will do.
type SaveOptions struct {
	// Prints and Places are those of the show as it was last read or written.
	// With Prints, a file that somebody else has changed since is not
	// overwritten: the save fails with *ChangedError.
	Prints Prints
	Places Places
	// Keep is handed the storage before anything in it changes, to keep an
	// older version. Its error does not stop the save; see Saved.NotKept.
	Keep func(Storage) error
	// Commit is called with the prints to be, once all new files are written
	// beside the old ones. Its error stops the save.
	Commit func(Prints) error
}

// Saved is what a save has done.
type Saved struct {
	Places  Places
	Prints  Prints
	Written []string // files written, sorted
	Removed []string
	NotKept error // why the older version could not be kept, or nil
}

// Save writes a show to its folder: only files whose bytes change, all of them
// or none. before is the show as it was last loaded or saved, whose unchanged
// parts are not looked at; nil looks at all. The last ten versions are kept
// (see Versions). Nobody else may have the folder open (*LockedError).
func Save(dir string, show, before *timeline.Show) error {
	l, err := Lock(dir)
	if err != nil {
		return err
	}
	defer l.Unlock()
	_, err = SaveTo(OS(dir), show, before, SaveOptions{Keep: KeepVersion})
	return err
}

// SaveTo is Save for any storage, without lock and older versions. Errors:
// *FileError, *ChangedError, or one that names records which cannot be stored.
// After an error the folder holds the old show, unless the error says
// otherwise.
func SaveTo(st Storage, show, before *timeline.Show, o SaveOptions) (*Saved, error) {
	if err := checkStorable(show); err != nil {
		return nil, err
	}
	if err := finishPending(st); err != nil {
		return nil, err
	}
	s := &saver{st: st, SaveOptions: o}
	s.plan(show, before)
	if err := s.compare(); err != nil {
		return nil, err
	}
	if len(s.todo) == 0 && len(s.gone) == 0 {
		return s.result(), nil
	}
	if o.Keep != nil {
		s.notKept = o.Keep(st)
	}
	if err := s.writeBeside(); err != nil {
		s.clean()
		return nil, err
	}
	if o.Commit != nil {
		if err := o.Commit(s.prints()); err != nil {
			s.clean()
			return nil, err
		}
	}
	if err := s.commit(); err != nil {
		return nil, err
	}
	return s.result(), nil
}

// checkStorable refuses what could not be read back.
func checkStorable(s *timeline.Show) error {
	if !s.Head.ID.Valid() {
		return fmt.Errorf("the show has no valid id")
	}
	for _, name := range []string{"song", "venue", "night"} {
		k := timeline.KindOf(name)
		slug, taken := k.Field("slug"), map[string]timeline.ID{}
		for _, r := range k.List(s, "") {
			text := slug.Get(r).Text
			if !timeline.ID(text).Valid() {
				return fmt.Errorf("%s:%s cannot be stored: its slug is %q; it needs a name of a-z, 0-9 and -", name, r.RecordID(), text)
			}
			if other, ok := taken[text]; ok {
				return fmt.Errorf("%s:%s cannot be stored: its slug %q is that of %s:%s; choose another", name, r.RecordID(), text, name, other)
			}
			taken[text] = r.RecordID()
		}
	}
	return nil
}

// saver carries one save along its steps.
type saver struct {
	st Storage
	SaveOptions
	files []written // those looked at
	extra []string  // files to be removed if they are there
	todo  []written // files to write
	gone  []string  // files to remove

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
	found, _, err := findFiles(s.st)
	if err != nil {
		return // no show here yet
	}
	for _, j := range found {
		if !names[j.name] {
			s.extra = append(s.extra, j.name)
		}
	}
}

// each calls f for 0..n-1, on all processors.
func each(n int, f func(i int)) { eachOf(n, runtime.GOMAXPROCS(0), f) }

func eachOf(n, workers int, f func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(n, workers) {
		wg.Go(func() {
			for i := range next {
				f(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}

// unchanged reports whether a file says the same about two shows, by looking
// at which of their parts are the very same.
func (j fileJob) unchanged(s, before *timeline.Show) bool {
	switch j.kind {
	case songKind, cuesKind:
		return before.Song(j.song.ID) == j.song
	case venueKind, nightKind:
		k := timeline.KindOfRecord(j.own)
		return k.Find(before, "", j.own.RecordID()) == j.own
	case showKind:
		return s.Head == before.Head && slices.Equal(s.Sets, before.Sets)
	}
	sameKept := timeline.KeptOf(s.Head) == timeline.KeptOf(before.Head)
	switch j.kind {
	case stockKind:
		return sameKept && s.Stock == before.Stock
	case rigKind:
		return sameKept && s.Rig == before.Rig
	case rulesKind:
		return sameKept && slices.Equal(s.Settings, before.Settings)
	}
	return false
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
	check := func(name string, b []byte) {
		want, known := s.Prints[name]
		if s.Prints != nil && (known != (b != nil) || known && want != sha256.Sum256(b)) {
			changed.Files = append(changed.Files, name)
		}
	}
	for i, f := range s.files {
		switch {
		case f.bytes == nil && old[i] == nil, old[i] != nil && bytes.Equal(f.bytes, old[i]):
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

const oldIsSafe = "the show on disk is as it was"

// waiting is the number of files written at once: most of the time goes into
// waiting for the disk.
const waiting = 8

// writeBeside writes the new files beside the old ones and reads them back.
func (s *saver) writeBeside() error {
	dirs := map[string]bool{}
	for _, f := range s.todo {
		if dir := dirOf(f.name); dir != "" && !dirs[dir] {
			dirs[dir] = true
			if err := s.st.MkdirAll(dir); err != nil {
				return &FileError{File: dir, Doing: "made", Err: err, Safe: oldIsSafe}
			}
		}
	}
	errs := make([]error, len(s.todo))
	eachOf(len(s.todo), waiting, func(i int) { errs[i] = s.writeOne(s.todo[i]) })
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return s.syncDirs(dirs)
}

// syncDirs makes sure that the new files have their names on the disk.
func (s *saver) syncDirs(dirs map[string]bool) error {
	if len(s.todo)+len(s.gone) < 2 {
		return nil // the rename that follows is all or nothing
	}
	for dir := range dirs {
		dirs[dirOf(dir)] = true
	}
	names := slices.Sorted(maps.Keys(dirs))
	errs := make([]error, len(names))
	eachOf(len(names), waiting, func(i int) { errs[i] = s.st.SyncDir(names[i]) })
	for i, err := range errs {
		if err != nil {
			return &FileError{File: names[i], Doing: "written", Err: err, Safe: oldIsSafe}
		}
	}
	return nil
}

func (s *saver) writeOne(f written) error {
	beside := besideName(f.name)
	if err := writeBytes(s.st, beside, f.bytes); err != nil {
		return &FileError{File: f.name, Doing: "written", Err: err, Safe: oldIsSafe}
	}
	b, err := s.st.ReadFile(beside)
	if err == nil && !bytes.Equal(b, f.bytes) {
		err = errors.New("the disk gave back other bytes than were written")
	}
	if err != nil {
		return &FileError{File: f.name, Doing: "read back", Err: err, Safe: oldIsSafe}
	}
	return nil
}

// clean takes away what a failed save has written.
func (s *saver) clean() {
	for _, f := range s.todo {
		_ = s.st.Remove(besideName(f.name)) // a leftover is overwritten next time
	}
	_ = s.st.Remove(besideName(pendingFile))
}

// commit puts the new files in place.
func (s *saver) commit() error {
	p := &pending{remove: s.gone}
	for _, f := range s.todo {
		p.put = append(p.put, f.name)
	}
	if len(p.put)+len(p.remove) > 1 {
		if err := s.decide(p); err != nil {
			s.clean()
			return &FileError{File: pendingFile, Doing: "written", Err: err, Safe: oldIsSafe}
		}
		if err := s.st.SyncDir(""); err != nil {
			return unfinished(pendingFile, err)
		}
		return p.carryOut(s.st)
	}
	if len(p.put) == 1 { // one rename is a whole save
		if err := s.st.Rename(besideName(p.put[0]), p.put[0]); err != nil {
			s.clean()
			return &FileError{File: p.put[0], Doing: "replaced", Err: err, Safe: oldIsSafe}
		}
		p.put = nil
	}
	return p.carryOut(s.st)
}

// decide puts the list of what is to happen in place. From then on the save
// has happened.
func (s *saver) decide(p *pending) error {
	beside := besideName(pendingFile)
	if err := writeBytes(s.st, beside, p.encode()); err != nil {
		return err
	}
	return s.st.Rename(beside, pendingFile)
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
		changed[f.name] = f.lines
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

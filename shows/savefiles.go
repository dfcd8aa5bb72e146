package shows

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"maps"
	"slices"
)

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
	p := &pending{}
	for _, f := range s.todo {
		p.put = append(p.put, swap{f.name, s.was[f.name], sha256.Sum256(f.bytes)})
	}
	for _, name := range s.gone {
		p.remove = append(p.remove, swap{name: name, was: s.was[name]})
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
		if err := s.st.Rename(besideName(p.put[0].name), p.put[0].name); err != nil {
			s.clean()
			return &FileError{File: p.put[0].name, Doing: "replaced", Err: err, Safe: oldIsSafe}
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

package shows

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"io/fs"
	"strings"
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
	name, err := syncAll(s.st, withParents(dirs))
	if err != nil {
		return &FileError{File: s.fileIn(name), Doing: "written", Err: err, Safe: oldIsSafe}
	}
	return nil
}

// fileIn names a file of the save in a folder, or below it.
func (s *saver) fileIn(dir string) string {
	for _, f := range s.todo {
		if dir == "" && !strings.Contains(f.name, "/") || dir != "" && strings.HasPrefix(f.name, dir+"/") {
			return f.name
		}
	}
	if len(s.todo) > 0 {
		return s.todo[0].name
	}
	return dir
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
	return s.commitOne(p)
}

// commitOne puts one file in place, or removes one, which is a whole save, and
// makes sure of it.
func (s *saver) commitOne(p *pending) error {
	name := ""
	switch {
	case len(p.put) == 1:
		name = p.put[0].name
		if err := s.st.Rename(besideName(name), name); err != nil {
			s.clean()
			return &FileError{File: name, Doing: "replaced", Err: err, Safe: oldIsSafe}
		}
	case len(p.remove) == 1:
		name = p.remove[0].name
		if err := s.st.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return &FileError{File: name, Doing: "removed", Err: err, Safe: oldIsSafe}
		}
	default:
		return nil
	}
	err := s.sure(name)
	if len(p.remove) == 1 {
		removeEmpty(s.st, dirOf(name))
	}
	return err
}

// sure waits until a file that was put in place or removed is so on the disk.
func (s *saver) sure(names ...string) error {
	dirs := map[string]bool{}
	for _, name := range names {
		dirs[dirOf(name)] = true
	}
	at, err := syncAll(s.st, withParents(dirs))
	if err == nil {
		return nil
	}
	name := names[0]
	for _, n := range names {
		if dirOf(n) == at {
			name = n
		}
	}
	return &FileError{File: name, Doing: "made sure of", Err: err,
		Safe: "the new file is in place, but a power cut may bring the old one back; save again"}
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

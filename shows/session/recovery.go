package session

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"emberbeat/timeline"
)

// Recovery tells of edits that were not saved when the show was last open.
type Recovery struct {
	Edits int       // steps brought back, or lost if there is a Problem
	Since time.Time // of the first of them
	// From is the folder whose unsaved edits these are, where it is another one
	// that is not there: the show was moved, or this is a copy of it. Its own
	// journal keeps them.
	From string
	// Problem says why edits could not be brought back, or only some of them;
	// Aside is then the file that still holds them. "" when all is well.
	Problem string
	Aside   string
}

// Recovered tells of edits brought back from the journal; nil when there were
// none, or once they were saved, kept or discarded (see Discard).
func (s *Session) Recovered() *Recovery {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.recovered
}

// KeepRecovered goes on with the edits that were brought back.
func (s *Session) KeepRecovered() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.recovered = nil
}

// recover brings back what a journal tells of and goes on writing it. It never
// fails: what cannot be used is moved aside.
func (s *Session) recover() {
	dir := realPath(s.dir)
	path, err := journalPath(s.saved.Head.ID, dir)
	s.journal = &journal{path: path, dir: dir, open: s.openJournal, base: s.saved, print: s.prints.Digest(), err: err}
	if err != nil {
		return
	}
	from := adoptJournal(path, dir, s.saved.Head.ID)
	defer func() {
		if s.recovered != nil {
			s.recovered.From = from
		}
	}()
	b, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) || err == nil && s.journal.justBegun(b) {
		return
	}
	if err != nil {
		s.giveUp(nil, "the journal cannot be read: "+err.Error())
		return
	}
	entries, good := decodeEntries(b)
	r, err := readReplay(entries)
	if err != nil {
		s.giveUp(nil, "the journal cannot be read: "+err.Error())
		return
	}
	damaged := good < len(b) && countLines(b[good:]) > 1 // one line alone was cut off by a crash
	s.resume(r, good, damaged)
}

// justBegun reports whether no more is there than what a program writes that
// ends in its first edit: nothing, or part of the first line.
func (j *journal) justBegun(b []byte) bool {
	first, err := encodeEntry(j.beginning())
	return err == nil && len(b) < len(first) && bytes.HasPrefix(first, b)
}

func countLines(b []byte) (n int) {
	for _, c := range b {
		if c == '\n' {
			n++
		}
	}
	return n
}

// resume puts the session where the journal ends.
func (s *Session) resume(r *replay, good int, damaged bool) {
	base, known := r.find(s.prints.Digest())
	if !known {
		s.carry(r)
		return
	}
	h, err := r.history(base, s.saved)
	if err != nil {
		s.giveUp(r, "the unsaved edits do not fit the show on disk: "+err.Error())
		return
	}
	s.history, s.told = h, r.told
	back, forth := r.unsaved(base)
	if n := len(back) + len(forth); n > 0 {
		s.recovered = &Recovery{Edits: n, Since: r.since(append(back, forth...))}
	}
	if damaged {
		s.startOver("part of the journal is damaged; the edits before that were brought back")
		return
	}
	s.journal.err = s.journal.reopen(int64(good))
}

// carry brings the edits onto a show that another program has changed.
func (s *Session) carry(r *replay) {
	back, forth := r.unsaved(r.saved)
	steps := append(back, forth...)
	if len(steps) == 0 {
		s.journal.err = s.journal.drop() // it holds undo steps of another state only
		return
	}
	h, err := r.carry(s.saved)
	if err != nil {
		s.giveUp(r, "another program has changed the same records: "+err.Error())
		return
	}
	s.history, s.told = h, r.told
	s.recovered = &Recovery{Edits: len(steps), Since: r.since(steps)}
	s.startOver("another program has changed the show on disk; the edits were made again on top of that")
}

// startOver moves the old journal aside and begins a new one at the current
// snapshot.
func (s *Session) startOver(problem string) {
	aside, err := moveAside(s.journal.path)
	if s.recovered == nil {
		s.recovered = &Recovery{}
	}
	s.recovered.Problem, s.recovered.Aside = problem, aside
	s.journal.err = err
	if show := s.history.Show(); err == nil && show != s.saved {
		s.journal.err = s.journal.startOver(show, s.clock())
	}
}

// giveUp leaves the show as it is on disk and the journal aside.
func (s *Session) giveUp(r *replay, problem string) {
	s.history = timeline.NewHistory(s.saved)
	s.recovered = &Recovery{Problem: problem}
	if r != nil {
		back, forth := r.unsaved(r.saved)
		steps := append(back, forth...)
		s.recovered.Edits, s.recovered.Since = len(steps), r.since(steps)
	}
	s.recovered.Aside, s.journal.err = moveAside(s.journal.path)
}

// reopen goes on writing a journal of which the first bytes are good.
func (j *journal) reopen(good int64) error {
	f, err := j.open(j.path, os.O_WRONLY)
	if err != nil {
		return err
	}
	j.file = f
	if err := f.Truncate(good); err != nil {
		return fmt.Errorf("journal: %w", err)
	}
	_, err = f.Seek(good, 0)
	return err
}

// adoptJournal copies the journal of a show whose folder is not there, with its
// unsaved edits, for the one in dir, and gives the folder. It may have been moved
// here; it may as well be on a stick that is not plugged in, and this a copy of
// it: the other journal is left as it is, and what of it was copied once is not
// offered again.
func adoptJournal(path, dir string, id timeline.ID) (from string) {
	if _, err := os.Lstat(path); err == nil {
		return ""
	}
	marks := filepath.Join(filepath.Dir(path), string(id)+".adopted")
	known, _ := os.ReadFile(marks) // without it, it is offered again
	others, _ := filepath.Glob(filepath.Join(filepath.Dir(path), string(id)+"-*.journal"))
	for _, other := range others {
		b, err := os.ReadFile(other)
		line, rest, _ := bytes.Cut(b, []byte("\n"))
		first, ok := decodeEntry(line)
		if err != nil || !ok || first.Dir == "" {
			continue
		}
		if _, err := os.Stat(first.Dir); !errors.Is(err, fs.ErrNotExist) {
			continue // that show is still there
		}
		sum := sha256.Sum256(b)
		mark := hex.EncodeToString(sum[:]) + "\n"
		if bytes.Contains(known, []byte(mark)) {
			continue
		}
		from, first.Dir = first.Dir, dir
		if line, err = encodeEntry(first); err != nil {
			return ""
		}
		if os.WriteFile(marks, append(known, mark...), 0o600) != nil ||
			os.WriteFile(path+".new", append(line, rest...), 0o600) != nil || os.Rename(path+".new", path) != nil {
			return ""
		}
		return from
	}
	return ""
}

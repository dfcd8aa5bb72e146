package session

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"emberbeat/shows"
	"emberbeat/timeline"
)

// flushWithin is the time after which what was written is forced to the disk.
// A crash of the program alone loses nothing: the system has the bytes.
const flushWithin = 500 * time.Millisecond

// stepKind says what an entry of the journal stands for.
type stepKind string

const (
	openStep   stepKind = "open"  // the first entry
	doStep     stepKind = "do"    // a step
	amendStep  stepKind = "amend" // a step in the place of the one before
	undoStep   stepKind = "undo"
	redoStep   stepKind = "redo"
	savingStep stepKind = "saving" // a save that may or may not have happened
	savedStep  stepKind = "saved"
)

// entry is one line of a journal.
type entry struct {
	Kind    stepKind        `json:"kind"`
	At      time.Time       `json:"at,omitzero"`
	Label   string          `json:"label,omitempty"`
	Digest  string          `json:"digest,omitempty"`  // of the show's files, of open, saving and saved
	Changes json.RawMessage `json:"changes,omitempty"` // of do and amend
	Dir     string          `json:"dir,omitempty"`     // of open: for people who look into the file
}

// journal writes what happens to a show, one line a step, in the user's state
// folder. A nil journal writes nothing.
type journal struct {
	path string
	dir  string
	open func(path string, flag int) (journalFile, error)

	mu    sync.Mutex  // guards what follows
	file  journalFile // nil until the first step
	err   error       // why the last step could not be written
	timer *time.Timer
	base  *timeline.Show // saved, for a new start after an error
	print string         // its digest
}

// journalFile is the file of a journal, opened to be written.
type journalFile interface {
	io.WriteSeeker
	io.Closer
	Sync() error // returns once what was written is on the disk
	Truncate(size int64) error
}

// openJournalFile opens the file itself.
func openJournalFile(path string, flag int) (journalFile, error) {
	f, err := os.OpenFile(path, flag, 0o600)
	if err != nil {
		return nil, err // no file at all, and no nil pointer in its place
	}
	return f, nil
}

// journalPath names the journal of a show in a folder, which has its real
// absolute path.
func journalPath(id timeline.ID, dir string) (string, error) {
	state, err := shows.StateDir()
	sum := sha256.Sum256([]byte(dir))
	return filepath.Join(state, "journals", fmt.Sprintf("%s-%s.journal", id, hex.EncodeToString(sum[:6]))), err
}

// realPath is the absolute path of a folder without links in it, as far as it
// can be told.
func realPath(dir string) string {
	if abs, err := filepath.Abs(dir); err == nil {
		dir = abs
	}
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	return dir
}

// step writes a step that led from one snapshot to another.
func (j *journal) step(kind stepKind, label string, from, to *timeline.Show, at time.Time) {
	if j == nil {
		return
	}
	changes, err := shows.EncodeChanges(timeline.Diff(from, to))
	j.write(entry{Kind: kind, At: at, Label: label, Changes: changes}, to, err)
}

// walk writes that undo or redo led to a snapshot.
func (j *journal) walk(kind stepKind, to *timeline.Show, at time.Time) {
	if j != nil {
		j.write(entry{Kind: kind, At: at}, to, nil)
	}
}

// saving writes that the next digest may be what is on disk, and flushes.
func (j *journal) saving(digest string) { j.mark(savingStep, digest, nil) }

// saved writes that the show is on disk, and flushes.
func (j *journal) saved(digest string, show *timeline.Show) { j.mark(savedStep, digest, show) }

func (j *journal) mark(kind stepKind, digest string, show *timeline.Show) {
	if j == nil {
		return
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	if show != nil {
		j.base, j.print = show, digest
		if j.err != nil { // nothing is unsaved any more: start afresh
			j.err = j.drop()
			return
		}
	}
	if j.file != nil && j.err == nil {
		if j.err = j.append(entry{Kind: kind, Digest: digest}); j.err == nil {
			j.err = j.file.Sync()
		}
	}
}

// write appends an entry; to is the snapshot it leads to, for a new start if
// an entry before it could not be written.
func (j *journal) write(e entry, to *timeline.Show, err error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.err != nil {
		j.err = j.startOver(to, e.At)
		return
	}
	if err == nil && j.file == nil {
		err = j.create(j.path)
	}
	if err == nil {
		err = j.append(e)
	}
	if j.err = err; err == nil && j.timer == nil {
		j.timer = time.AfterFunc(flushWithin, j.flush)
	}
}

// flush forces what was written to the disk.
func (j *journal) flush() {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.timer = nil
	if j.file != nil {
		j.err = errors.Join(j.err, j.file.Sync())
	}
}

// broken says why the journal is not written, or nil.
func (j *journal) broken() error {
	if j == nil {
		return nil
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.err
}

// close ends the journal; it is kept if it holds unsaved edits.
func (j *journal) close(keep bool) error {
	if j == nil {
		return nil
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.timer != nil {
		j.timer.Stop()
	}
	if !keep {
		_ = j.drop() // one that stays holds nothing unsaved
		return nil
	}
	err := j.err
	if j.file != nil {
		err = errors.Join(err, j.file.Sync())
	}
	j.closeFile()
	return err
}

// setAside moves the journal away, to be found by people, and starts afresh
// from the saved show.
func (j *journal) setAside(saved *timeline.Show, digest string) error {
	if j == nil {
		return nil
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	j.closeFile()
	j.base, j.print, j.err = saved, digest, nil
	_, err := moveAside(j.path)
	return err
}

// moveAside gives a journal another name and tells it; "" when there is none.
func moveAside(path string) (string, error) {
	for n := 1; ; n++ {
		aside := fmt.Sprintf("%s.aside-%d", path, n)
		if _, err := os.Lstat(aside); err == nil {
			continue
		}
		err := os.Rename(path, aside)
		if errors.Is(err, fs.ErrNotExist) {
			return "", nil
		}
		return aside, err
	}
}

package session

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"emberbeat/shows"
	"emberbeat/timeline"
)

// create makes the file with its first entry.
func (j *journal) create(path string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	f, err := j.open(path, os.O_CREATE|os.O_TRUNC|os.O_WRONLY)
	if err != nil {
		return err
	}
	j.file = f
	return j.append(j.beginning())
}

// beginning is the first entry.
func (j *journal) beginning() entry { return entry{Kind: openStep, Digest: j.print, Dir: j.dir} }

func (j *journal) append(e entry) error {
	line, err := encodeEntry(e)
	if err == nil {
		_, err = j.file.Write(line)
	}
	return err
}

// startOver makes a new journal that leads from the saved show to the current
// one in one step, after the old one could not be written.
func (j *journal) startOver(to *timeline.Show, at time.Time) error {
	changes, err := shows.EncodeChanges(timeline.Diff(j.base, to))
	if err != nil {
		return err
	}
	j.closeFile()
	beside := j.path + ".new"
	if err := j.create(beside); err != nil {
		return err
	}
	if err := j.append(entry{Kind: doStep, At: at, Label: "edits since the last save", Changes: changes}); err != nil {
		return err
	}
	return os.Rename(beside, j.path)
}

func (j *journal) closeFile() {
	if j.file != nil {
		_ = j.file.Close()
		j.file = nil
	}
}

// drop takes the file away.
func (j *journal) drop() error {
	j.closeFile()
	if err := os.Remove(j.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

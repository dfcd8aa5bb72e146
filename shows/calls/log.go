package calls

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"emberbeat/timeline"
)

// Kind is what was marked.
type Kind string

// The kinds.
const (
	Hold    Kind = "hold"
	Release Kind = "release"
	Missed  Kind = "missed"
	Back    Kind = "taken-back" // a cue is not missed after all
)

// Entry is one line of the log.
type Entry struct {
	When  time.Time   `json:"when"` // by the computer's clock
	Kind  Kind        `json:"kind"`
	Song  timeline.ID `json:"song"`
	Title string      `json:"title"`
	At    string      `json:"at"`              // timecode of the plan, or a time of the song
	Bar   string      `json:"bar,omitempty"`   // of the same
	Cue   timeline.ID `json:"cue,omitempty"`   // of what was missed
	Name  string      `json:"name,omitempty"`  // what the crew calls it
	Loads []string    `json:"loads,omitempty"` // outputs whose load it would have used up: bank-a:7
}

// Folder is where the logs are, in the show's folder.
const Folder = "calls"

// tour names the log of a show that no night was chosen for.
const tour = "tour"

// File gives the log's place in the show's folder; nil = of the tour.
func File(n *timeline.Night) string {
	name := tour
	if n != nil {
		name = "night-" + cmp.Or(n.Slug, string(n.ID))
	}
	return filepath.Join(Folder, name+".log")
}

// Add writes an entry to the log of a night of the show in a folder.
func Add(dir string, n *timeline.Night, e Entry) (err error) {
	line, err := json.Marshal(e)
	if err != nil {
		return err
	}
	path := filepath.Join(dir, File(n))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Errorf("the log of marks cannot be written: %w", err)
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		return fmt.Errorf("the log of marks cannot be written: %w", err)
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	if _, err = f.Write(append(line, '\n')); err == nil {
		err = f.Sync()
	}
	return err
}

// Read gives the log of a night in order; none where nothing was marked. A line
// that cannot be read, such as one that was cut short, is left out and told as an
// error beside what could be read.
func Read(dir string, n *timeline.Night) (list []Entry, err error) {
	name := File(n)
	b, err := os.ReadFile(filepath.Join(dir, name))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("the log of marks cannot be read: %w", err)
	}
	lines := bufio.NewScanner(bytes.NewReader(b))
	lines.Buffer(nil, 1<<20)
	var bad []error
	for at := 1; lines.Scan(); at++ {
		if len(bytes.TrimSpace(lines.Bytes())) == 0 {
			continue
		}
		var e Entry
		if err := json.Unmarshal(lines.Bytes(), &e); err != nil {
			bad = append(bad, fmt.Errorf("%s:%d is no line of the log of marks: %w; delete the line", filepath.ToSlash(name), at, err))
			continue
		}
		list = append(list, e)
	}
	return list, errors.Join(append(bad, lines.Err())...)
}

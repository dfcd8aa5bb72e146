package shows

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"emberbeat/timeline"
)

// NotEmptyError says that a new show would land in a folder with other files.
type NotEmptyError struct{ Dir, Found string }

func (e *NotEmptyError) Error() string {
	return fmt.Sprintf("%s: is not empty (it holds %s); name a new or empty folder", e.Dir, e.Found)
}

// Create makes the folder of a new show. The folder may exist if it is empty
// (*NotEmptyError); names with a leading dot do not count.
func Create(dir string, show *timeline.Show) error {
	found, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return &FileError{File: dir, Doing: "used for a show", Err: err}
	}
	for _, e := range found {
		if !hidden(e.Name()) {
			return &NotEmptyError{dir, e.Name()}
		}
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return &FileError{File: dir, Doing: "made", Err: err}
	}
	l, err := Lock(dir)
	if err != nil {
		return err
	}
	defer l.Unlock()
	_, err = SaveTo(OS(dir), show, nil, SaveOptions{})
	return err
}

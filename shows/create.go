package shows

import (
	"fmt"
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
	if err := vacant(dir); err != nil {
		return err
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

package shows

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

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
	if _, err = SaveTo(OS(dir), show, nil, SaveOptions{}); err != nil {
		return err
	}
	if err := Ignore(dir); err != nil {
		return err
	}
	return sureOf(dir)
}

// sureOf waits until the folder of a show that is new is on the disk itself.
func sureOf(dir string) error {
	// Who may not look into the folder above cannot ask.
	if err := OS(filepath.Dir(filepath.Clean(dir))).SyncDir(""); err != nil && !errors.Is(err, fs.ErrPermission) {
		return &FileError{File: dir, Doing: "made sure of", Err: err, Safe: "the show is there, but a power cut may take it away"}
	}
	return nil
}

// ignoreFile tells version control which files come and go while a show is open.
const (
	ignoreFile = ".gitignore"
	ignored    = "# what emberbeat puts here while it works, and takes away again\n" +
		lockFile + "\n" + lockInfoFile + "\n" + pendingFile + "\n.*.new\n"
)

// Ignore puts into the folder of a new show the file that keeps locks and half
// saves out of version control, unless there is one.
func Ignore(dir string) error {
	st := OS(dir)
	if _, err := st.ReadFile(ignoreFile); !errors.Is(err, fs.ErrNotExist) {
		return nil // somebody has thought of it already
	}
	if err := writeBytes(st, ignoreFile, []byte(ignored)); err != nil {
		return &FileError{File: ignoreFile, Doing: "written", Err: err}
	}
	return nil
}

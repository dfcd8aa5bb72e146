package shows

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/user"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
)

// Names of the lock in a show folder. They go when the show is closed.
const (
	lockFile     = ".lock"
	lockInfoFile = ".lock-info"
)

// DirLock says that this program may change a show folder. It ends with
// Unlock, or with the program.
type DirLock struct {
	dir  string
	file *flock.Flock
}

// LockedError says who has a show folder open. What is not known is empty.
type LockedError struct {
	Name  string    `json:"name"`
	Host  string    `json:"host"`
	PID   int       `json:"pid"`
	Since time.Time `json:"since"`
}

func (e *LockedError) Error() string {
	who := "another program"
	if e.Name != "" {
		who = fmt.Sprintf("%s on %s", e.Name, e.Host)
	}
	if !e.Since.IsZero() {
		who += e.Since.Local().Format(" since 15:04 on 2 January")
	}
	return fmt.Sprintf("the show is open: %s has it; close it there, or work on a copy of the folder", who)
}

// Lock takes a show folder for this program, so that no other changes it. It
// does not wait: *LockedError says who has it, *FileError that nobody can.
func Lock(dir string) (*DirLock, error) {
	path := filepath.Join(dir, lockFile)
	if info, err := os.Lstat(path); err == nil && !info.Mode().IsRegular() {
		return nil, &FileError{File: path, Doing: "used as the lock", Err: errors.New("it is a link or no file at all; take it away")}
	}
	for range 10 {
		f := flock.New(path)
		ok, err := f.TryLock()
		if err != nil {
			return nil, &FileError{File: dir, Doing: "locked", Err: err}
		}
		if !ok {
			_ = f.Close()
			return nil, readLockInfo(dir)
		}
		if current(f, path) {
			l := &DirLock{dir, f}
			l.writeInfo()
			return l, nil
		}
		_ = f.Close() // its owner has just taken the file away
	}
	return nil, &FileError{File: dir, Doing: "locked", Err: errors.New("the lock comes and goes; try again")}
}

// current reports whether the locked file is still the one of that name.
func current(f *flock.Flock, path string) bool {
	locked, err1 := f.Stat()
	named, err2 := os.Stat(path)
	return err1 == nil && err2 == nil && os.SameFile(locked, named)
}

// writeInfo says who has the folder. It is a courtesy: failing does no harm.
func (l *DirLock) writeInfo() {
	info := LockedError{PID: os.Getpid(), Since: time.Now().Truncate(time.Second)}
	info.Host, _ = os.Hostname()
	if u, err := user.Current(); err == nil {
		info.Name = u.Username
	}
	if b, err := json.Marshal(info); err == nil {
		_ = writeBytes(OS(l.dir), lockInfoFile, append(b, '\n'))
	}
}

func readLockInfo(dir string) *LockedError {
	e := &LockedError{}
	b, err := OS(dir).ReadFile(lockInfoFile)
	if err == nil && json.Unmarshal(b, e) != nil {
		e = &LockedError{}
	}
	return e
}

// Unlock gives the folder back and takes the lock's files away.
func (l *DirLock) Unlock() {
	_ = os.Remove(filepath.Join(l.dir, lockInfoFile))
	path := filepath.Join(l.dir, lockFile)
	if os.Remove(path) == nil { // while still locked: nobody can have it
		_ = l.file.Close()
		return
	}
	_ = l.file.Close() // some systems remove no open file
	_ = os.Remove(path)
}

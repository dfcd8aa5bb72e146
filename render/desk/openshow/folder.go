package openshow

import (
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"time"
)

// Stamp is what tells one state of a file from another without reading it.
type Stamp struct {
	size int64
	at   time.Time
}

// lookEvery is how often the show's folder is looked at while the window is in use.
const lookEvery = 2 * time.Second

// stamps gives the stamps of a show's text files.
func stamps(dir string) map[string]Stamp {
	list := map[string]Stamp{}
	_ = filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() && filepath.Ext(path) == ".toml" {
			if info, err := e.Info(); err == nil {
				list[path] = Stamp{info.Size(), info.ModTime()}
			}
		}
		return nil // what cannot be looked at is left out, and counts as changed if it could be before
	})
	return list
}

// Watch looks, every now and then, whether another program has changed the show on disk, and reports whether that was found just now.
func (w *Work) Watch(now time.Time) (changed bool) {
	if now.Sub(w.looked) < lookEvery || w.Session.ReadOnly() {
		return false
	}
	w.looked = now
	was := w.disk
	w.NoteDisk()
	changed = was != nil && !maps.Equal(was, w.disk)
	w.ChangedOnDisk = w.ChangedOnDisk || changed
	return changed
}

// NoteDisk takes the show's folder to be as this window knows it.
func (w *Work) NoteDisk() { w.disk = stamps(w.Session.Dir()) }

// StampOf gives the stamp of a file.
func StampOf(info os.FileInfo) Stamp { return Stamp{info.Size(), info.ModTime()} }

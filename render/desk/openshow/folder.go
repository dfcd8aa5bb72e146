package openshow

import (
	"context"
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

// Watch looks, every now and then, whether another program has changed the show on disk; it looks beside the window, since a frame does not wait for a
// disk.
func (w *Work) Watch(now time.Time) {
	if now.Sub(w.looked) < lookEvery || w.Session.ReadOnly() || !w.looking.CompareAndSwap(false, true) {
		return
	}
	w.looked = now
	was, noted := w.disk, w.noted
	w.Beside(func(context.Context) {
		defer w.looking.Store(false)
		is := stamps(w.Session.Dir())
		if was != nil && maps.Equal(was, is) {
			return // no frame is wanted for that
		}
		w.window.Post(func() {
			if noted != w.noted || w.life.Err() != nil {
				return // it was written from here meanwhile
			}
			if w.disk = is; was != nil {
				w.ChangedOnDisk = true
				w.window.Again()
				w.window.Log("changed on disk")
			}
		})
	})
}

// NoteDisk takes the show's folder to be as this window knows it.
func (w *Work) NoteDisk() { w.disk, w.noted = stamps(w.Session.Dir()), w.noted+1 }

// StampOf gives the stamp of a file.
func StampOf(info os.FileInfo) Stamp { return Stamp{info.Size(), info.ModTime()} }

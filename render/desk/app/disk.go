package app

import (
	"io/fs"
	"maps"
	"path/filepath"
	"time"

	"emberbeat/render/widget"
)

// stamp is what tells one state of a file from another without reading it.
type stamp struct {
	size int64
	at   time.Time
}

// lookEvery is how often the show's folder is looked at while the window is in use.
const lookEvery = 2 * time.Second

// stamps gives the stamps of a show's text files.
func stamps(dir string) map[string]stamp {
	list := map[string]stamp{}
	_ = filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() && filepath.Ext(path) == ".toml" {
			if info, err := e.Info(); err == nil {
				list[path] = stamp{info.Size(), info.ModTime()}
			}
		}
		return nil // what cannot be looked at is left out, and counts as changed if it could be before
	})
	return list
}

// watch notices that another program has changed the show on disk.
func (a *App) watch() {
	w := a.work
	if a.now.Sub(w.looked) < lookEvery || w.s.ReadOnly() {
		return
	}
	w.looked = a.now
	now := stamps(w.s.Dir())
	switch {
	case w.disk == nil:
		w.disk = now
	case !maps.Equal(w.disk, now):
		w.disk = now
		w.changedOnDisk = true
		a.again = true
		a.say("changed on disk")
	}
}

// changedBanner offers to read the show again when another program has changed it. Edits that are not saved are kept: they are in the
// journal, and are made again on top of what is read.
func (a *App) changedBanner(k *widget.Stack) {
	if !a.work.changedOnDisk {
		return
	}
	switch a.bannerRow(k, "disk", "Another program has changed this show on disk.", "Go on with this one", "Read it again") {
	case "Go on with this one":
		a.work.changedOnDisk = false
		a.again = true
	case "Read it again":
		a.readAgain()
	}
}

func (a *App) readAgain() {
	dir, song := a.work.s.Dir(), a.work.song
	a.leave()
	a.open(dir)
	if a.work != nil && a.work.shown.Song(song) != nil {
		a.goSong(song)
	}
	a.say("read again")
}

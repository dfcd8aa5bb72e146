package app

import (
	"errors"
	"os"
	"path/filepath"
	"strings"

	"emberbeat/render/desk/disk"
	"emberbeat/render/widget"
)

// browseDialog chooses a file or folder.
type browseDialog struct {
	b    widget.Browser
	disk disk.Disk
	take func(path string)
	left func() // it was left without a choice; may be nil
}

func (d *browseDialog) draw(a *App) bool {
	path, done := a.ui.Browse("browse", &d.b, &d.disk)
	if path != "" {
		a.prefs.Last = d.b.Folder
		a.prefs.Save()
		a.dialog = nil
		d.take(path)
	} else if done && d.left != nil {
		d.left()
	}
	return done
}

// browse opens a browser where it was last, or at home.
func (a *App) browse(want, title, verb string, take func(string)) *browseDialog {
	d := &browseDialog{b: widget.Browser{Title: title, Verb: verb, Folder: a.prefs.Last}, disk: disk.Disk{Want: want, Recent: a.prefs.Recent}, take: take}
	if _, err := os.Stat(d.b.Folder); d.b.Folder == "" || err != nil {
		if home, err := os.UserHomeDir(); err == nil {
			d.b.Folder = home
		}
	}
	a.dialog = d
	return d
}

func (a *App) askOpen() {
	d := a.browse("show", "Open a show", "Open", func(path string) { a.guard(func() { a.open(path) }) })
	d.b.Empty = "Nothing here. A show is a folder with show.toml in it."
}

func (a *App) askNew() {
	d := a.browse("show", "New show", "Make it here", func(path string) {
		a.guard(func() {
			if err := a.newShow(path, filepath.Base(path)); err != nil {
				a.dialog = &errorDialog{title: "The show cannot be made", text: err.Error() + "\n\nNothing was changed."}
			}
		})
	})
	d.b.Save, d.b.Name = true, "my show"
	d.b.Check = func(name string) error {
		switch {
		case strings.TrimSpace(name) == "":
			return errors.New("a show needs a name")
		case strings.ContainsAny(name, `/\:`):
			return errors.New("a name holds no slash, backslash or colon")
		}
		if entries, err := os.ReadDir(filepath.Join(d.b.Folder, name)); err == nil && len(entries) > 0 {
			return errors.New("there is a folder of that name with something in it")
		}
		return nil
	}
}

func (a *App) askAudio() {
	d := a.browse("audio", "Add audio", "Add", a.addSong)
	d.b.Empty = "No folder and no wav, flac, mp3 or ogg file here."
}

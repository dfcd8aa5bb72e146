package app

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"emberbeat/render/widget"
	"emberbeat/shows"
)

// disk is what a browser of files shows of the computer.
type disk struct {
	want    string   // "show", "audio" or "notes"
	endings []string // of other files that can be chosen
	recent  []string
}

// List gives the folders and the files that can be chosen; hidden ones are left out.
func (d *disk) List(folder string) ([]widget.File, error) {
	entries, err := os.ReadDir(folder)
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	if err != nil {
		return nil, err
	}
	var folders, files []widget.File
	for _, e := range entries {
		f := widget.File{Name: e.Name(), Path: filepath.Join(folder, e.Name())}
		info, err := os.Stat(f.Path)
		switch {
		case strings.HasPrefix(e.Name(), ".") || err != nil:
		case info.IsDir():
			f.Folder = true
			if _, err := os.Stat(filepath.Join(f.Path, "show.toml")); err == nil && d.want == "show" {
				f.Kind = "show"
			}
			folders = append(folders, f)
		case d.want == "audio" && shows.IsSound(e.Name()):
			f.Kind = "audio"
			f.Note = info.ModTime().Format("2006-01-02")
			files = append(files, f)
		case slices.Contains(d.endings, strings.ToLower(filepath.Ext(e.Name()))):
			files = append(files, f)
		case d.want == "notes" && strings.HasSuffix(e.Name(), ".json"):
			f.Kind = "notes"
			f.Note = info.ModTime().Format("2006-01-02")
			files = append(files, f)
		}
	}
	return append(folders, files...), nil
}

// Parent gives the folder around a folder.
func (d *disk) Parent(folder string) string {
	up := filepath.Dir(folder)
	if up == folder {
		return ""
	}
	return up
}

// Join gives the path of a name in a folder.
func (d *disk) Join(folder, name string) string { return filepath.Join(folder, name) }

// Places gives the home folder, where the program was started, and the folders around recent shows.
func (d *disk) Places() []widget.File {
	var list []widget.File
	seen := map[string]bool{}
	add := func(name, path string) {
		if path != "" && !seen[path] {
			seen[path] = true
			list = append(list, widget.File{Name: name, Path: path, Folder: true})
		}
	}
	if home, err := os.UserHomeDir(); err == nil {
		add("Home", home)
	}
	if here, err := os.Getwd(); err == nil {
		add("Started in", here)
	}
	for _, r := range d.recent {
		up := filepath.Dir(r)
		add(filepath.Base(up), up)
	}
	return list
}

// browseDialog chooses a file or folder.
type browseDialog struct {
	b    widget.Browser
	disk disk
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
	d := &browseDialog{b: widget.Browser{Title: title, Verb: verb, Folder: a.prefs.Last}, disk: disk{want: want, recent: a.prefs.Recent}, take: take}
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

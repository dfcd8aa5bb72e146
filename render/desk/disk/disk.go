package disk

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

// Disk is what a browser of files shows of the computer.
type Disk struct {
	Want    string   // "show", "audio" or "notes"
	Endings []string // of other files that can be chosen, in small letters
	Recent  []string
}

// List gives the folders and the files that can be chosen; hidden ones are left out.
func (d *Disk) List(folder string) ([]widget.File, error) {
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
			if _, err := os.Stat(filepath.Join(f.Path, "show.toml")); err == nil && d.Want == "show" {
				f.Kind = "show"
			}
			folders = append(folders, f)
		case d.Want == "audio" && shows.IsSound(e.Name()):
			f.Kind = "audio"
			f.Note = info.ModTime().Format("2006-01-02")
			files = append(files, f)
		case slices.Contains(d.Endings, strings.ToLower(filepath.Ext(e.Name()))):
			files = append(files, f)
		case d.Want == "notes" && strings.HasSuffix(e.Name(), ".json"):
			f.Kind = "notes"
			f.Note = info.ModTime().Format("2006-01-02")
			files = append(files, f)
		}
	}
	return append(folders, files...), nil
}

// Parent gives the folder around a folder.
func (d *Disk) Parent(folder string) string {
	up := filepath.Dir(folder)
	if up == folder {
		return ""
	}
	return up
}

// Join gives the path of a name in a folder.
func (d *Disk) Join(folder, name string) string { return filepath.Join(folder, name) }

// Places gives the home folder, where the program was started, and the folders around recent shows.
func (d *Disk) Places() []widget.File {
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
	for _, r := range d.Recent {
		up := filepath.Dir(r)
		add(filepath.Base(up), up)
	}
	return list
}

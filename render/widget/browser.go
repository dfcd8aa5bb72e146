package widget

import (
	"image"
	"slices"
	"strings"

	"emberbeat/render"
)

// File is an entry of a folder.
type File struct {
	Name   string
	Path   string // what Files.List and the caller understand
	Folder bool   // can be gone into
	Kind   string // a word for what it is: "show", "audio"
	Note   string // date, size or why it cannot be read
	Off    string // why it cannot be chosen; "" where it can
}

// Files is where a Browser looks. Its caller decides what exists: all of a disk, or one folder of a test.
type Files interface {
	// List gives what is in a folder, in the order to be shown, or an error that a person can read.
	List(folder string) ([]File, error)
	// Parent gives the folder around a folder, "" at the top.
	Parent(folder string) string
	// Join gives the path of a name in a folder.
	Join(folder, name string) string
	// Places gives folders to begin from: home, recent ones.
	Places() []File
}

// Browser is a panel in which a file or folder is chosen, or a name for a new one. The fields say what for; set Folder before the first frame.
type Browser struct {
	Title  string
	Verb   string // on its button: "Open", "Make show here"
	Folder string
	Name   string // with Save: the name of what is made
	Save   bool
	Empty  string // what to do where a folder is empty
	Multi  bool   // several files can be chosen; Several gives them
	Whole  string // on a button that takes the folder in view itself, "" for none
	Check  func(name string) error

	list   []File
	err    error
	read   string // the folder that list is of, and whether
	fresh  bool   // it was read at all
	sel    Selection
	places Selection
}

// Reload reads the folder again in the next frame.
func (b *Browser) Reload() { b.fresh = false }

// Size of the browser in logical pixels.
const (
	browserWide = 720
	browserHigh = 520
)

// Browse shows b over the window as long as it is called. done says that it was left; path is then what was chosen, "" for nothing.
func (u *UI) Browse(key string, b *Browser, fs Files) (path string, done bool) {
	b.load(fs)
	d := u.BeginDialog(key, b.Title, browserWide, browserHigh)
	if d.Fresh {
		u.Focus(b.first())
	}
	body := u.Stack(d.Body, Gap)
	u.browsePath(b, fs, body.Top(RowHeight))
	if b.Save {
		row := u.Stack(body.Bottom(RowHeight), Gap)
		u.Label(row.Left(120), render.TypeLabel, render.InkSecondary, "Name")
		if e := u.TextField("name", row.Rest(), b.Name, TextSpec{Check: b.Check}); e.Changed || e.Committed {
			b.Name = e.Text
		}
	}
	u.browsePlaces(b, fs, body.Left(150))
	path = u.browseList(b, body.Rest())
	choices := []Choice{{Label: "Cancel"}, {Label: b.Whole}, {Label: b.Verb, Main: true, Off: b.why()}}
	if b.Whole == "" {
		choices = slices.Delete(choices, 1, 2)
	}
	switch used := d.Buttons(choices...); {
	case used == 0:
		done = true
	case used == 1 && b.Whole != "":
		path = b.Folder
		b.sel.Clear()
	case used > 0:
		path = b.choice(fs)
	}
	d.End()
	return path, done || d.Closed || path != ""
}

// first gives what has the focus to begin with.
func (b *Browser) first() string {
	if b.Save {
		return "name"
	}
	return "files"
}

// load reads the folder if it is another than the one shown.
func (b *Browser) load(fs Files) {
	if b.fresh && b.read == b.Folder {
		return
	}
	b.list, b.err = fs.List(b.Folder)
	b.read, b.fresh = b.Folder, true
	b.sel = Selection{}
	if len(b.list) > 0 {
		b.sel.Only(0)
	}
}

// picked gives the file the cursor is on.
func (b *Browser) picked() *File {
	if b.sel.Cursor < len(b.list) && b.sel.Has(b.sel.Cursor) {
		return &b.list[b.sel.Cursor]
	}
	return nil
}

// Several gives the files that were chosen together, once one of them was taken; none where a folder was.
func (b *Browser) Several() []string {
	var list []string
	for _, i := range b.sel.Rows() {
		if i < len(b.list) && !b.list[i].Folder && b.list[i].Off == "" {
			list = append(list, b.list[i].Path)
		}
	}
	return list
}

// why says why the button cannot be used.
func (b *Browser) why() string {
	if b.Save {
		if strings.TrimSpace(b.Name) == "" {
			return "write a name first"
		}
		if b.Check != nil {
			if err := b.Check(b.Name); err != nil {
				return err.Error()
			}
		}
		return ""
	}
	f := b.picked()
	switch {
	case f == nil:
		return "choose one in the list first"
	case f.Off != "":
		return f.Off
	}
	return ""
}

// choice gives what the button chooses; a folder that is nothing else is gone into instead.
func (b *Browser) choice(fs Files) string {
	if b.Save {
		return fs.Join(b.Folder, b.Name)
	}
	f := b.picked()
	if f == nil {
		return ""
	}
	return b.enter(f)
}

// enter goes into a plain folder, or gives the path of anything else that can be chosen.
func (b *Browser) enter(f *File) string {
	switch {
	case f.Folder && f.Kind == "":
		b.Folder = f.Path
	case f.Off == "" && !b.Save:
		return f.Path
	}
	return ""
}

// browsePath draws where the browser is, with a button to the folder around it.
func (u *UI) browsePath(b *Browser, fs Files, r image.Rectangle) {
	row := u.Stack(r, Gap)
	parent, why := fs.Parent(b.Folder), ""
	if parent == "" {
		why = "this is the outermost folder"
	}
	if u.Off(why).Button("up", row.Left(64), "Up") {
		b.Folder = parent
	}
	u.Tip("The folder around this one", "Backspace")
	if why == "" && u.top(u.scope()) && !u.Typing() && u.take(KeyBackspace, 0) {
		b.Folder = parent
	}
	if e := u.TextField("folder", row.Rest(), b.Folder, TextSpec{}); e.Committed {
		b.Folder = e.Text
	}
}

// browsePlaces draws the folders to begin from.
func (u *UI) browsePlaces(b *Browser, fs Files, r image.Rectangle) {
	places := fs.Places()
	spec := TableSpec{
		Columns: u.oneColumn(), Rows: len(places), Empty: "No places yet",
		Cell: func(text []byte, row, _ int) []byte { return append(text, places[row].Name...) },
	}
	e := u.Table("places", r, &b.places, &spec)
	if e.Used || e.Changed && u.in.Pressed != 0 {
		b.Folder = places[b.places.Cursor].Path
	}
}

// browseList draws what is in the folder and gives what was chosen there.
func (u *UI) browseList(b *Browser, r image.Rectangle) (path string) {
	empty := b.Empty
	if b.err != nil {
		empty = "Cannot read this folder: " + b.err.Error() + ". Choose another place at the left, or go up."
	}
	spec := TableSpec{
		Columns: []Column{{Title: "Name"}, {Title: "Kind", Width: 90}, {Title: "Note", Width: 120}}, Rows: len(b.list), Empty: empty, Multi: b.Multi,
		Cell: func(text []byte, row, col int) []byte { return append(text, b.list[row].cell(col)...) },
		Ink: func(row int) render.Ink {
			if b.list[row].Off != "" {
				return render.InkFaint
			}
			return render.InkText
		},
	}
	if e := u.Table("files", r, &b.sel, &spec); e.Used {
		return b.enter(&b.list[e.Row])
	}
	return ""
}

// cell gives the text of a column of the list.
func (f *File) cell(col int) string {
	switch {
	case col == 0:
		return f.Name
	case col == 2:
		return f.Note
	case f.Kind == "" && f.Folder:
		return "folder"
	}
	return f.Kind
}

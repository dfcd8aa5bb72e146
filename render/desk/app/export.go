package app

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/render/widget"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

// exports are the sheets that the window writes; the commands write more.
var exports = []struct {
	name, file string
	write      func(a *App, w io.Writer, song timeline.ID) error
}{
	{"Cue list, CSV", "cue-list.csv", func(a *App, w io.Writer, song timeline.ID) error {
		return a.cueList(song, func(l *sheet.CueList) error { return l.WriteCSV(w) })
	}},
	{"Cue list, text", "cue-list.txt", func(a *App, w io.Writer, song timeline.ID) error {
		return a.cueList(song, func(l *sheet.CueList) error { return l.WriteText(w) })
	}},
	{"Cue list, JSON", "cue-list.json", func(a *App, w io.Writer, song timeline.ID) error {
		return a.cueList(song, func(l *sheet.CueList) error { return l.WriteJSON(w) })
	}},
	{"Picture of the song, PNG", "song.png", func(a *App, w io.Writer, _ timeline.ID) error { return a.picture(w) }},
}

func (a *App) cueList(song timeline.ID, write func(*sheet.CueList) error) error {
	l, err := sheet.NewCueList(a.work.plan, sheet.Filter{Song: song})
	if err != nil {
		return err
	}
	return write(l)
}

// pictureWide is the width of an exported picture in pixels.
const pictureWide = 1920

// picture draws the song in view, whole.
func (a *App) picture(w io.Writer) error {
	if a.work.data == nil {
		return fmt.Errorf("the show has no song to draw")
	}
	sv := render.SongView{Data: a.work.data, Marks: a.work.marks, List: true, Quiet: a.soundState(), Foot: sheet.Caution}
	if s := a.work.sounds[a.work.song]; s != nil && s.peaks.Load() != nil {
		sv.Peaks = s
	}
	sv.Area.Max.X = pictureWide
	sv.Area.Max.Y = render.SongHeight(&sv, render.Unit)
	s := render.NewScene(a.faces)
	s.Reset(sv.Area.Max, render.Unit)
	var d render.SongDrawer
	d.Draw(s, &render.Day, &sv)
	return paper.WritePNG(w, s, &render.Day)
}

// exportDialog chooses a sheet and a file.
type exportDialog struct {
	what int
	all  bool
	open bool // it has been drawn
	file string
	bad  string
}

func (a *App) askExport() {
	dir := filepath.Dir(a.work.s.Dir())
	a.dialog = &exportDialog{all: true, file: filepath.Join(dir, exports[0].file)}
}

func (d *exportDialog) draw(a *App) bool {
	u := a.ui
	b := u.BeginDialog("export", "Export", 560, 286)
	f := u.Form(b.Body, 90)
	var names []string
	for _, e := range exports {
		names = append(names, e.name)
	}
	if now, changed := u.Dropdown("what", f.Row("Sheet"), names, d.what); changed {
		d.what = now
		d.file = filepath.Join(filepath.Dir(d.file), exports[now].file)
	}
	only := "only the song in view"
	why := ""
	if a.work.data == nil {
		why = "the show has no song"
	}
	d.all = !u.Off(why).Checkbox("only", f.Row("Songs"), only, !d.all)
	if !d.open {
		d.open = true
		u.Focus("file") // so that Enter exports
	}
	e := u.TextField("file", f.Row("File"), d.file, widget.TextSpec{Error: d.bad})
	if e.Changed || e.Committed {
		d.file, d.bad = e.Text, ""
	}
	u.Paragraph(f.Rest(), render.TypeSmall, render.InkSecondary, "A sheet says what the plan says now, saved or not. "+sheet.Caution)
	choice := b.Buttons(widget.Choice{Label: "Cancel"}, widget.Choice{Label: "Export", Main: true})
	b.End()
	if choice == 1 || e.Enter {
		if err := d.write(a); err != nil {
			d.bad = err.Error()
			a.fail(err)
			return false
		}
		return true
	}
	return choice == 0 || b.Closed || a.escaped()
}

// write makes the sheet, and the file only once all of it is there.
func (d *exportDialog) write(a *App) error {
	song := timeline.ID("")
	if !d.all {
		song = a.work.song
	}
	var out bytes.Buffer
	if err := exports[d.what].write(a, &out, song); err != nil {
		return err
	}
	beside := d.file + ".new"
	if err := os.WriteFile(beside, out.Bytes(), 0o644); err != nil {
		return err
	}
	if err := os.Rename(beside, d.file); err != nil {
		return err
	}
	a.tell("exported %s", d.file)
	a.say("exported %s", d.file)
	return nil
}

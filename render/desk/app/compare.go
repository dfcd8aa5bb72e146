package app

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"emberbeat/audio"
	"emberbeat/render/desk/keymap"
	"emberbeat/render/desk/openshow"
	"emberbeat/render/widget"
	"emberbeat/shows"
	"emberbeat/shows/report/changed"
	"emberbeat/timeline"
)

// textViewDialog shows lines of text.
type textViewDialog struct {
	title string
	lines []string
	sel   widget.Selection
}

func (d *textViewDialog) draw(a *App) bool {
	u := a.ui
	b := u.BeginDialog("lines", d.title, 760, 480)
	spec := widget.TableSpec{Columns: []widget.Column{{}}, Rows: len(d.lines), Empty: "Nothing differs.",
		Cell: func(t []byte, row, _ int) []byte { return append(t, d.lines[row]...) }}
	u.List("lines", b.Body, &d.sel, &spec)
	choice := b.Buttons(widget.Choice{Label: "Copy"}, widget.Choice{Label: "Close", Main: true})
	b.End()
	if choice == 0 {
		u.Clip.Write(strings.Join(d.lines, "\n"))
	}
	return choice >= 0 || b.Closed
}

// compareRecovered lists what the edits brought back have changed.
func (a *App) compareRecovered() dialog {
	l, err := shows.Load(a.work.Session.Dir())
	if err != nil {
		return &errorDialog{title: "The show on disk cannot be read", text: err.Error()}
	}
	var out bytes.Buffer
	if err := changed.NewList(l.Show, a.work.Session.Show(), timeline.Diff(l.Show, a.work.Session.Show())).WriteText(&out); err != nil {
		return &errorDialog{title: "The edits cannot be listed", text: err.Error()}
	}
	return &textViewDialog{title: "What the unsaved edits change", lines: strings.Split(strings.TrimRight(out.String(), "\n"), "\n")}
}

func (a *App) setDelay(ms int) {
	a.prefs.DelayMS = ms
	a.song.SetDelay(time.Duration(ms) * time.Millisecond)
	a.prefs.Save()
}

func (a *App) noKeysFile() string {
	if a.o.State == "" {
		return "there is no folder to keep it in"
	}
	return ""
}

func (a *App) writeKeys() {
	name := filepath.Join(a.o.State, keymap.File)
	if _, err := os.Stat(name); err == nil {
		a.tell("the keys stand in %s", name)
		return
	}
	err := os.MkdirAll(a.o.State, 0o700)
	if err == nil {
		err = os.WriteFile(name, []byte(a.keys.Write(groups)), 0o600)
	}
	if err != nil {
		a.fail(err)
		return
	}
	a.tell("the keys stand in %s; change them there and start again", name)
}

// askRelink looks in a folder for recordings that are missing, and takes those whose content is the very same.
func (a *App) askRelink() {
	d := a.browse("audio", "Where may the recordings be?", "Look here", nil)
	d.take = func(path string) {
		if info, err := os.Stat(path); err == nil && !info.IsDir() {
			path = filepath.Dir(path)
		}
		a.relink(path)
	}
	d.b.Save, d.b.Name = true, "."
}

// relink finds missing recordings by content and makes the songs point to copies of them in the show's folder.
func (a *App) relink(dir string) {
	w := a.work
	want := map[string]*timeline.Song{}
	for _, s := range w.Show.Songs {
		if s.Audio.Path == "" {
			continue
		}
		if _, err := os.Stat(w.Session.Recording(&s.SongHead)); errors.Is(err, fs.ErrNotExist) && s.Audio.FileHash != "" {
			want[s.Audio.FileHash] = s
		}
	}
	if len(want) == 0 {
		a.tell("no recording is missing")
		return
	}
	a.run("looking for "+timeline.Counted(len(want), "recording"), func(ctx context.Context, progress func(float64)) (func(), error) {
		found, err := findByHash(ctx, dir, want)
		if err != nil {
			return nil, err
		}
		failed := map[string]error{}
		for hash, path := range found {
			if err := w.Session.PutBack(ctx, &want[hash].SongHead, path); err != nil {
				failed[hash] = err
			}
		}
		return func() { a.relinked(w, want, found, failed) }, ctx.Err()
	})
}

// findByHash gives the path of each wanted hash that is found below a folder.
func findByHash(ctx context.Context, dir string, want map[string]*timeline.Song) (map[string]string, error) {
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return nil, fmt.Errorf("%s: no such folder; choose one that is there, nothing was changed", dir)
	}
	found := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil || e.IsDir() || !shows.IsSound(path) || len(found) == len(want) {
			return nil // what cannot be read is passed over
		}
		hash, err := audio.HashFile(ctx, path)
		if err == nil && want[hash] != nil {
			found[hash] = path
		}
		return ctx.Err()
	})
	return found, err
}

// relinked says which recordings are where the show expects them again.
func (a *App) relinked(w *openshow.Work, want map[string]*timeline.Song, found map[string]string, failed map[string]error) {
	n := 0
	for hash := range found {
		if err := failed[hash]; err != nil {
			a.fail(err)
			continue
		}
		delete(w.Sounds, want[hash].ID)
		n++
	}
	w.CheckAgain()
	a.tell("found %d of %s", n, timeline.Counted(len(want), "missing recording"))
	a.say("relinked %d", n)
}

package app

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"emberbeat/render/desk/inspector"
	"emberbeat/render/desk/openshow"
	"emberbeat/shows"
	"emberbeat/shows/example"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// Open opens the show in a folder, or to be looked at one of its older saves, as shows.Named has them. A show that another program has open is
// opened to be looked at as well.
func (a *App) Open(name string) error {
	begun := time.Now()
	o := session.Options{Clock: a.o.Now, Told: a.told}
	dir, save, err := shows.Named(name)
	if err == nil && save != nil {
		o.ReadOnly = true
		if o.Storage, err = save.Storage(); err == nil {
			defer func() {
				a.note = note{text: "this is " + save.String() + ", to be looked at; open the show again to go on"}
			}()
		}
	}
	if err != nil {
		return err
	}
	s, err := session.Open(dir, o)
	var locked *shows.LockedError
	if errors.As(err, &locked) {
		readOnly, err2 := session.Open(dir, session.Options{ReadOnly: true, Clock: a.o.Now, Told: a.told})
		if err2 != nil {
			return err2
		}
		s, err = readOnly, nil
		a.note = note{text: locked.Error() + "; it is open here read-only", bad: true}
		defer func() { a.elsewhere = err == nil }()
	}
	if err != nil {
		return err
	}
	a.leave()
	a.work, a.elsewhere = openshow.New(s, a), false
	a.newPages()
	a.panel, a.book, a.inspector = panels{}, book{}, inspector.New(a)
	a.prefs.Opened(dir)
	a.startNight()
	a.refreshShow()
	a.say("opened %s songs=%d ms=%d", s.Show().Head.Title, len(s.Show().Songs), time.Since(begun).Milliseconds())
	if r := s.Recovered(); r != nil {
		a.say("recovered edits=%d", r.Edits)
	}
	return nil
}

// editCopy copies the folder of a show that another program has open, and opens the copy.
func (a *App) editCopy() {
	from := a.work.Session.Dir()
	to := from + " copy"
	for n := 2; ; n++ {
		if _, err := os.Stat(to); err != nil {
			break
		}
		to = fmt.Sprintf("%s copy %d", from, n)
	}
	if err := os.CopyFS(to, os.DirFS(from)); err != nil {
		a.dialog = &errorDialog{title: "The show cannot be copied", text: err.Error() + "\n\nThe show itself was not touched."}
		return
	}
	a.open(to)
	a.tell("this is a copy, in %s", to)
}

func needElsewhere(a *App) string {
	if why := needShow(a); why != "" {
		return why
	}
	if !a.elsewhere {
		return "no other program has the show open: it can be edited here"
	}
	return ""
}

// refreshShow derives all there is to see of a show that was just opened.
func (a *App) refreshShow() {
	a.work.Refresh()
	a.song.LoadSounds()
	a.again = true
}

// leave closes the open show, if there is one; unsaved edits stay in its journal.
func (a *App) leave() {
	if a.work == nil {
		return
	}
	a.song.Leave()
	a.ribbon.Leave()
	a.gesture = nil
	if err := a.work.Close(); err != nil {
		a.fail(err)
	}
	a.book = book{}
	a.work = nil
}

// Close ends the App; unsaved edits stay in the journal.
func (a *App) Close() {
	a.leave()
	for _, j := range a.jobs {
		j.stop()
	}
	a.song.Close()
}

// open opens a show and says what hinders it.
func (a *App) open(dir string) {
	if err := a.Open(dir); err != nil {
		a.dialog = &errorDialog{title: "The show cannot be opened", text: err.Error() + "\n\nNothing in the folder was changed."}
		a.say("open failed %v", err)
	}
	a.again = true
}

// openExample copies the example into the home folder, unless a copy is there, and opens it.
func (a *App) openExample() {
	a.guard(func() {
		dir, err := exampleDir(a.prefs.Folder)
		if err == nil {
			if _, missing := os.Stat(filepath.Join(dir, "show.toml")); missing != nil {
				err = example.CopyTo(dir)
			}
		}
		if err != nil {
			a.dialog = &errorDialog{title: "The example cannot be copied", text: err.Error()}
			return
		}
		a.open(dir)
	})
}

// exampleDir is where the example is kept: among the user's own files, since it is theirs to change.
func exampleDir(state string) (string, error) {
	home, err := os.UserHomeDir()
	if err != nil {
		if state == "" {
			return "", err
		}
		home = state
	}
	return filepath.Join(home, "emberbeat example"), nil
}

func (a *App) save() {
	err := a.work.Session.Save()
	var changed *shows.ChangedError
	switch {
	case errors.As(err, &changed):
		a.dialog = &overDialog{files: changed.Files}
	case err != nil:
		a.dialog = &errorDialog{title: "The show was not saved", text: err.Error() + "\n\nYour edits are kept and still open here."}
		a.say("save failed %v", err)
	default:
		a.work.NoteDisk()
		a.tell("saved")
		a.say("saved")
	}
}

// guard does something that leaves the open show, after asking about unsaved edits.
func (a *App) guard(then func()) {
	if a.work == nil || !a.work.Session.Dirty() || a.work.Session.ReadOnly() {
		then()
		return
	}
	a.dialog = &leaveDialog{then: then}
	a.again = true
	a.say("asked about unsaved edits")
}

func (a *App) closeShow() { a.guard(func() { a.leave(); a.again = true; a.say("start page") }) }

func (a *App) askQuit() { a.guard(func() { a.quit = true }) }

// CloseAsked is for the window's own way to be closed.
func (a *App) CloseAsked() { a.askQuit() }

// isShow reports whether a path is that of a show's folder or file.
func isShow(path string) bool {
	_, err := os.Stat(filepath.Join(path, "show.toml"))
	return err == nil || filepath.Base(path) == "show.toml"
}

// Drop takes files dropped on the window: a show's folder or file is opened, anything else is added as a song, unless the page in view takes it.
func (a *App) Drop(paths []string) {
	if p := a.inBook(); p != nil && p.Drop != nil && a.dialog == nil && !slices.ContainsFunc(paths, isShow) {
		p.Drop(paths)
		return
	}
	for _, p := range paths {
		info, err := os.Stat(p)
		switch {
		case err != nil:
			a.fail(err)
		case info.IsDir():
			a.guard(func() { a.open(p) })
			return
		case filepath.Base(p) == "show.toml":
			a.guard(func() { a.open(filepath.Dir(p)) })
			return
		default:
			if a.work == nil {
				if err := a.showFor(p); err != nil {
					a.fail(err)
					return
				}
			}
			a.addSong(p)
		}
	}
}

// showFor makes a show in the home folder for a recording that was dropped while none was open, named after it.
func (a *App) showFor(recording string) error {
	name := strings.TrimSuffix(filepath.Base(recording), filepath.Ext(recording))
	first, err := exampleDir(a.prefs.Folder)
	if err != nil {
		return err
	}
	dir := filepath.Join(filepath.Dir(first), name+" show")
	for n := 2; ; n++ {
		if _, err := os.Stat(dir); err != nil {
			break
		}
		dir = filepath.Join(filepath.Dir(first), fmt.Sprintf("%s show %d", name, n))
	}
	return a.newShow(dir, name)
}

// addSong adds a song from a file beside the window.
func (a *App) addSong(path string) {
	if why := needEdit(a); why != "" {
		a.fail(fmt.Errorf("%s: %s, then drop the file again", filepath.Base(path), why))
		return
	}
	w := a.work
	a.run("listening to "+filepath.Base(path), func(ctx context.Context, progress func(float64)) (func(), error) {
		known := len(w.Session.RecordingWarnings())
		id, err := w.Session.AddSong(ctx, path, "", progress)
		if err != nil {
			return nil, err
		}
		warnings := w.Session.RecordingWarnings()[known:]
		return func() {
			if a.work == w {
				w.Refresh()
				a.song.GoSong(id)
				a.note = note{text: strings.Join(append([]string{"add song"}, warnings...), ": ")}
				a.say("added song %s", id)
			}
		}, nil
	})
}

// newShow makes a show and opens it: empty, or with a small invented stock and rig where that is ticked.
func (a *App) newShow(dir, title string) error {
	show := timeline.NewShow(shows.NewID(), title, timeline.Rate25)
	if !a.prefs.Bare {
		var err error
		if show, err = shows.WithStarterRig(show); err != nil {
			return err
		}
	}
	if err := shows.Create(dir, show); err != nil {
		return err
	}
	return a.Open(dir)
}

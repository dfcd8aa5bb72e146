package app

import (
	"fmt"
	"strconv"
	"time"

	"emberbeat/render/widget"
	"emberbeat/shows"
	"emberbeat/shows/report/changed"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// askSaves lets one of the older saves be chosen.
func (a *App) askSaves() {
	s := a.work.Session
	list, err := session.Saves(s.Dir(), s.Saved())
	switch {
	case err != nil:
		a.fail(err)
	case len(list.Saves) == 0:
		a.tell("nothing has been saved over this show on this computer yet")
	default:
		a.dialog = &savesDialog{list: list}
	}
}

// savesDialog lists the older saves.
type savesDialog struct {
	p    widget.Palette
	list *changed.SaveList
}

func (d *savesDialog) draw(a *App) bool {
	var rows []widget.Command
	for i := range d.list.Saves {
		s := &d.list.Saves[i]
		rows = append(rows, widget.Command{ID: strconv.Itoa(s.Number), Label: s.At(time.Local) + "  " + s.Said(),
			Place: timeline.Counted(s.Songs, "song") + ", " + timeline.Counted(s.Cues, "cue"), Off: s.Problem})
	}
	id, done := a.ui.Palette("saves", &d.p, "What the show was before each save", rows)
	if n, err := strconv.Atoi(id); done && err == nil {
		a.dialog = &saveDialog{line: d.list.Saves[n-1]}
	}
	return done || a.escaped()
}

// saveDialog asks what is to be done with one.
type saveDialog struct{ line changed.SaveLine }

func (d *saveDialog) draw(a *App) bool {
	q := widget.Question{Title: "The show before the save of " + d.line.At(time.Local),
		Text:    fmt.Sprintf("%s, %s. That save changed: %s. Restoring is an edit like any other: it can be undone, and what is saved now is kept.", timeline.Counted(d.line.Songs, "song"), timeline.Counted(d.line.Cues, "cue"), d.line.Said()),
		Choices: []widget.Choice{{Label: "Look at it"}, {Label: "Cancel"}, {Label: "Restore", Main: true}}}
	choice, ok := a.ui.Ask("save", q)
	if !ok {
		return false
	}
	name := a.work.Session.Dir() + "@" + strconv.Itoa(d.line.Number)
	switch choice {
	case 0:
		a.guard(func() { a.open(name) })
	case 2:
		a.restore(name, d.line)
	}
	return true
}

// restore makes the show what it was in a save.
func (a *App) restore(name string, line changed.SaveLine) {
	if why := needEdit(a); why != "" {
		a.tell("%s", why)
		return
	}
	_, save, err := shows.Named(name)
	if err != nil || save == nil {
		a.fail(err)
		return
	}
	old, err := save.Load()
	if err != nil {
		a.fail(err)
		return
	}
	a.Do("restore the show before the save of "+line.At(time.Local), timeline.Toward(old.Show))
}

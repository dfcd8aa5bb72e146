package app

import (
	"time"

	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/prefs"
	"emberbeat/timeline"
)

// What the song page needs of the frame.

// Work gives the open show, nil while none is.
func (a *App) Work() *openshow.Work { return a.work }

// Prefs gives what is remembered of the user.
func (a *App) Prefs() *prefs.Prefs { return &a.prefs }

// Now gives the moment of the frame.
func (a *App) Now() time.Time { return a.now }

// Keep makes a change that was tried.
func (a *App) Keep(t *openshow.Attempt) bool { return a.keep(t) }

// Fail says what went wrong.
func (a *App) Fail(err error) { a.fail(err) }

// Beside shows a record in the inspector, or leaves it to what is selected.
func (a *App) Beside(r timeline.Ref) {
	if r.Kind != "" {
		a.inspect(r)
		return
	}
	a.panel.records, a.panel.record = false, r
}

// OpenDialog puts a dialog over the window.
func (a *App) OpenDialog(draw func() (left bool)) { a.dialog = &drawn{draw} }

// drawn is a dialog of the song page.
type drawn struct{ f func() (left bool) }

func (d *drawn) draw(*App) bool { return d.f() }

// Tip explains what a command does.
func (a *App) Tip(command string) { a.ui.Tip(a.byID(command).help, a.key(command)) }

// Has reports whether there is a command.
func (a *App) Has(command string) bool { return a.byID(command) != nil }

// Help says what a command does.
func (a *App) Help(command string) string { return upper(a.byID(command).help) }

// Logging reports whether anybody reads what Log is told.
func (a *App) Logging() bool { return a.o.Debug != nil }

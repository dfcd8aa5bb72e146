package song

import (
	"time"

	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/prefs"
	"emberbeat/timeline"
)

// Host is what the song page needs of the frame around it, beside what every page needs.
type Host interface {
	page.Host
	openshow.Window

	// Work is the open show, nil while none is; Prefs is what is remembered of the user; Now is the moment of the frame.
	Work() *openshow.Work
	Prefs() *prefs.Prefs
	Now() time.Time
	// Keep makes a change that was tried: the very show that was looked at. Where it is refused, it says why and gives false.
	Keep(t *openshow.Attempt) bool
	// Fail says what went wrong, nothing where nothing did.
	Fail(err error)
	// Beside shows a record in the inspector; an empty reference leaves it to what is selected.
	Beside(r timeline.Ref)
	// OpenDialog puts a dialog over the window: draw shows it and reports whether it has been left.
	OpenDialog(draw func() (left bool))
	// Tip explains, on the control drawn last, what a command does.
	Tip(command string)
	// Has reports whether there is a command, and Help says what it does.
	Has(command string) bool
	Help(command string) string
	// Logging reports whether anybody reads what Log is told.
	Logging() bool
}

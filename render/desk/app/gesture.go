package app

import (
	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
)

// start begins a gesture. Its change of the show is provisional until it is done: it is applied to the snapshot it began with, anew each
// frame; what was tried is still shown while it is done, and dropped after it.
func (a *App) start(g page.Gesture) {
	a.gesture = g
	g.Move(&a.in)
}

// drive moves the gesture on, and ends it.
func (a *App) drive(held widget.Buttons) {
	g := a.gesture
	switch {
	case g == nil:
		return
	case a.ui.Take(widget.KeyEscape, a.in.Mods):
		a.gesture = nil
		a.drop()
		g.Cancel()
		a.say("gesture cancelled")
	case a.in.Down&held == 0:
		g.Move(&a.in)
		a.gesture = nil
		g.Done()
		a.drop()
	default:
		g.Move(&a.in)
		if a.book.at == "" {
			return // the song page draws itself anew, and the rest comes after it
		}
	}
	a.again = true
}

// keep makes a change that was tried: the very show that was looked at.
func (a *App) keep(t *openshow.Attempt) bool {
	if t.Tried == nil {
		return a.Do(t.Label, t.Edits...) // which says what is wrong with it
	}
	return a.did(t.Label, a.work.Session.Keep(t.Label, t.Tried))
}

// drop forgets what was only shown.
func (a *App) drop() {
	if a.work != nil {
		a.work.Drop()
	}
}

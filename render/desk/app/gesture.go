package app

import (
	"emberbeat/render/desk/work"
	"emberbeat/render/widget"
)

// gesture is what a held pointer does. Its change of the show is provisional until it is done: it is applied to the snapshot it began
// with, anew each frame.
type gesture interface {
	// move follows the pointer and the modifiers.
	move(a *App, in *widget.Input)
	// done makes the change. What was tried is still shown, and dropped after it.
	done(a *App)
	// cancel leaves everything as it was.
	cancel(a *App)
	// help says what the modifiers do.
	help() string
}

// begun starts a gesture.
func (a *App) start(g gesture) {
	a.gesture = g
	g.move(a, &a.in)
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
		g.cancel(a)
		a.say("gesture cancelled")
	case a.in.Down&held == 0:
		g.move(a, &a.in)
		a.gesture = nil
		g.done(a)
		a.drop()
	default:
		g.move(a, &a.in)
	}
	a.again = true
}

// try shows a change without making it.
func (a *App) try(c change) *work.Attempt {
	t, err := a.work.Try(c.label, c.edits...)
	if err != nil {
		a.Warn(err.Error())
	}
	return t
}

// keep makes a change that was tried: the very show that was looked at.
func (a *App) keep(t *work.Attempt) bool {
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

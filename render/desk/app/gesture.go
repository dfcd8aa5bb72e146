package app

import (
	"emberbeat/render/widget"
	"emberbeat/shows/session"
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

// attempt is a change that was tried: shown, or asked about, and not made.
type attempt struct {
	change
	tried *session.Tried // nil where it cannot be made
}

// try shows a change without making it.
func (a *App) try(c change) *attempt {
	t, err := a.work.s.Try(c.edits...)
	if err != nil {
		a.note = note{text: err.Error(), bad: true}
		return &attempt{change: c}
	}
	a.work.tried = t.Show
	a.work.refresh()
	return &attempt{c, t}
}

// keep makes a change that was tried: the very show that was looked at.
func (a *App) keep(t *attempt) bool {
	if t.tried == nil {
		return a.do(t.change) // which says what is wrong with it
	}
	return a.did(t.label, a.work.s.Keep(t.label, t.tried))
}

// drop forgets what was only shown.
func (a *App) drop() {
	if a.work != nil && a.work.tried != nil {
		a.work.tried = nil
		a.work.refresh()
	}
}

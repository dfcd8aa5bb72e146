package app

import (
	"emberbeat/render/widget"
)

// gesture is what a held pointer does. Its change of the show is provisional until it is done: it is applied to the snapshot it began
// with, anew each frame.
type gesture interface {
	// move follows the pointer and the modifiers.
	move(a *App, in *widget.Input)
	// done makes the change.
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
		a.drop()
		g.done(a)
	default:
		g.move(a, &a.in)
	}
	a.again = true
}

// try shows a change without making it.
func (a *App) try(c change) {
	show, err := a.work.s.Show().Edit(c.edits...)
	if err != nil {
		a.note = note{text: err.Error(), bad: true}
		return
	}
	a.work.trial = show
	a.work.refresh()
}

// drop forgets what was only shown.
func (a *App) drop() {
	if a.work != nil && a.work.trial != nil {
		a.work.trial = nil
		a.work.refresh()
	}
}

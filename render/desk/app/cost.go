package app

import (
	"time"

	"emberbeat/render/desk/cost"
	"emberbeat/render/desk/ribbon"
)

// worked counts a frame that was begun at a moment, when it is made.
func (a *App) worked(from time.Time) { a.cost.Worked(from, time.Now()) }

// Painted counts a frame that was painted from a moment on.
func (a *App) Painted(from time.Time) { a.cost.Painted(from, time.Now()) }

// toggleCost shows what frames cost, or hides it. Nothing is drawn more often for that: while nothing changes, the figures stand still.
func (a *App) toggleCost() {
	a.counting = !a.counting
	a.say("counters %v", a.counting)
}

// drawCost draws these figures over the page.
func (a *App) drawCost() {
	if !a.counting {
		return
	}
	s := a.scenes.moving
	r := s.Bounds()
	r.Min.Y, r.Max.Y = r.Min.Y+s.Px(barHeight+ribbon.Height), r.Max.Y-s.Px(statusHeight)
	var b cost.Beside
	if a.work != nil {
		b = cost.Beside(a.work.Session.Effort())
	}
	a.cost.Draw(s, r, time.Now(), b)
}

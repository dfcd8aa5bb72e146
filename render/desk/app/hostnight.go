package app

import (
	"image"

	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
	"emberbeat/timeline"
)

// ChooseNight plans for a night.
func (a *App) ChooseNight(id timeline.ID) { a.goNight(id) }

// NightChoice draws the choice of one.
func (a *App) NightChoice(r image.Rectangle) { a.nightChoice(r) }

// Tonight gives the sheet of the plan in view, and why it cannot be made.
func (a *App) Tonight() (*night.Tonight, error) {
	return a.work.Tonight()
}

// Prints says how the sheets of the night stand to what was printed last.
func (a *App) Prints() []report.PrintState { return a.work.Prints() }

package app

import (
	"image"

	"emberbeat/render"
	"emberbeat/render/desk/page/findings"
)

// findingList lists the findings of the whole plan by their causes, below every page.
func (a *App) findingList(r image.Rectangle) {
	a.ground(r)
	a.ui.Group("findings")
	s := a.ui.Scene()
	s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+s.Px(1)), render.InkBar)
	a.listed().Draw(a.ui.Inset(r, 6), true)
}

// listed gives the list of findings.
func (a *App) listed() *findings.List { return a.families[findingFamily].State.(*findings.List) }

func (a *App) toggleFindings() { a.panel.list = !a.panel.list }

func (a *App) toggleSide() {
	a.prefs.Side = !a.prefs.Side
	a.prefs.Save()
}

func (a *App) showRecords() {
	a.panel.records = !a.panel.records
	a.panel.side = sideInspector
	if a.panel.records && a.prefs.Side {
		a.toggleSide()
	}
}

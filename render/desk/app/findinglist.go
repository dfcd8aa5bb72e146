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
	a.listed().Draw(a.ui.Inset(r, 6))
}

// listed gives the list of findings.
func (a *App) listed() *findings.List { return a.families[findingFamily].State.(*findings.List) }

func (a *App) toggleFindings() { a.panel.list = !a.panel.list }

// dockOver reports whether the window is so narrow that the dock lies over the page.
func (a *App) dockOver() bool { return a.size.X*100/int(a.Scale()) < slimWindow }

func (a *App) toggleSide() {
	if a.dockOver() {
		a.panel.over = !a.panel.over
		return
	}
	a.prefs.Side = !a.prefs.Side
	a.prefs.Save()
}

// openDock brings the dock into view.
func (a *App) openDock() {
	if !a.dockShown() {
		a.toggleSide()
	}
}

func (a *App) dockShown() bool {
	if a.dockOver() {
		return a.panel.over
	}
	return !a.prefs.Side
}

func (a *App) showRecords() {
	if a.panel.records = !a.panel.records; a.panel.records {
		a.openDock()
	}
}

package app

// factors are the sizes of the interface in percent.
var factors = []int{80, 90, 100, 110, 125, 150, 175, 200, 225, 250}

func (a *App) resize(n int) {
	at := 0
	for i, f := range factors {
		if f <= a.prefs.Factor {
			at = i
		}
	}
	a.prefs.Factor = factors[min(max(at+n, 0), len(factors)-1)]
	a.prefs.Save()
	a.say("factor %d", a.prefs.Factor)
}

func (a *App) stepTheme() {
	if p := a.inBook(); p != nil && p.Night {
		a.nightStep++
		a.say("theme %s", a.Theme().Name)
		return
	}
	a.prefs.Theme = (a.prefs.Theme + 1) % len(themes)
	a.prefs.Save()
	a.say("theme %s", a.Theme().Name)
}

// dim makes the theme Night darker or brighter by so many percent.
func (a *App) dim(by int) {
	a.prefs.Dim = min(max(a.prefs.Dim+by, 20), 100)
	a.prefs.Save()
	a.say("dim %d", a.prefs.Dim)
}

func (a *App) toggleFull() {
	a.full = !a.full
	a.say("full screen %v", a.full)
}

// panelTaken is for keys that the controls themselves take; as commands they stand in menus and help.
func (a *App) panelTaken() {}

package app

import (
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// told gives a show in the units that the user reads on the screen; sheets keep the show's own.
func (a *App) told(s *timeline.Show) *timeline.Show {
	u, err := units.ParseSystem(a.prefs.Units)
	if err != nil {
		return s.ToldItsOwn()
	}
	return s.ToldIn(u)
}

// readIn chooses the units of the screen: one of the systems, or "" for those of the show.
func (a *App) readIn(word string) {
	if a.prefs.Units == word {
		return
	}
	a.prefs.Units = word
	a.prefs.Save()
	if a.work != nil {
		a.work.Session.Tell(a.told)
		a.work.Drop()
		a.refreshShow()
	}
	a.say("units %s", word)
}

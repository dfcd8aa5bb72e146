package app

import (
	"emberbeat/shows/calls"
	"emberbeat/timeline"
)

// What pages need of the shell about what is heard.

// Clock gives the song in view, its time that is heard or stands at the playhead, and whether it plays.
func (a *App) Clock() (song timeline.ID, at timeline.Time, plays bool) {
	return a.work.Song, a.song.Heard(), a.song.Plays()
}

// Still reports whether motion is reduced.
func (a *App) Still() bool { return a.prefs.Still }

// Said gives the sentence in the status bar that says why something was refused.
func (a *App) Said() string {
	if a.note.bad {
		return a.note.text
	}
	return ""
}

// AddCall adds a line to the log of the night in view.
func (a *App) AddCall(e calls.Entry) error {
	return calls.Add(a.work.Session.Dir(), a.work.Plan.Night, e)
}

// Calls gives the log of the night in view.
func (a *App) Calls() ([]calls.Entry, error) {
	return calls.Read(a.work.Session.Dir(), a.work.Plan.Night)
}

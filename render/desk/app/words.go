package app

import (
	"emberbeat/timeline"
)

// change is an edit of the show under the name that undo tells.
type change struct {
	label string
	edits []timeline.Edit
}

// needSong asks for a song in view, as the song page says it.
func needSong(a *App) string { return a.song.NeedSong() }

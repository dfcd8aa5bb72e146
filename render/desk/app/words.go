package app

import (
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
)

// change is an edit of the show under the name that undo tells.
type change struct {
	label string
	edits []timeline.Edit
}

func counted(n int, noun string) string { return page.Counted(n, noun) }

// needSong asks for a song in view, as the song page says it.
func needSong(a *App) string { return a.song.NeedSong() }

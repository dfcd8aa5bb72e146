package song

import "emberbeat/render/desk/page"

// Reasons why a command cannot be used; "" means that it can.

// NeedSong asks for a song in view.
func (sp *Page) NeedSong() string {
	switch {
	case sp.work() == nil:
		return "open a show first"
	case sp.work().Data == nil:
		return "the show has no song yet: drop an audio file on the window"
	}
	return ""
}

// NeedSongEdit asks for one of a show that can be changed.
func (sp *Page) NeedSongEdit() string {
	if why := page.NeedEdit(sp.h); why != "" {
		return why
	}
	return sp.NeedSong()
}

func (sp *Page) needCues() string {
	if why := sp.NeedSongEdit(); why != "" {
		return why
	}
	if len(sp.work().View().Selected) == 0 {
		return "select a cue first"
	}
	return ""
}

func (sp *Page) needSelection() string {
	if why := sp.NeedSong(); why != "" {
		return why
	}
	if len(sp.work().View().Selected) == 0 {
		return "select a cue first"
	}
	return ""
}

func (sp *Page) needLane() string {
	if why := sp.NeedSong(); why != "" {
		return why
	}
	if sp.work().LaneAt(sp.work().View().Focus) < 0 {
		return "the song has no lane in focus: choose one with ↑ and ↓"
	}
	return ""
}

func (sp *Page) needLaneEdit() string {
	if why := sp.NeedSongEdit(); why != "" {
		return why
	}
	return sp.needLane()
}

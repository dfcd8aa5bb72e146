package app

import "emberbeat/render/widget"

// changedBanner offers to read the show again when another program has changed it. Edits that are not saved are kept: they are in the
// journal, and are made again on top of what is read.
func (a *App) changedBanner(k *widget.Stack) {
	if !a.work.ChangedOnDisk {
		return
	}
	switch a.bannerRow(k, "disk", "Another program has changed this show on disk.", "Go on with this one", "Read it again") {
	case "Go on with this one":
		a.work.ChangedOnDisk = false
		a.again = true
	case "Read it again":
		a.readAgain()
	}
}

func (a *App) readAgain() {
	dir, song := a.work.Session.Dir(), a.work.Song
	a.leave()
	a.open(dir)
	if a.work != nil && a.work.Show.Song(song) != nil {
		a.song.GoSong(song)
	}
	a.say("read again")
}

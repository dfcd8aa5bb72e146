package app

import (
	"context"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/shows/arrival"
	"emberbeat/timeline"
)

// What pages of the book need of recordings that arrive.

// Arrivals gives a desk that compares recordings with those of the open show.
func (a *App) Arrivals() *arrival.Desk { return arrival.At(a.work.Session) }

// Meanwhile does work beside the window for the show that is open.
func (a *App) Meanwhile(name string, work func(context.Context, func(float64)) (func(), error), ended func(error)) {
	w := a.work
	a.run(name, func(ctx context.Context, progress func(float64)) (func(), error) {
		then, err := guarded(ctx, work, progress)
		a.post(func() {
			if a.work == w {
				ended(err)
			}
		})
		return func() {
			if a.work == w && then != nil {
				then()
			}
		}, err
	})
}

// Loudness gives how loud a song's recording is, or why that is not known.
func (a *App) Loudness(song timeline.ID) (levels []uint8, why string) { return a.work.Loudness(song) }

// ChooseRecordings lets files, or a folder of them, be chosen.
func (a *App) ChooseRecordings(title, verb string, take func([]string)) {
	d := a.browse("audio", title, verb, nil)
	d.b.Multi, d.b.Whole = true, "All in this folder"
	d.b.Empty = "No folder and no wav, flac, mp3 or ogg file here."
	d.take = func(path string) {
		list := d.b.Several()
		if len(list) == 0 {
			list = []string{path}
		}
		take(list)
	}
}

// ChooseFile lets a file be chosen whose name has one of the endings.
func (a *App) ChooseFile(title, verb string, endings []string, take func(string)) {
	d := a.browse("", title, verb, take)
	d.disk.Endings = endings
	d.b.Empty = "No folder and no file here whose name ends in " + strings.Join(endings, ", ") + "."
}

// Made says of a step that was made beside the window that it is there.
func (a *App) Made(label string) {
	a.did(label, nil)
	a.work.CheckAgain()
}

// Hear lets stretches of recordings be heard one after the other.
func (a *App) Hear(list ...page.Stretch) { a.song.Hear(list...) }

// Hearing gives the stretch that is heard now, or waited for.
func (a *App) Hearing() int { return a.song.Hearing() }

// HearingAt gives the instant of that stretch's recording that is heard.
func (a *App) HearingAt() (timeline.Time, bool) { return a.song.HearingAt() }

package app

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"emberbeat/render/desk/openshow"
	"emberbeat/render/widget"
	"emberbeat/shows/arrival"
	"emberbeat/timeline/operation"
)

// askCarry chooses a new recording, compares it with those of the show by what is heard, and says what carrying its song over comes to.
func (a *App) askCarry(*operation.Operation) {
	a.browse("audio", "Which new recording?", "Compare", func(path string) { a.compareRecording(path) })
}

// compareRecording listens to a recording that arrived. Nothing is changed until somebody has seen what it comes to.
func (a *App) compareRecording(path string) {
	w := a.work
	a.run("comparing "+filepath.Base(path), func(ctx context.Context, progress func(float64)) (func(), error) {
		desk := arrival.At(w.Session)
		list, err := desk.Look(ctx, []string{path}, arrival.Options{Progress: func(_ string, part float64) { progress(part) }})
		if err != nil {
			return nil, err
		}
		if err := list[0].Err(); err != nil {
			return nil, fmt.Errorf("%s: %w", filepath.Base(path), err)
		}
		r, err := desk.Report(ctx, list)
		if err != nil {
			return nil, err
		}
		var text bytes.Buffer
		if err := r.WriteText(&text); err != nil {
			return nil, err
		}
		return func() {
			if a.work == w {
				a.dialog = &carryDialog{work: w, desk: desk, arrived: list[0], lines: strings.Split(strings.TrimRight(text.String(), "\n"), "\n")}
				a.say("compared %s", filepath.Base(path))
			}
		}, nil
	})
}

// carryDialog says worst first what carrying a song over comes to, and does it.
type carryDialog struct {
	work    *openshow.Work
	desk    *arrival.Desk
	arrived *arrival.Arrival
	lines   []string
	sel     widget.Selection
}

func (d *carryDialog) draw(a *App) bool {
	u := a.ui
	b := u.BeginDialog("carry", "Carry over to "+filepath.Base(d.arrived.File), 960, 560)
	u.List("carry-lines", b.Body, &d.sel, &widget.TableSpec{Columns: []widget.Column{{}}, Rows: len(d.lines), Cell: func(t []byte, row, _ int) []byte { return append(t, d.lines[row]...) }})
	choices := []widget.Choice{{Label: "Close"}}
	switch d.arrived.Verdict {
	case arrival.Carries:
		choices = append(choices, widget.Choice{Label: "Carry over", Main: true})
	case arrival.NoSong:
		choices = append(choices, widget.Choice{Label: "Add as a new song", Main: true})
	}
	choice := b.Buttons(choices...)
	b.End()
	if choice == 1 {
		a.carryOver(d)
	}
	return choice >= 0 || b.Closed
}

// carryOver makes what the dialog has shown, as one step.
func (a *App) carryOver(d *carryDialog) {
	if why := needEdit(a); why != "" {
		a.fail(fmt.Errorf("%s: %s", filepath.Base(d.arrived.File), why))
		return
	}
	w := d.work
	a.run("bringing in "+filepath.Base(d.arrived.File), func(ctx context.Context, _ func(float64)) (func(), error) {
		song, err := d.desk.Accept(ctx, d.arrived)
		if err != nil {
			return nil, err
		}
		return func() {
			if a.work == w {
				delete(w.Sounds, song)
				w.Refresh()
				w.CheckAgain()
				a.song.GoSong(song)
				a.note = note{text: "carried over to " + filepath.Base(d.arrived.File), undo: true}
				a.say("carried over %s", song)
			}
		}, nil
	})
}

package app

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"time"

	"emberbeat/shows"
	"emberbeat/shows/mvr"
	"emberbeat/timeline"
	drawing "emberbeat/timeline/drawn"
	"emberbeat/timeline/operation"
)

// stockRead is the show whose stock was last asked for, so that it is read once while other things are typed in a form.
type stockRead struct {
	from string
	show *timeline.Show
	err  error
}

// stockOf gives the show whose stock is taken.
func (a *App) stockOf(from string) (*timeline.Show, error) {
	r := &a.stockRead
	if r.show == nil && r.err == nil || r.from != from {
		*r = stockRead{from: from}
		dir := from
		if from == operation.StarterStock {
			dir = ""
		}
		r.show, r.err = stockFrom(dir)
	}
	if r.err != nil {
		return nil, &timeline.ValueError{Field: "folder", Value: from, Want: r.err.Error()}
	}
	return r.show, nil
}

// drawingRead is the drawing that was last asked for, so that it is read once while other things are typed in a form, and anew once its file is another.
type drawingRead struct {
	file    string
	size    int64
	changed time.Time
	drawing *drawing.Drawing
	err     error
}

// drawnIn gives the drawing in a file.
func (a *App) drawnIn(file string) (*drawing.Drawing, error) {
	file = fromHome(file)
	is := drawingRead{file: file}
	if info, err := os.Stat(file); err == nil {
		is.size, is.changed = info.Size(), info.ModTime()
	}
	r := &a.drawingRead
	if r.file != is.file || r.size != is.size || !r.changed.Equal(is.changed) {
		is.drawing, is.err = mvr.ReadFile(file)
		*r = is
	}
	if r.err != nil {
		return nil, &timeline.ValueError{Field: "file", Value: file, Want: r.err.Error()}
	}
	return r.drawing, nil
}

// fromHome puts the user's folder in the place of a ~.
func fromHome(path string) string {
	if rest, ok := strings.CutPrefix(path, "~/"); ok {
		if home, err := os.UserHomeDir(); err == nil {
			return filepath.Join(home, rest)
		}
	}
	return path
}

// stockFrom reads the stock of a show's folder; "" is the starter stock.
func stockFrom(dir string) (*timeline.Show, error) {
	if dir == "" {
		stock, err := shows.Starter()
		if err != nil {
			return nil, err
		}
		return timeline.NewShow("starter", "Starter stock", timeline.Rate25).Edit(timeline.AddStock(stock))
	}
	dir = fromHome(dir)
	if _, err := os.Stat(dir); err != nil {
		return nil, errors.New("is no folder that can be read; write the folder of a show, in which show.toml lies")
	}
	l, err := shows.Load(dir)
	if err != nil {
		return nil, err
	}
	return l.Show, nil
}

package app

import (
	"errors"
	"os"

	"emberbeat/render/desk/fromfile"
	"emberbeat/shows"
	"emberbeat/timeline"
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

// stockFrom reads the stock of a show's folder; "" is the starter stock.
func stockFrom(dir string) (*timeline.Show, error) {
	if dir == "" {
		stock, err := shows.Starter()
		if err != nil {
			return nil, err
		}
		return timeline.NewShow("starter", "Starter stock", timeline.Rate25).Edit(timeline.AddStock(stock))
	}
	dir = fromfile.Home(dir)
	if _, err := os.Stat(dir); err != nil {
		return nil, errors.New("is no folder that can be read; write the folder of a show, in which show.toml lies")
	}
	l, err := shows.Load(dir)
	if err != nil {
		return nil, err
	}
	return l.Show, nil
}

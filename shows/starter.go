package shows

import (
	"embed"
	"io/fs"
	"sync"

	"emberbeat/timeline"
)

//go:embed starter
var starterFiles embed.FS

// starterStock reads the embedded folder once.
var starterStock = sync.OnceValues(func() (*timeline.Stock, error) {
	folder, err := fs.Sub(starterFiles, "starter")
	if err != nil {
		return nil, err
	}
	l, err := LoadFrom(FS(folder))
	if err != nil {
		return nil, err
	}
	return l.Show.Stock, nil
})

// Starter gives a stock to begin with: an article of every family and some
// device and bank types, all invented and marked so. It stands as text in the
// folder starter beside this file.
func Starter() (*timeline.Stock, error) { return starterStock() }

// Package example holds the example show as files inside the program, so that
// a newcomer has something to hear, check and print before making a show.
//
// Its one rule: the show is invented from end to end (artist, tour, songs,
// venue, rig) and the files here are the whole of it. Folder score holds the
// text the songs are made from.
package example

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"emberbeat/shows"
)

//go:embed show
var files embed.FS

// FS gives the example show's folder: what would be the root of a show on disk.
func FS() fs.FS {
	sub, err := fs.Sub(files, "show")
	if err != nil {
		panic(err) // only a name that is no valid path fails here
	}
	return sub
}

// CopyTo writes the example show into dir, which it makes if it is missing; it is on
// the disk when it returns.
// A folder that holds anything at all is refused and left as it is, since the
// example must not mix with somebody's show.
func CopyTo(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return fmt.Errorf("example show: %w", err)
	case len(entries) > 0:
		return fmt.Errorf("example show: folder %s is not empty; name a new or an empty folder", dir)
	}
	err = os.MkdirAll(dir, 0o755)
	if err == nil {
		err = shows.CopyTree(shows.OS(dir), FS())
	}
	if err != nil {
		return fmt.Errorf("example show: copy to %s: %w", dir, err)
	}
	return nil
}

package fromfile

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"time"

	"emberbeat/render"
	"emberbeat/shows/mvr"
	"emberbeat/shows/picture"
	"emberbeat/timeline"
	"emberbeat/timeline/drawn"
	"emberbeat/timeline/operation"
)

// Reader reads files, and keeps of each kind the one that was last asked for. Its zero value has read none.
type Reader struct {
	drawing kept[*drawn.Drawing]
	looked  kept[timeline.PlanPicture]
	under   struct {
		dir  string
		of   timeline.PlanPicture
		kept *render.Underlay
	}
}

// kept is what was read of a file while it was of a size and day.
type kept[T any] struct {
	file    string
	page    int
	size    int64
	changed time.Time
	read    T
	err     error
}

// of gives what a file holds, read anew once it is another. An error is one of the argument "file".
func (k *kept[T]) of(file string, page int, read func(file string) (T, error)) (T, error) {
	file = Home(file)
	is := kept[T]{file: file, page: page}
	if info, err := os.Stat(file); err == nil {
		is.size, is.changed = info.Size(), info.ModTime()
	}
	if k.file != is.file || k.page != is.page || k.size != is.size || !k.changed.Equal(is.changed) {
		is.read, is.err = read(file)
		*k = is
	}
	if k.err != nil {
		var none T
		return none, &timeline.ValueError{Field: "file", Value: file, Want: k.err.Error()}
	}
	return k.read, nil
}

// Drawing gives the drawing in a file, as operation.At.Drawn does.
func (r *Reader) Drawing(file string) (*drawn.Drawing, error) {
	return r.drawing.of(file, 0, mvr.ReadFile)
}

// Picture looks at a picture in a file, as operation.At.Pictured does.
func (r *Reader) Picture(file string, page int) (timeline.PlanPicture, error) {
	return r.looked.of(file, page, func(file string) (timeline.PlanPicture, error) {
		p, err := picture.ReadFile(context.Background(), file, page)
		if err != nil {
			return timeline.PlanPicture{}, err
		}
		return p.Plan(), nil
	})
}

// Under gives the picture of a venue from the folder of a show, ready to be drawn; nil where the venue has none. What cannot be read says why in
// its place.
func (r *Reader) Under(dir string, p timeline.PlanPicture) *render.Underlay {
	if p.File == "" {
		return nil
	}
	if u := &r.under; u.kept == nil || u.dir != dir || u.of != p { // a name never stands for two pictures
		u.dir, u.of = dir, p
		if m, err := picture.Load(dir, p); err != nil {
			u.kept = &render.Underlay{Picture: p, Missing: err.Error()}
		} else {
			u.kept = render.NewUnderlay(m, p)
		}
	}
	return r.under.kept
}

// Keep puts the picture that an operation has laid under a stage plan into the folder of a show.
func (r *Reader) Keep(dir string, a *operation.VenuePicture) error {
	r.under.kept = nil
	if a.File == "" || a.Off {
		return nil
	}
	p, err := picture.ReadFile(context.Background(), Home(a.File), a.Page)
	if err != nil {
		return err
	}
	return p.Keep(dir)
}

// Home puts the user's folder in the place of a ~.
func Home(path string) string {
	if rest, ok := strings.CutPrefix(path, "~/"); ok {
		if home, err := os.UserHomeDir(); err == nil {
			return filepath.Join(home, rest)
		}
	}
	return path
}

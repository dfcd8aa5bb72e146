package paper

import (
	"errors"
	"fmt"
	"image"
	"io"

	"emberbeat/render"
)

// Picture says how a song's picture is made.
type Picture struct {
	View  render.SongView // Data, Peaks, Marks, Limit and what else is wanted; Area is set here
	Theme *render.Theme   // nil = render.Day
	Width int             // logical pixels, 0 = DefaultWidth
	Scale render.Scale    // 0 = render.Unit
}

// Widths of a picture in logical pixels.
const (
	DefaultWidth = 1920
	MinWidth     = 480
)

// SongPicture draws a song: all of it unless the view names a part, as wide as asked and as high as its lanes need, with the list of
// findings and the legend.
func SongPicture(faces *render.Faces, p Picture) (*image.RGBA, error) {
	s, err := p.Scene(faces)
	if err != nil {
		return nil, err
	}
	return Image(s, p.theme()), nil
}

// WriteSong writes SongPicture as PNG.
func WriteSong(w io.Writer, faces *render.Faces, p Picture) error {
	s, err := p.Scene(faces)
	if err != nil {
		return err
	}
	return WritePNG(w, s, p.theme())
}

// WriteSongSVG writes what WriteSong draws as SVG.
func WriteSongSVG(w io.Writer, faces *render.Faces, p Picture) error {
	s, err := p.Scene(faces)
	if err != nil {
		return err
	}
	return WriteSVG(w, s, p.theme(), p.View.Data.Plan.Song.FullTitle())
}

// Scene gives the picture's scene.
func (p *Picture) Scene(faces *render.Faces) (*render.Scene, error) {
	if p.View.Data == nil {
		return nil, errors.New("picture of a song: no song given")
	}
	width, scale := p.Width, p.Scale
	if width == 0 {
		width = DefaultWidth
	}
	if scale == 0 {
		scale = render.Unit
	}
	if width < MinWidth || scale < 50 || scale > 400 || scale.Px(width) > MaxSide {
		return nil, fmt.Errorf("picture of %d pixels at %d %%: the width must be %d pixels or more, the scale 50 to 400 %%, and both together at most %d pixels",
			width, scale, MinWidth, MaxSide)
	}
	v := p.View
	v.List = true
	v.Area = image.Rect(0, 0, scale.Px(width), 0)
	v.Area.Max.Y = render.SongHeight(&v, scale)
	s := render.NewScene(faces)
	s.Reset(v.Area.Size(), scale)
	var d render.SongDrawer
	d.Draw(s, p.theme(), &v)
	return s, nil
}

func (p *Picture) theme() *render.Theme {
	if p.Theme == nil {
		return &render.Day
	}
	return p.Theme
}

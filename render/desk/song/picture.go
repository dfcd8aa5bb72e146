package song

import (
	"fmt"

	"emberbeat/render"
	"emberbeat/shows/report"
)

// pictureWide is the width of an exported picture in pixels.
const pictureWide = 1920

// Picture draws the song in view, whole.
func (sp *Page) Picture() (*render.Scene, error) {
	if sp.work().Data == nil {
		return nil, fmt.Errorf("the show has no song to draw")
	}
	sv := render.SongView{Data: sp.work().Data, Marks: sp.work().Marks, List: true, Quiet: sp.SoundState(), Foot: report.Caution}
	if s := sp.work().Sounds[sp.work().Song]; s != nil && s.Drawn() != nil {
		sv.Peaks = s
	}
	sv.Area.Max.X = pictureWide
	sv.Area.Max.Y = render.SongHeight(&sv, render.Unit)
	s := sp.scene.Another()
	s.Reset(sv.Area.Max, render.Unit)
	var d render.SongDrawer
	d.Draw(s, &render.Day, &sv)
	return s, nil
}

package app

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/paper"
)

// picture draws the window as it is on paper: the same scenes, in the same order, as on screen.
func (h *hand) picture() *image.RGBA {
	s := render.NewScene(h.a.faces)
	s.Reset(h.size, h.a.Scale())
	layers := []*render.Scene{h.frame.Song, h.frame.Panels, h.frame.Moving}
	if h.frame.Below {
		layers = []*render.Scene{h.frame.Song, h.frame.Moving, h.frame.Panels}
	}
	for _, l := range layers {
		if l != nil {
			s.Append(l)
		}
	}
	return paper.Image(s, h.frame.Theme)
}

// Pictures of the window in each theme, of its start page and of a small one. EMBERBEAT_PICTURES names a folder to write them into, for
// the documents.
func TestWindowPictures(t *testing.T) {
	dir := os.Getenv("EMBERBEAT_PICTURES")
	take := func(h *hand, name string) {
		h.until(func() bool { return h.a.work == nil || h.a.work.Marks != nil && h.sound().Ready })
		h.step()
		img := h.picture()
		require.Equal(t, h.size, img.Rect.Size())
		inks := map[[3]uint8]int{}
		for i := 0; i < len(img.Pix); i += 4 {
			inks[[3]uint8(img.Pix[i:i+3])]++
		}
		require.Greater(t, len(inks), 20, "%s is hardly drawn", name)
		if dir == "" {
			return
		}
		require.NoError(t, os.MkdirAll(dir, 0o755))
		f, err := os.Create(filepath.Join(dir, name+".png"))
		require.NoError(t, err)
		defer f.Close()
		require.NoError(t, png.Encode(f, img))
	}
	take(newHand(t), "window-start")
	h := withExample(t)
	require.NoError(t, h.a.song.GoTo("17.1"))
	h.a.Use("zoom-song")
	h.move(image.Pt(-1, -1))
	for _, name := range []string{"window-dark", "window-night", "window-day"} {
		take(h, name)
		h.a.Use("theme")
	}
	h.key("F8")
	take(h, "window-findings")
	h.a.panel.list = false
	h.size = image.Pt(1366, 768)
	take(h, "window-small")
	h.size, h.scale = image.Pt(420, 300), 100
	take(h, "window-tiny")
	h.size, h.scale = image.Pt(2160, 1350), 150
	take(h, "window-factor-1.5")
}

// writePicture writes a picture into a file.
func writePicture(t *testing.T, path string, img image.Image) {
	t.Helper()
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	f, err := os.Create(path)
	require.NoError(t, err)
	defer f.Close()
	require.NoError(t, png.Encode(f, img))
}

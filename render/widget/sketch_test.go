package widget

import (
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
)

// The pixels that one letter of a sketch stands for.
const cellX, cellY = 7, 14

// sketch draws a scene with letters, so that a person can read in a text file what stands on the screen: edges as lines, double where they are
// the focus, ▌ for the bar of a chosen row, • for small lines such as ticks and arrow heads.
func sketch(s *render.Scene) string {
	w, h := (s.Size.X+cellX-1)/cellX, (s.Size.Y+cellY-1)/cellY
	grid := make([][]rune, h)
	for y := range grid {
		grid[y] = []rune(strings.Repeat(" ", w))
	}
	put := func(x, y int, r rune) {
		if x >= 0 && y >= 0 && x < w && y < h {
			grid[y][x] = r
		}
	}
	clip := s.Bounds()
	for i := range s.Shapes {
		sh := &s.Shapes[i]
		switch sh.Kind {
		case render.KindClip:
			clip = sh.Box
		case render.KindRect:
			sketchRect(sh, put)
		case render.KindText:
			x, y := sh.Box.Min.X/cellX, (sh.Box.Min.Y+sh.Box.Max.Y)/2/cellY
			for n, r := range []rune(string(s.Label(sh))) {
				if image.Pt(sh.Box.Min.X+n*cellX/2, (sh.Box.Min.Y+sh.Box.Max.Y)/2).In(clip) {
					put(x+n, y, r)
				}
			}
		case render.KindLine:
			put((sh.Box.Min.X+sh.Box.Max.X)/2/cellX, (sh.Box.Min.Y+sh.Box.Max.Y)/2/cellY, '•')
		}
	}
	var b strings.Builder
	for _, line := range grid {
		b.WriteString(strings.TrimRight(string(line), " ") + "\n")
	}
	return b.String()
}

// sketchRect draws edges, and clears what a large fill hides.
func sketchRect(sh *render.Shape, put func(x, y int, r rune)) {
	box, across, down := sh.Box, '─', '│'
	if sh.Ink == render.InkFocus {
		across, down = '═', '║'
		if sh.Box.Dx() == 3 {
			down = '▌'
		}
	}
	switch {
	case sh.Cover < 255:
	case box.Dy() <= 2 && box.Dx() >= cellX:
		for x := box.Min.X / cellX; x <= (box.Max.X-1)/cellX; x++ {
			put(x, box.Min.Y/cellY, across)
		}
	case box.Dx() <= 3 && box.Dy() >= cellY:
		for y := box.Min.Y / cellY; y <= (box.Max.Y-1)/cellY; y++ {
			put(box.Min.X/cellX, y, down)
		}
	case box.Dx() >= 4*cellX && box.Dy() >= cellY:
		for y := (box.Min.Y + cellY - 1) / cellY; y < box.Max.Y/cellY; y++ {
			for x := (box.Min.X + cellX - 1) / cellX; x < box.Max.X/cellX; x++ {
				put(x, y, ' ')
			}
		}
	}
}

// golden compares text with testdata/name; EMBERBEAT_UPDATE=1 writes the file anew, to be read before it is committed.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if os.Getenv("EMBERBEAT_UPDATE") == "1" {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
		return
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	wants, gots := strings.Split(string(want), "\n"), strings.Split(got, "\n")
	for i := range min(len(wants), len(gots)) {
		if wants[i] != gots[i] {
			t.Errorf("%s:%d\nwant %s\ngot  %s", path, i+1, wants[i], gots[i])
		}
	}
	require.Len(t, gots, len(wants))
}

package frame

import (
	"fmt"
	"image"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool" // the seed of random walks
)

// row gives n songs of three minutes, the nth in view, in a row of a width.
func row(n, now, width int) *Tiles {
	t := &Tiles{Area: image.Rect(100, 5, 100+width, 34), Now: now, Over: -1, Drop: -1}
	for i := range n {
		t.List = append(t.List, Tile{ID: fmt.Sprint("song", i), Number: fmt.Sprint(i + 1), Title: fmt.Sprint("Song number ", i+1), Word: "1 error", Flag: true, Length: 180 * timeline.Second})
	}
	return t
}

func draw(t *Tiles, scale render.Scale) *render.Scene {
	s := render.NewScene(render.NewFaces())
	s.Reset(image.Pt(4000, 100), scale)
	t.Draw(s)
	return s
}

func words(s *render.Scene) string {
	var list []string
	for i := range s.Shapes {
		if sh := &s.Shapes[i]; sh.Kind == render.KindText {
			list = append(list, string(s.Label(sh)))
		}
	}
	return strings.Join(list, "|")
}

// Whatever the row, tiles follow each other 4 apart, are found where they stand, hold their words, and the one in view can be scrolled into sight.
func TestTilesHoldTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 40).Draw(t, "songs")
		now := -1
		if n > 0 {
			now = rapid.IntRange(0, n-1).Draw(t, "now")
		}
		r := row(n, now, rapid.IntRange(60, 2500).Draw(t, "width"))
		for i := range r.List {
			r.List[i].Length = timeline.Time(rapid.IntRange(0, 900).Draw(t, "seconds")) * timeline.Second
		}
		scale := render.Scale(rapid.SampledFrom([]int{80, 100, 150, 250}).Draw(t, "scale"))
		r.Scroll = rapid.IntRange(0, 3000).Draw(t, "scroll")
		r.Scroll = r.Shown(scale)
		boxes, width := r.Place(scale)
		for i, b := range boxes {
			if b.Dx() < scale.Px(slimTile) && b.Dx() < r.Area.Dx() {
				t.Fatalf("tile %d is %v", i, b)
			}
			if i > 0 && b.Min.X != boxes[i-1].Max.X+scale.Px(tileGap) {
				t.Fatalf("tile %d at %v follows %v", i, b, boxes[i-1])
			}
		}
		if n > 0 && n <= manyTiles && (r.Area.Dx()-scale.Px(tileGap)*(n-1))/n >= scale.Px(leastTile) && width > r.Area.Dx() {
			t.Fatalf("%d tiles take %d of %d", n, width, r.Area.Dx())
		}
		if now >= 0 {
			if b := boxes[now].Sub(image.Pt(r.Scroll, 0)); !b.In(r.Area) {
				t.Fatalf("the song in view stands at %v of %v", b, r.Area)
			}
		}
		s := draw(r, scale)
		for _, h := range s.Hits {
			if i := r.At(scale, h.Grip.Min.Add(h.Grip.Max).Div(2)); i < 0 && h.Area.Overlaps(r.Area) {
				t.Fatalf("nothing is found at %v", h)
			}
		}
		for i := range s.Shapes {
			sh := &s.Shapes[i]
			if sh.Kind == render.KindText && !(sh.Box.Min.X >= r.Area.Min.X-r.Scroll) {
				t.Fatalf("%q at %v", s.Label(sh), sh.Box)
			}
		}
	})
}

// By their lengths, as far as titles can be read; of more than twelve all but the one in view show their numbers alone.
func TestTilesAreAsWideAsSongsAreLong(t *testing.T) {
	r := row(3, 1, 700)
	r.List[2].Length *= 2
	boxes, width := r.Place(render.Unit)
	require.LessOrEqual(t, width, 700)
	require.Greater(t, boxes[2].Dx(), boxes[0].Dx())
	require.Equal(t, boxes[0].Dx(), boxes[1].Dx())
	require.Contains(t, words(draw(r, render.Unit)), "1|1 error|Song number 1|2|")

	many := row(13, 4, 1200)
	boxes, _ = many.Place(render.Unit)
	require.Equal(t, []int{slimTile, nowTile, slimTile}, []int{boxes[3].Dx(), boxes[4].Dx(), boxes[5].Dx()})
	require.Contains(t, words(draw(many, render.Unit)), "4|5|1 error|Song number 5|6|")
}

// A row makes no garbage once its memory is there, and marks how far the song is played.
func TestPlayedTile(t *testing.T) {
	r := row(5, 2, 900)
	s := draw(r, render.Unit)
	require.Zero(t, testing.AllocsPerRun(5, func() {
		s.Reset(s.Size, render.Unit)
		r.Played(s, 0.5)
	}))
	boxes, _ := r.Place(render.Unit)
	bar := s.Shapes[len(s.Shapes)-2]
	require.Equal(t, render.InkText, bar.Ink)
	require.InDelta(t, boxes[2].Dx()/2, bar.Box.Dx(), 1)
}

// Where a dragged song would go follows the middle of the tiles.
func TestGapOfTiles(t *testing.T) {
	r := row(4, 0, 800)
	boxes, _ := r.Place(render.Unit)
	require.Equal(t, 0, r.Gap(render.Unit, boxes[0].Min.X))
	require.Equal(t, 1, r.Gap(render.Unit, boxes[0].Max.X))
	require.Equal(t, 4, r.Gap(render.Unit, boxes[3].Max.X))
}

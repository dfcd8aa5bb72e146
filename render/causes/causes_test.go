package causes

import (
	"fmt"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/render/paper"
	_ "emberbeat/timeline/testtool" // the seed of random walks
)

// some gives cards with words of a length, every second of them open.
func some(n, lines int, long string) []Card {
	var list []Card
	for i := range n {
		lines := lines
		if i == 3 {
			lines = 0
		}
		c := Card{Severity: render.Severity(i % 3), Title: "Jets are asked again before they are ready " + long, Text: "12 in songs 1, 2, 8", Cause: "recovery is 1.50 s " + long, Button: i%3 != 2,
			Note: []string{"12 of 12", ""}[i/3%2], Songs: []float64{0, 0.2, 0.55}, Marks: []float64{0.1, 0.12, 1}, Slim: i == 3, Opens: lines > 0, Open: lines > 0 && i%2 == 0, Chosen: i == 1}
		for k := range lines {
			c.Lines = append(c.Lines, Line{Song: "1 Slow Matches " + long, Where: "14.3 · 01:00:27:14", Text: "moves 484 ms later " + long, Tick: Tick(k % 3), Chosen: k == 2, Faint: k == 3})
		}
		list = append(list, c)
	}
	return list
}

// Whatever is told at whatever size: cards stand below each other without a gap too many, everything of a card inside it, and no text on another.
func TestCardsKeepApart(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		scale := rapid.SampledFrom([]render.Scale{80, 100, 150, 200, 250}).Draw(rt, "scale")
		size := image.Pt(rapid.IntRange(300, 2600).Draw(rt, "width"), 3000)
		cards := some(rapid.IntRange(0, 6).Draw(rt, "cards"), rapid.IntRange(0, 5).Draw(rt, "lines"), strings.Repeat("long words ", rapid.IntRange(0, 20).Draw(rt, "words")))
		s := render.NewScene(render.NewFaces())
		s.Reset(size, scale)
		area := image.Rect(20, 30, size.X-20, 40)
		boxes, high := Place(scale, area, cards)
		Draw(s, cards, boxes)
		y := area.Min.Y
		for i := range boxes {
			b := &boxes[i]
			require.Equal(rt, y, b.All.Min.Y)
			require.Equal(rt, []int{area.Min.X, area.Max.X}, []int{b.All.Min.X, b.All.Max.X})
			for _, r := range append(append([]image.Rectangle{b.Head, b.Button, b.Foot}, b.Lines...), b.Ticks...) {
				require.True(rt, r.In(b.All), "%v of %v", r, b.All)
			}
			require.False(rt, b.Button.Overlaps(b.text))
			require.Equal(rt, cards[i].Button, !b.Button.Empty())
			require.Equal(rt, cards[i].Open, !b.Foot.Empty())
			y = b.All.Max.Y + scale.Px(between)
		}
		if len(boxes) > 0 {
			require.Equal(rt, boxes[len(boxes)-1].All.Max.Y-area.Min.Y, high)
		}
		var texts []image.Rectangle
		for i := range s.Shapes {
			sh := &s.Shapes[i]
			if sh.Kind != render.KindText || string(s.Label(sh)) == "…" || len(s.Label(sh)) == 1 {
				continue
			}
			d := sh.Box.Dy() / 5
			box := image.Rect(sh.Box.Min.X, sh.Box.Min.Y+d, sh.Box.Max.X, sh.Box.Max.Y-d)
			in := false
			for k := range boxes {
				in = in || box.In(boxes[k].All) && !box.Overlaps(boxes[k].Button)
			}
			require.True(rt, in, "%q leaves its card: %v", s.Label(sh), box)
			for _, other := range texts {
				require.False(rt, box.Overlaps(other), "%q lies on another text", s.Label(sh))
			}
			texts = append(texts, box)
		}
	})
}

// Each thing that can be pressed is found where it stands, with the places of card and line.
func TestPlacesOfACardAreFound(t *testing.T) {
	cards := some(3, 4, "")
	s := render.NewScene(render.NewFaces())
	s.Reset(image.Pt(1300, 900), 100)
	boxes, _ := Place(100, image.Rect(10, 10, 1290, 900), cards)
	Draw(s, cards, boxes)
	at := func(r image.Rectangle) string {
		h, ok := s.At(r.Min.Add(r.Max).Div(2))
		require.True(t, ok)
		return fmt.Sprint(h.Kind, " ", h.ID)
	}
	require.Equal(t, "cause 1", at(boxes[1].text))
	require.Equal(t, "found tick 2 1", at(boxes[2].Ticks[1]))
	require.Empty(t, boxes[2].Ticks[0], "no tick")
	line := boxes[2].Lines[0]
	line.Min.X += 300
	require.Equal(t, "found 2 0", at(line))
	require.Empty(t, boxes[1].Lines, "it is closed")
}

// Pictures to look at, by EMBERBEAT_PICTURES: cards at three widths, in each theme.
func TestPictures(t *testing.T) {
	for _, th := range render.Themes() {
		for _, wide := range []int{620, 1000, 1400} {
			cards := some(4, 4, "and so on")
			s := render.NewScene(render.NewFaces())
			s.Reset(image.Pt(wide, 640), 100)
			boxes, _ := Place(100, image.Rect(10, 10, wide-10, 640), cards)
			Draw(s, cards, boxes)
			require.Greater(t, len(s.Shapes), 50)
			dir := os.Getenv("EMBERBEAT_PICTURES")
			if dir == "" {
				continue
			}
			f, err := os.Create(filepath.Join(dir, fmt.Sprintf("causes-%s-%d.png", th.Name, wide)))
			require.NoError(t, err)
			require.NoError(t, paper.WritePNG(f, s, &th))
			require.NoError(t, f.Close())
		}
	}
}

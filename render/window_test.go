package render

import (
	"fmt"
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// The words of windows on one lane that lie over each other end where the next begins, wherever the view begins.
func TestWordsOfWindowsKeepApart(t *testing.T) {
	var more []timeline.Record
	for i := range 30 {
		more = append(more, rec("cue", fmt.Sprintf("arm-%d", i), func(c *timeline.Cue) {
			c.Lane, c.At, c.Note = "arm", bar(1+i*2, int64(i%3)), fmt.Sprintf("arm %d, long words", i)
		}))
	}
	d := demoShow(t, 64, more...)
	words := 0
	for _, show := range []Span{{0, 128 * sec}, {0, 20 * sec}, {30 * sec, 44 * sec}} {
		s, _ := drawSong(&SongView{Data: d, Area: image.Rect(0, 0, 1400, 900), Show: show, LaneHeight: 40}, Unit)
		var boxes []image.Rectangle
		clip := s.Bounds()
		for i := range s.Shapes {
			sh := &s.Shapes[i]
			if sh.Kind == KindClip {
				clip = sh.Box
			}
			if sh.Kind != KindText || len(s.Label(sh)) < 5 || string(s.Label(sh)[:4]) != "arm " {
				continue
			}
			words++
			box := sh.Box.Intersect(clip)
			for _, b := range boxes {
				require.False(t, b.Overlaps(box), "%q at %v lies over another", s.Label(sh), box)
			}
			boxes = append(boxes, box)
		}
	}
	require.Greater(t, words, 5, "some are read")
}

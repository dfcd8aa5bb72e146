package cost

import (
	"image"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
)

var noon = time.Date(2026, 1, 1, 12, 0, 0, 0, time.UTC)

// ms counts frames that each took so many milliseconds, 20 ms apart, and gives the moment after the last.
func ms(c *Counter, took ...int) time.Time {
	at := noon
	for _, n := range took {
		at = at.Add(20 * time.Millisecond)
		c.Worked(at.Add(-time.Duration(n)*time.Millisecond), at)
	}
	return at
}

// The worst frame counts for five seconds, the last one until there is another.
func TestWorstOfTheLastSeconds(t *testing.T) {
	var c Counter
	require.Equal(t, Of{}, c.Work(noon))
	at := ms(&c, 2, 9, 3, 4)
	require.Equal(t, Of{4 * time.Millisecond, 9 * time.Millisecond}, c.Work(at))
	require.Equal(t, Of{4 * time.Millisecond, 9 * time.Millisecond}, c.Work(at.Add(Span-40*time.Millisecond)))
	require.Equal(t, Of{4 * time.Millisecond, 4 * time.Millisecond}, c.Work(at.Add(Span-10*time.Millisecond)), "9 and 3 are too long ago")
	require.Equal(t, Of{}, c.Work(at.Add(Span+time.Millisecond)))
	require.Equal(t, Of{}, c.Paint(at), "nothing was painted")
}

// More frames than are remembered push the oldest out.
func TestManyFrames(t *testing.T) {
	var c Counter
	at := noon
	for i := range 2 * kept {
		at = at.Add(time.Millisecond)
		took := time.Millisecond
		if i == kept-1 {
			took = 50 * time.Millisecond
		}
		c.Painted(at.Add(-took), at)
	}
	require.Equal(t, Of{time.Millisecond, time.Millisecond}, c.Paint(at))
}

// The figures stand inside their area and make no garbage once they were drawn.
func TestFiguresAreDrawn(t *testing.T) {
	var c Counter
	at := ms(&c, 2, 12)
	s := render.NewScene(render.NewFaces())
	area := image.Rect(0, 0, 1200, 600)
	for _, scale := range []render.Scale{100, 250} {
		draw := func() {
			s.Reset(image.Pt(1200, 600), scale)
			c.Draw(s, area, at, Beside{3, 2, 1204 * time.Microsecond, 40 * time.Millisecond})
		}
		draw()
		var said []string
		var boxes []image.Rectangle
		for i := range s.Shapes {
			if sh := &s.Shapes[i]; sh.Kind == render.KindText {
				said = append(said, string(s.Label(sh)))
				require.True(t, sh.Box.In(area), "%q at %v", s.Label(sh), sh.Box)
				for k, other := range boxes {
					require.False(t, sh.Box.Inset(s.Px(2)).Overlaps(other.Inset(s.Px(2))), "%q over %q", said[len(said)-1], said[k])
				}
				boxes = append(boxes, sh.Box)
			}
		}
		text := strings.Join(said, "|")
		for _, want := range []string{"frame made in|12.00 ms, at most 12.00 ms in 5 s", "painted in|0.00 ms", "plan compiled in|1.20 ms, 3 times", "rules asked in|40.00 ms, 2 times", "garbage|"} {
			require.Contains(t, text, want)
		}
		require.Zero(t, testing.AllocsPerRun(20, draw))
	}
}

// What was allocated is told by the frame: a hundred frames that each leave a quarter of a megabyte show it.
func TestGarbageIsCounted(t *testing.T) {
	var g garbage
	g.look(noon, 0)
	var hold []byte
	for range 100 {
		hold = make([]byte, 256<<10)
	}
	require.Len(t, hold, 256<<10)
	g.look(noon.Add(lookEvery/2), 100)
	require.Zero(t, g.each, "not looked at so soon")
	g.look(noon.Add(lookEvery), 100)
	require.GreaterOrEqual(t, g.each, uint64(256<<10))
}

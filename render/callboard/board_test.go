package callboard

import (
	"image"
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/render/front"
	"emberbeat/render/paper"
	"emberbeat/shows"
	"emberbeat/shows/example"
	"emberbeat/shows/report/calling"
	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool"
)

const (
	ms  = timeline.Millisecond
	sec = timeline.Second
)

// exampleBoard gives the board of a song of the example's first night.
func exampleBoard(t testing.TB, at int) (*calling.Board, *front.Stage) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "show")
	require.NoError(t, example.CopyTo(dir))
	l, err := shows.Load(dir)
	require.NoError(t, err)
	var night *timeline.Night
	if n := l.Show.NightsInOrder(); len(n) > 0 {
		night = n[0]
	}
	p := timeline.Compile(l.Show, night)
	require.Greater(t, len(p.Songs), at)
	return calling.New(p, at), front.New(p, p.Songs[at].SongPlan)
}

// scene draws a board at a moment.
func scene(b *calling.Board, st *front.Stage, size image.Point, scale render.Scale, at timeline.Time, k *calling.Marks, fill func(*View)) *render.Scene {
	s := render.NewScene(render.NewFaces())
	s.Reset(size, scale)
	var m calling.Moment
	b.Look(&m, at, k)
	v := View{Area: image.Rectangle{Max: size}, Board: b, Moment: &m, Marks: k, Stage: st, Running: true, Source: "from the desk's own playback", Keys: "Esc: back to the song"}
	if fill != nil {
		fill(&v)
	}
	var d Drawer
	d.Draw(s, &render.Night, &v)
	return s
}

func words(s *render.Scene) (list []string) {
	for i := range s.Shapes {
		if s.Shapes[i].Kind == render.KindText {
			list = append(list, string(s.Label(&s.Shapes[i])))
		}
	}
	return list
}

// What always stands does stand: at each moment, held or not, stopped or not, at
// each size; and nothing reads as clearance.
func TestAlwaysStands(t *testing.T) {
	b, st := exampleBoard(t, 0)
	held := &calling.Marks{}
	held.Hold(20 * sec)
	for _, size := range []image.Point{{1024, 600}, {1366, 768}, {1920, 1080}, {3840, 2160}} {
		for _, k := range []*calling.Marks{{}, held} {
			for _, runs := range []bool{true, false} {
				for at := timeline.Time(0); at < b.Song.Duration; at += 17 * sec {
					text := strings.Join(words(scene(b, st, size, 100, at, k, func(v *View) { v.Running = runs })), "\n")
					require.Contains(t, text, Standing, "%v", size)
					require.Contains(t, text, "Arms, as planned")
					lower := strings.ToLower(text)
					for _, word := range []string{"clear", "safe", "ready", "✓", "go!"} {
						require.NotContains(t, lower, word)
					}
				}
			}
		}
	}
	require.Contains(t, words(scene(b, st, image.Pt(1920, 1080), 100, 0, held, nil)), Standing)
}

// While no clock runs, or the show is held, nothing is counted down.
func TestNoCountdownWithoutAClock(t *testing.T) {
	b, st := exampleBoard(t, 0)
	at := b.Cues[3].Command - 1640*ms
	size := image.Pt(1920, 1080)
	running := words(scene(b, st, size, 100, at, &calling.Marks{}, nil))
	require.Contains(t, running, "1.7", "rounded up, so that it does not come to nought before its command")
	stopped := words(scene(b, st, size, 100, at, &calling.Marks{}, func(v *View) { v.Running, v.Stopped = false, "playback stopped here" }))
	require.NotContains(t, stopped, "1.7")
	require.Contains(t, stopped, "–")
	require.Contains(t, stopped, "playback stopped here")
	k := &calling.Marks{}
	k.Hold(at - sec)
	heldWords := words(scene(b, st, size, 100, at, k, nil))
	require.NotContains(t, heldWords, "1.7")
	require.Contains(t, strings.Join(heldWords, "\n"), "HELD since")
	require.Contains(t, strings.Join(heldWords, "\n"), "on release")
}

// The countdown in words, at and around its turns.
func TestCountdown(t *testing.T) {
	for _, c := range []struct {
		in   timeline.Time
		want string
	}{{0, "0.0"}, {1, "0.1"}, {100 * ms, "0.1"}, {1640 * ms, "1.7"}, {9900 * ms, "9.9"}, {9901 * ms, "10"}, {10 * sec, "10"}, {10001 * ms, "11"}, {99 * sec, "99"}, {125 * sec, "2:05"}} {
		d := Drawer{v: &View{Running: true}, m: &calling.Moment{}}
		require.Equal(t, c.want, string(d.countdown(nil, c.in)), "%s", c.in)
	}
}

// By night less than a twentieth of the view is bright: of a relative luminance over
// a tenth.
func TestNightIsDark(t *testing.T) {
	b, st := exampleBoard(t, 0)
	held := &calling.Marks{}
	held.Hold(10 * sec)
	held.Seen(60 * sec)
	for name, c := range map[string]struct {
		at timeline.Time
		k  *calling.Marks
	}{"start": {0, &calling.Marks{}}, "held": {b.Song.Duration / 2, held}, "cue": {b.Cues[len(b.Cues)/2].Command - 400*ms, &calling.Marks{}}} {
		img := paper.Image(scene(b, st, image.Pt(1920, 1080), 100, c.at, c.k, nil), &render.Night)
		lights := map[[4]uint8]int{}
		for i := 0; i < len(img.Pix); i += 4 {
			lights[[4]uint8(img.Pix[i:])]++
		}
		bright := 0
		for c, n := range lights {
			if render.Luminance(color.RGBA{R: c[0], G: c[1], B: c[2], A: c[3]}) > 0.1 {
				bright += n
			}
		}
		part := float64(bright) / (1920 * 1080)
		t.Logf("%s: %.2f %% bright", name, 100*part)
		require.Less(t, part, 0.05, name)
		require.Greater(t, part, 0.005, "there is something to read")
	}
}

// No text lies on another or beyond its picture, whatever the moment, the size and
// the marks.
func TestTextsKeepApart(t *testing.T) {
	b, st := exampleBoard(t, 0)
	rapid.Check(t, func(rt *rapid.T) {
		scale := rapid.SampledFrom([]render.Scale{80, 100, 150, 200}).Draw(rt, "scale")
		size := image.Pt(rapid.IntRange(1024, 2600).Draw(rt, "w")*int(scale)/100, rapid.IntRange(600, 1500).Draw(rt, "h")*int(scale)/100)
		at := timeline.Time(rapid.Int64Range(0, int64(b.Song.Duration/ms)).Draw(rt, "at")) * ms
		k := &calling.Marks{}
		if rapid.Bool().Draw(rt, "held") {
			k.Hold(at / 2)
			k.Seen(at)
		}
		s := scene(b, st, size, scale, at, k, nil)
		var boxes []image.Rectangle
		clip := s.Bounds()
		for i := range s.Shapes {
			sh := &s.Shapes[i]
			if sh.Kind == render.KindClip {
				clip = sh.Box
			}
			if sh.Kind != render.KindText {
				continue
			}
			box := sh.Box.Intersect(clip)
			for _, o := range boxes {
				over := o.Intersect(box)
				require.True(rt, over.Dy() <= box.Dy()/3 || over.Dx() <= 1, "%q lies on another text at %v", s.Label(sh), box)
			}
			boxes = append(boxes, box)
		}
	})
}

// The row of what has gone slides up for a moment and no longer, and not with
// reduced motion.
func TestSlide(t *testing.T) {
	b, st := exampleBoard(t, 0)
	n := 0
	for n+2 < len(b.Cues) && (b.Cues[n+1].Command-b.Cues[n].Command < sec || b.Cues[n].Command < sec) {
		n++
	}
	require.Less(t, n+2, len(b.Cues))
	row := func(at timeline.Time, still bool) int {
		s := scene(b, st, image.Pt(1920, 1080), 100, at, &calling.Marks{}, func(v *View) { v.Still = still })
		for i := range s.Shapes {
			if sh := &s.Shapes[i]; sh.Kind == render.KindText && sh.Box.Min.Y > 596 && sh.Box.Min.X > 160 && sh.Box.Min.X < 180 {
				return sh.Box.Min.Y
			}
		}
		return -1
	}
	at := b.Cues[n].Command
	rest := row(at+Slide+ms, false)
	require.Greater(t, row(at+10*ms, false), rest)
	require.Greater(t, row(at+10*ms, false), row(at+90*ms, false))
	require.Equal(t, rest, row(at+10*ms, true))
}

// The running view makes no garbage.
func TestNoGarbage(t *testing.T) {
	b, st := exampleBoard(t, 0)
	s := render.NewScene(render.NewFaces())
	var d Drawer
	var m calling.Moment
	k := &calling.Marks{}
	v := View{Area: image.Rect(0, 0, 1920, 1080), Board: b, Moment: &m, Marks: k, Stage: st, Running: true, Source: "from the desk's own playback"}
	frame := func(at timeline.Time) {
		s.Reset(image.Pt(1920, 1080), 100)
		b.Look(&m, at, k)
		d.Draw(s, &render.Night, &v)
	}
	for at := timeline.Time(0); at < b.Song.Duration; at += 500 * ms {
		frame(at)
	}
	at := 30 * sec
	frame(at)
	require.Zero(t, testing.AllocsPerRun(50, func() {
		at += 40 * ms
		frame(at)
	}))
}

// Pictures to look at, by EMBERBEAT_PICTURES.
func TestPictures(t *testing.T) {
	b, st := exampleBoard(t, 0)
	dir := os.Getenv("EMBERBEAT_PICTURES")
	k := &calling.Marks{}
	k.Hold(b.Cues[4].Command - sec)
	k.Hold(b.Cues[6].Command + 100*ms)
	for name, size := range map[string]image.Point{"1080": {1920, 1080}, "768": {1366, 768}} {
		s := scene(b, st, size, 100, b.Cues[len(b.Cues)/2].Command-1600*ms, k, nil)
		require.Greater(t, len(s.Shapes), 60)
		if dir == "" {
			continue
		}
		f, err := os.Create(filepath.Join(dir, "calling-"+name+".png"))
		require.NoError(t, err)
		require.NoError(t, paper.WritePNG(f, s, &render.Night))
		require.NoError(t, f.Close())
	}
}

func BenchmarkFrame1080p(b *testing.B) {
	board, st := exampleBoard(b, 0)
	s := render.NewScene(render.NewFaces())
	var d Drawer
	var m calling.Moment
	v := View{Area: image.Rect(0, 0, 1920, 1080), Board: board, Moment: &m, Marks: &calling.Marks{}, Stage: st, Running: true}
	at := timeline.Time(0)
	b.ReportAllocs()
	for b.Loop() {
		s.Reset(image.Pt(1920, 1080), 100)
		at = (at + 16*ms) % board.Song.Duration
		board.Look(&m, at, v.Marks)
		d.Draw(s, &render.Night, &v)
	}
}

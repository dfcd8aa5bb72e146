package widget

import (
	"image"
	"testing"
	"time"

	"emberbeat/render"
)

// faces are shared by all tests: reading the fonts takes longer than most tests.
var faces = render.NewFaces()

// bench is a window without a screen: it runs frames of one function.
// frameTime is what passes between two frames.
const frameTime = 16 * time.Millisecond

type bench struct {
	ui    *UI
	scene *render.Scene
	size  image.Point
	scale render.Scale
	now   time.Duration
	at    image.Point
	down  Buttons
	clock Clicker
	build func(u *UI)
	theme render.Theme
}

func newBench(w, h int, build func(u *UI)) *bench {
	b := &bench{ui: New(faces, nil), scene: render.NewScene(faces), size: image.Pt(w, h), scale: render.Unit, build: build, at: image.Pt(-1, -1), theme: render.Dark}
	b.frame(Input{})
	return b
}

// frame runs one frame, 16 ms after the last.
func (b *bench) frame(in Input) {
	b.now += frameTime
	in.Time, in.Pointer = b.now, b.at
	in.Down = b.down
	b.scene.Reset(b.size, b.scale)
	b.ui.Begin(&in, b.scene, &b.theme)
	b.build(b.ui)
	b.ui.End()
}

// wait lets time pass in frames of 100 ms.
func (b *bench) wait(d time.Duration) {
	for ; d > 0; d -= 100 * time.Millisecond {
		b.now += 100*time.Millisecond - frameTime
		b.frame(Input{})
	}
}

// key presses keys one after the other, each in a frame of its own.
func (b *bench) key(presses ...Press) {
	for _, p := range presses {
		b.frame(Input{Keys: []Press{p}, Mods: p.Mods})
	}
}

func (b *bench) tap(keys ...Key) {
	for _, k := range keys {
		b.key(Press{Key: k})
	}
}

// typing types a text, a letter a frame.
func (b *bench) typing(text string) {
	for _, r := range text {
		b.frame(Input{Text: []rune{r}})
	}
}

// move moves the pointer.
func (b *bench) move(x, y int) {
	b.at = image.Pt(x, y)
	b.frame(Input{})
}

func (b *bench) press(x, y int, m Mods) {
	b.move(x, y)
	b.down = Primary
	b.frame(Input{Pressed: Primary, Clicks: b.clock.Count(b.now, b.at, ClickReach()), Mods: m})
}

func (b *bench) release() {
	b.down = 0
	b.frame(Input{Released: Primary})
}

func (b *bench) click(x, y int) {
	b.press(x, y, 0)
	b.release()
}

// middle gives the middle of the hit area with a kind and a key.
func (b *bench) middle(t *testing.T, kind render.HitKind, key string) (x, y int) {
	t.Helper()
	for i := len(b.scene.Hits) - 1; i >= 0; i-- {
		if h := b.scene.Hits[i]; h.Kind == kind && h.ID == key {
			return (h.Area.Min.X + h.Area.Max.X) / 2, (h.Area.Min.Y + h.Area.Max.Y) / 2
		}
	}
	t.Fatalf("no %s %q in\n%s", kind, key, b.scene.Dump())
	return 0, 0
}

// clickOn clicks the control of a kind and a key.
func (b *bench) clickOn(t *testing.T, kind render.HitKind, key string) {
	t.Helper()
	b.click(b.middle(t, kind, key))
}

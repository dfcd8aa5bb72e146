package desk

import (
	"image"
	"math"
	"time"

	"github.com/hajimehoshi/ebiten/v2"

	"emberbeat/render"
	"emberbeat/render/desk/app"
)

// game joins the engine and the App: it hands over what was done and paints what is to be seen, and nothing while nothing changes.
type game struct {
	app     *app.App
	in      devices
	painter *painter
	pace    pacer
	begun   time.Time

	size  image.Point  // device pixels
	scale render.Scale // of the display

	frame  app.Frame
	layer  *ebiten.Image // the song, painted
	serial int           // of what is painted there
	theme  *render.Theme
	still  still // all that stands while something moves
	dirty  bool  // something is to be painted
	fresh  bool  // the next Update must make a frame whatever was done
	title  string
	full   bool
}

// Update takes what was done and makes the next frame of it.
func (g *game) Update() error {
	now := time.Since(g.begun)
	in, done := g.in.read(now, g.scale)
	if ebiten.IsWindowBeingClosed() {
		g.app.CloseAsked()
		done = true
	}
	if files := droppedFiles(); len(files) > 0 {
		g.app.Drop(files)
		done = true
	}
	due, waits := g.app.Due(now)
	switch {
	case done || g.fresh || g.app.Waiting() || waits && due <= 0 && !g.app.Moving():
		g.frame = g.app.Frame(in, g.size, g.scale)
		g.dirty, g.fresh = true, false
		g.still.end()
	case g.app.Moving() && g.pace.move(now):
		g.app.Move()
		g.fresh = !g.app.Moving() || g.app.Turned()
		g.dirty = true
	}
	g.window()
	if g.app.Quit() {
		return ebiten.Termination
	}
	due, waits = g.app.Due(now)
	g.pace.rest(now, done || g.fresh || g.in.held(), g.app.Moving(), due, waits, g.app.Waiting)
	return nil
}

// window keeps the window's own features as the App wants them.
func (g *game) window() {
	if t := g.app.Title(); t != g.title {
		g.title = t
		ebiten.SetWindowTitle(t)
	}
	if f := g.app.Fullscreen(); f != g.full {
		g.full = f
		ebiten.SetFullscreen(f)
	}
}

// Draw paints the frame, unless the screen shows it already.
func (g *game) Draw(screen *ebiten.Image) {
	if !g.dirty || g.frame.Panels == nil || screen.Bounds().Size() != g.frame.Panels.Size {
		return
	}
	defer g.app.Painted(time.Now())
	g.dirty = false
	g.paint(screen)
}

// paint puts the frame on a screen that shows the one before.
func (g *game) paint(screen *ebiten.Image) {
	f := &g.frame
	if g.still.again() && !f.Below {
		g.still.paint(screen, f, g.painter, g.stand)
		return
	}
	if f.Below {
		g.background(screen, f)
		g.painter.paint(screen, f.Moving, f.Theme, true)
		g.painter.paint(screen, f.Panels, f.Theme, true)
		return
	}
	g.stand(screen, f)
	g.painter.paint(screen, f.Moving, f.Theme, true)
}

// stand paints what stands while something moves over it: the song and the panels.
func (g *game) stand(dst *ebiten.Image, f *app.Frame) {
	g.background(dst, f)
	g.painter.paint(dst, f.Panels, f.Theme, true)
}

// background paints the song, or where there is none the ground of panels.
func (g *game) background(dst *ebiten.Image, f *app.Frame) {
	if f.Song == nil {
		dst.Fill(f.Theme.Light(render.InkLane))
		return
	}
	g.paintSong(f)
	dst.DrawImage(g.layer, &ebiten.DrawImageOptions{Blend: ebiten.BlendCopy})
}

// paintSong keeps the picture of the song, which changes seldom and is costly.
func (g *game) paintSong(f *app.Frame) {
	if g.layer == nil || g.layer.Bounds().Size() != f.Song.Size {
		if g.layer != nil {
			g.layer.Deallocate()
		}
		g.layer = ebiten.NewImageWithOptions(image.Rectangle{Max: f.Song.Size}, &ebiten.NewImageOptions{Unmanaged: true})
		g.serial = -1
	}
	if g.serial == f.Serial && g.theme == f.Theme {
		return
	}
	g.serial, g.theme = f.Serial, f.Theme
	g.painter.paint(g.layer, f.Song, f.Theme, false)
}

// Layout asks for a screen of device pixels, so that nothing is stretched.
func (g *game) LayoutF(w, h float64) (float64, float64) {
	factor := 1.0
	if m := ebiten.Monitor(); m != nil {
		factor = m.DeviceScaleFactor()
	}
	size := image.Pt(max(int(math.Ceil(w*factor)), 1), max(int(math.Ceil(h*factor)), 1))
	scale := render.Scale(math.Round(factor * 100))
	if size != g.size || scale != g.scale {
		g.size, g.scale, g.fresh = size, scale, true
	}
	return float64(size.X), float64(size.Y)
}

// Layout is what LayoutF is for whole numbers; the engine asks for it only where there is no LayoutF.
func (g *game) Layout(w, h int) (int, int) {
	x, y := g.LayoutF(float64(w), float64(h))
	return int(x), int(y)
}

package song

import (
	"image"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// scrubbing moves the playhead with the pointer.
type scrubbing struct{ sp *Page }

func (g *scrubbing) Move(in *widget.Input) {
	at := g.sp.drawn.TimeAt(in.Pointer.X)
	inverted := in.Mods&widget.Alt != 0
	g.sp.snapAt = render.Snap{}
	if g.sp.h.Prefs().Snap != inverted {
		song := g.sp.work().InView()
		c := g.sp.snapTargets(song).Mark(song, nil).Near(at, g.sp.reach(snapReach))
		if at = c.At; c.Name != "" {
			g.sp.snapAt = render.Snap{Instant: render.Instant{At: at, On: true}, Name: c.Name}
		}
	}
	v := g.sp.work().View()
	at = min(max(at, g.sp.work().Data.Whole().From), g.sp.work().Data.Length())
	if v.Playhead != at || g.sp.player.Playing() && in.Pressed != 0 {
		g.sp.Seek(at)
	}
}

func (g *scrubbing) Done() {
	g.sp.snapAt = render.Snap{}
	g.sp.h.Log("playhead %s", g.sp.work().View().Playhead)
}
func (g *scrubbing) Cancel()      { g.sp.snapAt = render.Snap{} }
func (g *scrubbing) Help() string { return "Alt: snap the other way" }

// panning moves the view with the middle button.
type panning struct {
	sp   *Page
	from image.Point
	span render.Span
}

func (g *panning) Move(in *widget.Input) {
	v := g.sp.work().View()
	l := g.sp.drawn.Right - g.sp.drawn.Left
	by := timeline.Time(float64(g.from.X-in.Pointer.X) / float64(max(l, 1)) * float64(g.span.To-g.span.From))
	v.Set(g.sp.work().Data.Whole(), g.span.From+by, g.span.To-g.span.From)
	g.sp.loose = true
}

func (g *panning) Done()        {}
func (g *panning) Cancel()      { g.sp.work().View().Span = g.span }
func (g *panning) Help() string { return "Drag moves the view" }

// stripping shows the part of the song that the pointer is on in the strip.
type stripping struct{ sp *Page }

func (g *stripping) Move(in *widget.Input) {
	v, whole := g.sp.work().View(), g.sp.work().Data.Whole()
	l := &g.sp.drawn.SongLayout
	at := whole.From + timeline.Time(float64(in.Pointer.X-l.Left)/float64(max(l.Right-l.Left, 1))*float64(whole.To-whole.From))
	now := v.Shown(whole)
	v.Set(whole, at-(now.To-now.From)/2, now.To-now.From)
	g.sp.loose = true
}

func (g *stripping) Done()        {}
func (g *stripping) Cancel()      {}
func (g *stripping) Help() string { return "Drag shows another part of the song" }

// marquee selects what a rectangle touches.
type marquee struct {
	sp       *Page
	from, to image.Point
	before   map[timeline.ID]bool
	mods     widget.Mods
	begun    bool
}

func newMarquee(sp *Page) *marquee {
	in := sp.in()
	sp.marquee = &marquee{sp: sp, from: in.Pointer, to: in.Pointer, before: sp.work().View().Selected, mods: in.Mods}
	return sp.marquee
}

func (g *marquee) rect() image.Rectangle {
	return image.Rectangle{Min: g.from, Max: g.to}.Canon()
}

func (g *marquee) Move(in *widget.Input) {
	g.to = in.Pointer
	if d := g.to.Sub(g.from); !g.begun && max(d.X, -d.X, d.Y, -d.Y) < g.sp.h.UI().Px(page.Slack) {
		return
	}
	g.begun, g.mods = true, in.Mods
	touched := map[timeline.ID]bool{}
	r := g.rect()
	r.Max = r.Max.Add(image.Pt(1, 1))
	for _, h := range g.sp.scene.Hits {
		if (h.Kind == render.HitCue || h.Kind == render.HitCues) && h.Area.Overlaps(r) {
			touched[timeline.ID(h.ID)] = true
		}
	}
	var ids []timeline.ID
	keep := g.mods&(widget.Shift|widget.Ctrl) != 0
	for id := range g.before {
		if keep && !(g.mods&widget.Ctrl != 0 && touched[id]) {
			ids = append(ids, id)
		}
	}
	for id := range touched {
		if !keep || !g.before[id] {
			ids = append(ids, id)
		}
	}
	g.sp.work().View().Choose(ids...)
}

func (g *marquee) Done() {
	g.sp.marquee = nil
	if !g.begun && g.mods&(widget.Shift|widget.Ctrl) == 0 {
		g.sp.work().View().Choose()
		g.sp.h.Forget()
	}
	g.sp.h.Log("selected %d", len(g.sp.work().View().Selected))
}

func (g *marquee) Cancel() {
	g.sp.marquee = nil
	v := g.sp.work().View()
	v.Selected = g.before
	v.Serial++
}

func (g *marquee) Help() string {
	return "Shift: add to the selection   Ctrl: take in or out   Esc: leave it"
}

// draw shows the rectangle.
func (g *marquee) draw(s *render.Scene) {
	if g.begun {
		s.Tint(g.rect(), render.InkFocus, 30)
		s.Frame(g.rect(), s.Px(1), render.InkFocus)
	}
}

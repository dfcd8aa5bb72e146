package table

import (
	"image"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
)

// Cells that are drawn rather than set, for Column.Draw.

// Article sets the name of an article, the row's record, after the shape of its family; that of a retired one is hollow.
func Article(h page.Host) func(*Row, image.Rectangle) bool {
	return func(e *Row, r image.Rectangle) bool {
		art, ok := e.Record.(*timeline.Article)
		if !ok {
			return false
		}
		Named(h, art, art.Name, art.Retired, r)
		return true
	}
}

// Named sets a name after the shape of an article's family, hollow and faint on demand; without an article after nothing.
func Named(h page.Host, art *timeline.Article, name string, hollow bool, r image.Rectangle) {
	s := h.UI().Scene()
	in := image.Rect(r.Min.X+s.Px(8), r.Min.Y, r.Max.X-s.Px(4), r.Max.Y)
	high := s.Px(16)
	ink := render.InkText
	if hollow {
		ink = render.InkFaint
	}
	if art != nil {
		look := render.Look{Glyph: render.GlyphOf(art.Family), Ink: render.InkOf(art.Family.Class()), Hollow: hollow}
		s.Glyph(h.UI().Theme(), image.Pt(in.Min.X, (r.Min.Y+r.Max.Y-high)/2), high, look)
	}
	in.Min.X += s.Px(24)
	s.TextCut(in, render.TypeLabel, ink, name)
}

// State draws a state, which a column gives as text, after a mark of its severity; no state draws nothing.
func State(h page.Host, text func(*Row) string) func(*Row, image.Rectangle) bool {
	return func(e *Row, r image.Rectangle) bool {
		if t := text(e); t != "" {
			Badge(h, r, render.SevWarning, t)
		}
		return true
	}
}

// Badge sets a text after a mark of severity.
func Badge(h page.Host, r image.Rectangle, v render.Severity, text string) {
	s := h.UI().Scene()
	at := image.Pt(r.Min.X+s.Px(6), (r.Min.Y+r.Max.Y-s.Px(render.BadgeSize))/2)
	s.Badge(at, v)
	s.TextCut(image.Rect(at.X+s.Px(render.BadgeSize+5), r.Min.Y, r.Max.X-s.Px(4), r.Max.Y), render.TypeLabel, render.InkText, text)
}

package widget

import (
	"image"

	"emberbeat/render"
)

// Gallery is a screen that shows every control in each of its states, to look at and to test. Make it with NewGallery.
type Gallery struct {
	Files Files // what its file browser looks into; nil gives three invented folders

	on, checked bool
	title       string
	number      int64
	frames      int64
	article     int
	tab         int
	split       int
	rows        Selection
	sorted      int
	boxes       Selection
	boxOn       [6]bool
	done        int64
	ask, help   bool
	palette     *Palette
	browser     *Browser
	last        string // what was done last
}

// NewGallery gives a gallery with invented contents.
func NewGallery() *Gallery {
	g := &Gallery{on: true, title: "Lantern Street", number: 141_120_000, frames: 24, split: 150, sorted: 1, done: 42, Files: sampleFiles{}}
	g.boxOn = [6]bool{true, false, true, true, false, true}
	g.rows.Only(2)
	g.last = "nothing yet"
	return g
}

// GalleryRows is how many rows the gallery's table has.
const GalleryRows = 10_000

// flick is how many base units make a second in the gallery's times, those of timeline.Time.
const flick = 282_240_000

// openTime is a time in seconds that understands frames at 25 a second.
var openTime = NumberSpec{
	Units:  []Unit{{"s", flick, 1}, {"f", flick / 25, 1}, {"ms", flick / 1000, 1}},
	Digits: 4, Max: 60 * flick, Step: flick / 25, Quantum: flick / 10_000,
}

var lead = NumberSpec{Units: []Unit{{"f", 1, 1}}, Max: 250}

var wrongHeight = NumberSpec{Units: []Unit{{"m", 1000, 1}}, Digits: 2, Max: 40_000, Step: 500,
	Error: "6 m is higher than the trim of this venue: from 0 to 5.5 m"}

var articles = []string{"CO2 jet", "Flame column", "Spark fountain", "Mine, silver", "Confetti, paper", "Low fog", "Comet, blue", "Line rocket",
	"Flash pot", "Waterfall, gold"}

// Frame builds the gallery in r.
func (g *Gallery) Frame(u *UI, r image.Rectangle) {
	s := u.Scene()
	s.Rect(r, render.InkPanel)
	page := u.Stack(r, 0)
	g.menus(u, page.Top(30))
	g.status(u, page.Bottom(28))
	body := u.Inset(page.Rest(), 16)
	gap := u.Px(28)
	g.controls(u, Columns(body, 3, 0, gap))
	g.fields(u, Columns(body, 3, 1, gap))
	g.lists(u, Columns(body, 3, 2, gap))
	g.floats(u)
	if key, ok := u.Toasts(body); ok {
		g.last = "undid " + key
	}
}

// menus draws the menu bar.
func (g *Gallery) menus(u *UI, r image.Rectangle) {
	s := u.Scene()
	s.Rect(image.Rect(r.Min.X, r.Max.Y-s.Px(1), r.Max.X, r.Max.Y), render.InkBeat)
	r.Min.X += s.Px(8)
	if id, ok := u.MenuBar("bar", r, galleryMenus); ok {
		g.last = "menu " + id
	}
}

var galleryMenus = []Item{
	{Label: "Show", Sub: []Item{
		{ID: "open", Label: "Open…", Keys: "Ctrl+O"}, {ID: "save", Label: "Save", Keys: "Ctrl+S", Off: "nothing changed since 14:02"},
		{Rule: true},
		{Label: "Export", Sub: []Item{{ID: "cues", Label: "Cue list…", Keys: "Ctrl+E"}, {ID: "load", Label: "Load plan…"}, {ID: "permit", Label: "Permit pack…"}}},
		{Rule: true},
		{ID: "quit", Label: "Quit", Keys: "Ctrl+Q"},
	}},
	{Label: "Edit", Sub: []Item{{ID: "undo", Label: "Undo move", Keys: "Ctrl+Z"}, {ID: "redo", Label: "Redo", Keys: "Ctrl+Y", Off: "nothing was undone"}}},
	{Label: "View", Sub: []Item{{ID: "follow", Label: "Follow playhead", Keys: "F", Check: true}, {ID: "click", Label: "Click"}}},
}

// status draws what was done last.
func (g *Gallery) status(u *UI, r image.Rectangle) {
	s := u.Scene()
	s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+s.Px(1)), render.InkBeat)
	r.Min.X += s.Px(16)
	u.Label(r, render.TypeSmall, render.InkSecondary, "Last: "+g.last)
}

// controls draws the first column: what is pressed.
func (g *Gallery) controls(u *UI, r image.Rectangle) {
	f := u.Form(r, 92)
	f.Head("Buttons")
	g.buttons(u, f.Row("plain, main"), f.Row("unusable"), f.Row("menu, icon"))
	f.Head("On and off")
	g.on = u.Toggle("follow", f.Row("toggle"), "Follow playhead", g.on)
	u.Tip("The view moves with the playhead", "F")
	u.Off("the show is open for reading only").Toggle("locked", f.Row(""), "Lock the lane", true)
	g.checked = u.Checkbox("check", f.Row("checkbox"), "Print hidden lanes", g.checked)
	u.Off("no lane is hidden").Checkbox("unchecked", f.Row(""), "Print all pages", true)
	f.Head("Long work")
	if u.Progress("work", f.Rows("known", 34), "Listening to Lantern Street", g.done, 100, "Cancel") {
		g.done, g.last = 0, "cancelled listening"
	}
	u.Progress("unknown", f.Rows("unknown", 34), "Looking for the audio", 0, 0, "")
	f.Head("Panels")
	g.tab = u.Tabs("tabs", f.Rows("tabs", 30), []string{"Stage", "Inspector", "Findings"}, g.tab)
	g.splits(u, f.Rows("split", 84))
	g.openers(u, f.Row("dialogs"), f.Row(""))
	g.canvas(u, f.Rows("canvas", 48))
}

func (g *Gallery) buttons(u *UI, usable, not, more image.Rectangle) {
	row := u.Stack(usable, Gap)
	if u.Button("plain", row.Left(100), "Add lane") {
		g.last = "added a lane"
		u.Notify(Toast{Key: "lane", Text: "Lane added", Action: "Undo", Keys: "Ctrl+Z"})
	}
	u.Tip("A lane below the one in focus", "Ctrl+L")
	if u.MainButton("main", row.Left(100), "Export") {
		g.last = "exported"
	}
	row = u.Stack(not, Gap)
	u.Off("nothing changed since 14:02").Button("unusable", row.Left(100), "Save")
	u.Off("two findings are open").MainButton("unusable main", row.Left(100), "Sign off")
	row = u.Stack(more, Gap)
	if id, ok := u.MenuButton("menu", row.Left(100), "More", galleryMenus[0].Sub); ok {
		g.last = "menu " + id
	}
	if u.IconButton("less", row.Left(28), "−", "Zoom out", "-") {
		g.last = "zoomed out"
	}
	if u.IconButton("more", row.Left(28), "+", "Zoom in", "+") {
		g.last = "zoomed in"
	}
}

// splits draws two parts and the bar between them.
func (g *Gallery) splits(u *UI, r image.Rectangle) {
	s := u.Scene()
	s.Rect(r, render.InkLane)
	a, b, at := u.Split("split", r, SplitSpec{At: g.split, MinA: 48, MinB: 48, Home: 150})
	g.split = at
	u.Label(u.Inset(a, 8), render.TypeSmall, render.InkSecondary, "setlist")
	u.Label(u.Inset(b, 8), render.TypeSmall, render.InkSecondary, "lanes")
	s.Frame(r, s.Px(1), render.InkBar)
}

// openers draws the buttons that open what floats.
func (g *Gallery) openers(u *UI, r, below image.Rectangle) {
	row := u.Stack(r, Gap)
	if u.Button("ask", row.Left(100), "Question") {
		g.ask = true
	}
	if u.Button("browse", row.Left(100), "Browser") {
		g.browser = &Browser{Title: "Open a show", Verb: "Open", Folder: "/shows", Empty: "No show is here. Go up, or choose another place at the left."}
	}
	row = u.Stack(below, Gap)
	if u.Button("palette", row.Left(100), "Palette") {
		g.palette = &Palette{}
	}
	if u.Button("help", row.Left(100), "Help") {
		g.help = true
	}
}

// canvas draws an area of the caller's own.
func (g *Gallery) canvas(u *UI, r image.Rectangle) {
	s := u.Scene()
	u.Group("canvas")
	v := u.Canvas("canvas", r)
	u.Group("")
	if v.Pressed != 0 {
		g.last = "pressed the canvas"
	}
	s.Rect(r, render.InkLane)
	x := r.Min.X + s.Px(12)
	for i, ink := range []render.Ink{render.InkHot, render.InkSpark, render.InkShot, render.InkCold, render.InkPaper, render.InkCloud} {
		s.Glyph(u.Theme(), image.Pt(x, r.Min.Y+s.Px(12)), s.Px(24), render.Look{Glyph: galleryGlyphs[i], Ink: ink})
		x += s.Px(38)
	}
	if v.Focus {
		outline(s, r, s.Px(2), render.InkFocus)
	}
}

var galleryGlyphs = [...]render.Glyph{render.GlyphColumn, render.GlyphFan, render.GlyphPin, render.GlyphPill, render.GlyphSteps, render.GlyphDome}

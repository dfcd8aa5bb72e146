package app

import (
	"image"
	"os"
	"path/filepath"
	"time"

	"emberbeat/render"
	"emberbeat/render/widget"
)

// Logical size of the middle of the start page.
const (
	startWide = 640
	startHigh = 460
)

// startPage is the window without a show: nothing is asked, and the example can be heard at once.
func (a *App) startPage() {
	u := a.ui
	s := u.Scene()
	s.Rect(s.Bounds(), render.InkLane)
	all := u.Stack(s.Bounds(), 0)
	a.menuBar(all.Top(barHeight))
	a.statusBar(all.Bottom(statusHeight))
	rest := all.Rest()
	w, h := min(u.Px(startWide), rest.Dx()-u.Px(32)), min(u.Px(startHigh), rest.Dy()-u.Px(16))
	x, y := (rest.Min.X+rest.Max.X-w)/2, rest.Min.Y+(rest.Dy()-h)*2/5
	k := u.Stack(image.Rect(x, y, x+w, y+h), 8)
	u.Group("start")
	a.mark(k.Top(46))
	u.Label(k.Top(24), render.TypeLabel, render.InkSecondary, "Plan stage effects on the music: cues on bars and beats, checked before anyone presses anything.")
	k.Top(10)
	row := k.Top(40)
	gap := u.Px(10)
	if u.MainButton("example", widget.Columns(row, 3, 0, gap), "Open the example") {
		a.Use("open-example")
	}
	u.Tip("A small invented tour with songs to hear, a rig, cues, and a few findings on purpose", "")
	if u.Button("new", widget.Columns(row, 3, 1, gap), "New show…") {
		a.Use("new-show")
	}
	u.Tip("An empty show in a new folder", a.key("new-show"))
	if u.Button("open", widget.Columns(row, 3, 2, gap), "Open show…") {
		a.Use("open-show")
	}
	u.Tip("A show's folder", a.key("open-show"))
	if tick := u.Checkbox("stocked", k.Top(26), "New shows begin with a small invented stock and rig", !a.prefs.Bare); tick == a.prefs.Bare {
		a.prefs.Bare = !tick
		a.prefs.Save()
	}
	u.Tip("Jets, comets and confetti on a small stage, each marked as invented: to be replaced by what you own", "")
	u.Label(k.Top(20), render.TypeSmall, render.InkFaint, "Drop a recording anywhere here to make a show of it, or a show's folder to open it. Emberbeat has no output that could fire anything.")
	k.Top(10)
	u.Label(k.Top(24), render.TypeStrong, render.InkText, "Recent shows")
	a.recent(k.Rest())
	a.progress()
}

// mark draws the program's name with a beat of cues beside it.
func (a *App) mark(r image.Rectangle) {
	s := a.ui.Scene()
	face := s.Face(render.TypeCounter)
	x := s.Text(image.Pt(r.Min.X, r.Min.Y+s.Px(4)), render.TypeCounter, render.InkText, "emberbeat")
	x += s.Px(18)
	h := s.Px(22)
	y := r.Min.Y + s.Px(4) + face.Ascent() - h
	for _, look := range []render.Look{{Glyph: render.GlyphColumn, Ink: render.InkHot}, {Glyph: render.GlyphPill, Ink: render.InkCold},
		{Glyph: render.GlyphFan, Ink: render.InkSpark}, {Glyph: render.GlyphPin, Ink: render.InkShot}, {Glyph: render.GlyphSteps, Ink: render.InkPaper}} {
		s.Glyph(a.Theme(), image.Pt(x, y), h, look)
		x += s.Px(34)
	}
}

// recent lists the shows opened last.
func (a *App) recent(r image.Rectangle) {
	u := a.ui
	list := a.prefs.Recent
	spec := widget.TableSpec{
		Columns: []widget.Column{{Width: 200}, {}}, Rows: len(list),
		Empty: "None yet. The example is a good place to begin.",
		Cell: func(b []byte, row, col int) []byte {
			if col == 0 {
				return append(b, filepath.Base(list[row])...)
			}
			return append(b, list[row]...)
		},
		Ink: func(row int) render.Ink {
			if a.missing(list[row]) {
				return render.InkFaint
			}
			return render.InkText
		},
	}
	e := u.Table("recent", r, &a.panel.rows, &spec)
	if (e.Used || e.Changed && a.in.Pressed&widget.Primary != 0) && e.Row < len(list) {
		a.open(list[e.Row])
	}
}

// lookAgain is how long the window believes what it has seen of the recent shows' folders.
const lookAgain = 2 * time.Second

// missing reports whether a recent show is gone from its folder.
func (a *App) missing(dir string) bool {
	if a.gone == nil || a.now.Sub(a.goneAt) > lookAgain {
		a.gone, a.goneAt = map[string]bool{}, a.now
		for _, d := range a.prefs.Recent {
			_, err := os.Stat(filepath.Join(d, "show.toml"))
			a.gone[d] = err != nil
		}
	}
	return a.gone[dir]
}

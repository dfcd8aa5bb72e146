package app

import (
	"image"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/menus"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/findings"
	"emberbeat/render/desk/ribbon"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// panels is what the panels around the timeline remember.
type panels struct {
	over    bool             // in a narrow window, the dock lies over the page
	records bool             // the dock lists records instead of one record's fields
	record  timeline.Ref     // shown in the inspector where no cue is selected
	rows    widget.Selection // of the recent shows
	list    bool             // of findings
	finding int              // place of the one last gone to
	visited bool             // a finding has been gone to
	found   []found
	foundAt int
}

// Sizes of the page in logical pixels.
const (
	barHeight    = 28
	statusHeight = 24
	bannerHeight = 40
	narrowPage   = 1420
	listHeight   = 168
	menusWidth   = 396
	nightWidth   = 176
	nightNarrow  = 28  // of the choice of a night that has no room for its name
	tinyPage     = 620 // below, the list of pages is left out
	narrowDock   = 344
	wideWindow   = 1400 // from here on the dock grows with the window
	leastDock    = 280
	leastPage    = 480  // beside a dock
	slimWindow   = 1024 // below, the dock lies over the page
)

// showPage is the window with a show.
func (a *App) showPage() {
	u := a.ui
	s := u.Scene()
	if p := a.inBook(); p != nil && p.Whole {
		a.viewPage(p, s.Bounds())
		return
	}
	width := s.Size.X * 100 / int(s.Scale)
	k := u.Stack(s.Bounds(), 0)
	a.menuBar(k.Top(barHeight))
	a.ribbon.Draw(k.Top(ribbon.Height))
	a.banner(&k)
	a.changedBanner(&k)
	status := k.Bottom(statusHeight)
	p := a.inBook()
	if p != nil && isView(p.ID) {
		a.viewPage(p, k.Rest())
	} else {
		a.withDock(width, p, k.Rest())
	}
	a.statusBar(status)
	a.progress()
	a.contextMenu()
}

// dockWidth gives the logical width of the dock in a window of a width, where the user has not dragged it.
func dockWidth(window int) int {
	if window < wideWindow {
		return narrowDock
	}
	return min(max(window*30/100, 400), 720)
}

// withDock draws a page, the dock beside it or, in a narrow window, over it, and the list of findings below it.
func (a *App) withDock(width int, p *page.Page, r image.Rectangle) {
	u := a.ui
	var dock image.Rectangle
	over := width < slimWindow
	switch {
	case over && a.panel.over:
		dock = r
		dock.Min.X = max(r.Max.X-u.Px(narrowDock), r.Min.X)
	case !over && !a.prefs.Side:
		home := dockWidth(width)
		at := home
		if a.prefs.Dock > 0 {
			at = a.prefs.Dock
		}
		u.Group("dock-edge")
		left, right, now := u.Split("dock-edge", r, widget.SplitSpec{Last: true, At: at, MinA: leastPage, MinB: leastDock, Home: home})
		if now != at {
			if a.prefs.Dock = now; now == home {
				a.prefs.Dock = 0
			}
			a.prefs.Save()
		}
		r, dock = left, right
	}
	list := image.Rectangle{}
	if a.panel.list && a.book.at != findings.ID {
		list = r
		list.Min.Y = max(r.Max.Y-u.Px(listHeight), r.Min.Y)
	}
	if p == nil {
		a.song.Draw(r, list.Dy())
	} else {
		r.Max.Y -= list.Dy()
		k := u.Stack(r, 0)
		if width >= tinyPage {
			a.bookList(k.Left(a.bookWide(width)))
		}
		a.bookPage(p, k.Rest())
	}
	if !list.Empty() {
		u.Cover("findings-list", list)
		a.findingList(list)
	}
	if !dock.Empty() {
		if over {
			u.Cover("dock", dock)
		}
		a.dock(dock)
	}
}

// ground fills a panel.
func (a *App) ground(r image.Rectangle) {
	s := a.ui.Scene()
	s.Rect(r, render.InkPanel)
}

// ruleRight draws the line between a panel and what is right of it.
func (a *App) ruleRight(r image.Rectangle) {
	s := a.ui.Scene()
	s.Rect(image.Rect(r.Max.X-s.Px(1), r.Min.Y, r.Max.X, r.Max.Y), render.InkBar)
}

func (a *App) ruleLeft(r image.Rectangle) {
	s := a.ui.Scene()
	s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Min.X+s.Px(1), r.Max.Y), render.InkBar)
}

func (a *App) ruleBelow(r image.Rectangle) {
	s := a.ui.Scene()
	s.Rect(image.Rect(r.Min.X, r.Max.Y-s.Px(1), r.Max.X, r.Max.Y), render.InkBar)
}

// menuBar is the table of commands as menus, and what is shown at its right: the show and the night.
func (a *App) menuBar(r image.Rectangle) {
	u := a.ui
	a.ground(r)
	a.ruleBelow(r)
	u.Group("menus")
	row := u.Stack(r, 6)
	row.Right(8)
	var night image.Rectangle
	wide := r.Dx() >= u.Px(menusWidth+nightWidth+20)
	if a.work != nil {
		if night = row.Right(nightWidth); !wide {
			night.Min.X = max(night.Max.X-u.Px(nightNarrow), row.Rest().Min.X)
		}
	}
	bar := r
	if a.work != nil {
		bar.Max.X = night.Min.X - u.Px(6)
	}
	if id, ok := u.MenuBar("menus", bar, a.menus()); ok {
		a.Use(id)
	}
	if a.work == nil {
		return
	}
	s := u.Scene()
	a.nightChoice(night)
	if r.Dx() < s.Px(menusWidth+520) {
		return
	}
	box := row.Right(300)
	title := a.work.Show.Head.Title
	if a.work.Show.Head.Artist != "" {
		title = a.work.Show.Head.Artist + "  ·  " + title
	}
	s.TextIn(box, render.Right, render.TypeLabel, render.InkSecondary, title)
}

// menus builds the menus of the moment.
func (a *App) menus() []widget.Item {
	list := make([]widget.Item, len(groups))
	used := a.in.Pressed != 0 || len(a.in.Keys) > 0 || a.ui.Modal()
	for i, g := range groups {
		if list[i].Label = g; !used {
			continue // nothing opens in this frame
		}
		var ids []string
		for k := range a.table {
			if c := &a.table[k]; c.group == g {
				ids = append(ids, c.id)
			}
		}
		list[i].Sub = a.arranged(menus.Arrange(g, ids))
	}
	return list
}

// arranged makes entries of the lines of a menu.
func (a *App) arranged(lines []menus.Line) []widget.Item {
	var list []widget.Item
	for _, l := range lines {
		switch c := a.byID(l.Command); {
		case l.Head != "":
			list = append(list, widget.Item{Label: l.Head, Head: true})
		case c == nil:
			list = append(list, widget.Item{Label: l.Name, Sub: a.arranged(l.Sub)})
		default:
			list = append(list, widget.Item{ID: c.id, Label: c.name, Keys: a.key(c.id), Off: a.why(c), Check: a.isOn(c.id)})
		}
	}
	return list
}

// isOn reports whether a command that switches something has it on.
func (a *App) isOn(id string) bool {
	switch id {
	case "snap":
		return a.prefs.Snap
	case "counters":
		return a.counting
	case "full-screen":
		return a.full
	}
	if a.song.IsOn(id) {
		return true
	}
	if a.work == nil {
		return false
	}
	switch id {
	case "book":
		return a.book.at != ""
	case "findings":
		return a.panel.list
	case "side":
		return a.dockShown()
	case "records":
		return a.panel.records
	}
	return false
}

// stepSet makes the next running order the show's own.
func (a *App) stepSet() {
	w := a.work
	sets := w.Show.Sets
	if len(sets) < 2 {
		a.tell("the show has %s", timeline.Counted(len(sets), "set"))
		return
	}
	at := 0
	if now := w.Show.SetOf(nil); now != nil {
		for i, s := range sets {
			if s.ID == now.ID {
				at = i + 1
			}
		}
	}
	page.UseSet(a, sets[at%len(sets)])
}

// bannerRow draws a line of news with buttons, the last of them the main one, and gives the one that was used.
func (a *App) bannerRow(k *widget.Stack, key, text string, choices ...string) (used string) {
	u := a.ui
	box := k.Top(bannerHeight)
	s := u.Scene()
	s.Rect(box, render.InkBeat)
	a.ruleBelow(box)
	row := u.Stack(u.Inset(box, 5), 8)
	row.Left(6)
	u.Push(key)
	for i := len(choices) - 1; i >= 0; i-- {
		r := row.Right(u.ButtonWidth(choices[i]) + 8)
		if i == len(choices)-1 && u.MainButton(choices[i], r, choices[i]) || i < len(choices)-1 && u.Button(choices[i], r, choices[i]) {
			used = choices[i]
		}
	}
	u.Pop()
	u.Label(row.Rest(), render.TypeStrong, render.InkText, text)
	return used
}

// banner tells of edits brought back after a crash.
func (a *App) banner(k *widget.Stack) {
	if a.elsewhere && a.bannerRow(k, "elsewhere", "Another program has this show open: it can only be looked at here", "Edit a copy") != "" {
		a.Use("edit-copy")
		return
	}
	r := a.work.Session.Recovered()
	if r == nil {
		return
	}
	text := timeline.Counted(r.Edits, "edit")
	if !r.Since.IsZero() {
		text += " since " + r.Since.Local().Format("15:04")
	}
	text += " that were not saved have been kept"
	if r.Edits == 1 {
		text = strings.Replace(text, "were not saved have", "was not saved has", 1)
	}
	if r.From != "" {
		text += ", from " + r.From + ", which is not there: are they to be taken over here? It keeps its own"
	}
	if r.Problem != "" {
		text += "; " + r.Problem
	}
	choices := []string{"Set aside", "Compare…", "Keep"}
	if r.Problem != "" && !a.work.Session.Dirty() {
		choices = []string{"Keep"}
	}
	switch a.bannerRow(k, "recovered", text, choices...) {
	case "Keep":
		a.work.Session.KeepRecovered()
		a.say("kept recovered edits")
	case "Compare…":
		a.dialog = a.compareRecovered()
	case "Set aside":
		a.fail(a.work.Session.Discard())
		a.say("set recovered edits aside")
	default:
		return
	}
	a.again = true
}

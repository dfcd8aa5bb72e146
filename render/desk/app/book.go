package app

import (
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/timeline"
)

// page is one page of the book: a table of records or a map of the rig that fills the window in place of the timeline. To add one, write a
// function that gives pages and name it in fillPages; list of pages, command, key, menu, palette and help follow from it.
type page struct {
	id   string // permanent; its command is "book-" and this
	name string
	part string // heading that it is listed under; pages of a part follow each other
	help string // what it shows and what can be done there, a clause
	keys []string
	kind string // of the records it lists, so that the way to one of them leads here; "" for other pages
	draw func(a *App, r image.Rectangle)
	acts map[string]act // by command id: what commands of the timeline such as delete, copy and duplicate do here instead
}

// act is what a command does on a page.
type act struct {
	off func(*App) string
	run func(*App)
}

// pages holds all pages in the order of their list. It is filled once, before anything runs.
var pages []page

func fillPages() {
	for _, list := range []func() []page{
		stockPages, rigPages, patchPages, wirePages, phrasePages,
		nightPages, rulePages,
	} {
		pages = append(pages, list()...)
	}
}

// pageOf gives the page with an id, or nil.
func pageOf(id string) *page {
	for i := range pages {
		if pages[i].id == id {
			return &pages[i]
		}
	}
	return nil
}

// book is what the window remembers of its pages.
type book struct {
	at      string         // id of the page in view; "" is the timeline
	last    string         // the page that was in view last
	fresh   bool           // the page came into view just now: its table gets the focus
	refs    []timeline.Ref // records of the chosen rows
	want    []timeline.Ref // records whose rows shall be chosen
	filter  bool           // the filter shall get the focus
	ledgers map[string]*ledger

	slotType timeline.ID // of the device type whose slots are shown
	universe universeKey // that is shown
	slot     int         // where the cursor of its map stands
	maps     map[universeKey]*universeMap
	mapsOf   *timeline.Plan // that the maps are of
}

// inBook gives the page in view, or nil while the timeline is.
func (a *App) inBook() *page {
	if a.work == nil {
		return nil
	}
	return pageOf(a.book.at)
}

// turn brings a page into view; "" the timeline.
func (a *App) turn(id string) {
	if a.book.at == id {
		a.book.fresh = id != ""
		return
	}
	if a.gesture != nil {
		a.gesture.cancel(a)
		a.gesture = nil
		a.drop()
	}
	if a.book.at != "" {
		a.book.last = a.book.at
	}
	a.book.at, a.book.fresh, a.book.refs = id, id != "", nil
	a.over = image.Pt(-1, -1)
	a.panel.record = timeline.Ref{}
	a.ui.Blur()
	a.again = true
	a.say("page %s", id)
}

// openBook goes between the timeline and the page that was in view last.
func (a *App) openBook() {
	switch {
	case a.book.at != "":
		a.turn("")
	case a.book.last != "":
		a.turn(a.book.last)
	default:
		a.turn(pages[0].id)
	}
}

// stepPage turns to the page after or before.
func (a *App) stepPage(n int) {
	at := slices.IndexFunc(pages, func(p page) bool { return p.id == a.book.at })
	if at < 0 && n < 0 {
		at = 0
	}
	a.turn(pages[(at+n+len(pages))%len(pages)].id)
}

// toTimeline goes back to the timeline, from a page, a panel, a field or a selection.
func (a *App) toTimeline() {
	a.ui.Blur()
	a.turn("")
}

// bookCommands are the commands of the book: a page each, and going between them.
func bookCommands() []command {
	list := []command{
		{id: "book", name: "Book or timeline", help: "goes between the timeline and the page of the book last seen", group: "Book", keys: []string{"Ctrl+B"}, off: needShow, run: (*App).openBook},
		{id: "book-on", name: "Next page of the book", help: "turns to the page after", group: "Book", keys: []string{"Ctrl+Shift+PgDn"}, repeats: true, off: needShow, run: func(a *App) { a.stepPage(1) }},
		{id: "book-back", name: "Previous page of the book", help: "turns to the page before", group: "Book", keys: []string{"Ctrl+Shift+PgUp"}, repeats: true, off: needShow, run: func(a *App) { a.stepPage(-1) }},
	}
	for i := range pages {
		p := &pages[i]
		list = append(list, command{id: "book-" + p.id, name: p.part + ": " + p.name, help: p.help, group: "Book", keys: p.keys, off: needShow,
			run: func(a *App) { a.turn(p.id) }})
	}
	return list
}

// hidden is the reason for which commands of the timeline rest while a page is in view.
const hidden = "the timeline is not in view; Esc goes back to it"

// ofTimeline reports whether a command needs the timeline in view.
func (c *command) ofTimeline() bool {
	switch c.id {
	case "fix", "accept", "phrase":
		return false
	case "cut", "copy", "paste", "paste-same", "duplicate", "delete", "remove-time", "select-all", "select-none", "select-on", "select-back",
		"play-selection", "loop-selection", "mute", "solo", "frame-back", "frame-on", "beat-back", "beat-on", "mark-back", "mark-on", "song-start",
		"song-end", "page-back", "page-on", "lane-up", "lane-down", "cue-on", "cue-back", "cue-all-back", "cue-all-on", "zoom-in", "zoom-out",
		"zoom-song", "zoom-selection", "zoom-back", "follow", "context":
		return true
	}
	return c.group == "Cue"
}

// actOf gives what a command does on the page in view; ok is false where it does what it always does.
func (a *App) actOf(c *command) (act, bool) {
	p := a.inBook()
	if p == nil {
		return act{}, false
	}
	if own, ok := p.acts[c.id]; ok {
		return own, true
	}
	switch {
	case c.id == "help":
		return act{off: func(*App) string { return "" }, run: (*App).askPageHelp}, true
	case c.id == "edit-values" || c.id == "rename":
		return act{off: needChosen, run: c.run}, true
	case c.ofTimeline():
		return act{off: func(*App) string { return hidden }}, true
	}
	return act{}, false
}

// needChosen says what to choose before something can be done with it.
func needChosen(a *App) string {
	if why := needShow(a); why != "" {
		return why
	}
	a.dropGone()
	if len(a.book.refs) == 0 {
		return "choose a row of the table first"
	}
	return ""
}

// dropGone takes records that are not in the show any more off the chosen ones.
func (a *App) dropGone() {
	gone := func(r timeline.Ref) bool { return find(a.work.shown, r) == nil }
	if slices.ContainsFunc(a.book.refs, gone) {
		a.book.refs = slices.DeleteFunc(slices.Clone(a.book.refs), gone)
	}
}

// needChosenEdit is needChosen for what changes the show.
func needChosenEdit(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	return needChosen(a)
}

// bookPage draws the page in view under its name.
func (a *App) bookPage(p *page, r image.Rectangle) {
	u := a.ui
	a.ground(r)
	u.Group("page")
	k := u.Stack(u.Inset(r, 10), 8)
	head := u.Stack(k.Top(24), 12)
	u.Label(head.Left(170), render.TypeTitle, render.InkText, p.name)
	u.Label(head.Rest(), render.TypeSmall, render.InkSecondary, upper(p.help))
	u.Push(p.id)
	p.draw(a, k.Rest())
	u.Pop()
	a.book.fresh = false
}

package app

import (
	"image"
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/against"
	"emberbeat/render/desk/page/calling"
	"emberbeat/render/desk/page/carrying"
	"emberbeat/render/desk/page/circuits"
	"emberbeat/render/desk/page/conflicts"
	"emberbeat/render/desk/page/findings"
	"emberbeat/render/desk/page/history"
	"emberbeat/render/desk/page/nights"
	"emberbeat/render/desk/page/patch"
	"emberbeat/render/desk/page/phrases"
	"emberbeat/render/desk/page/rig"
	"emberbeat/render/desk/page/rules"
	"emberbeat/render/desk/page/sets"
	"emberbeat/render/desk/page/setview"
	"emberbeat/render/desk/page/slots"
	"emberbeat/render/desk/page/stageplan"
	"emberbeat/render/desk/page/stock"
	"emberbeat/render/desk/page/table"
	"emberbeat/render/desk/page/timecode"
	"emberbeat/render/desk/page/tonight"
	"emberbeat/render/desk/page/venues"
	"emberbeat/render/desk/page/wiring"
	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// families gives the pages of rooms of their own and the commands that go with them, by the place in a.families.
var families = []func(page.Host) page.Family{
	slotFamily: slots.New, patchFamily: patch.New, wireFamily: wiring.New, circuitFamily: circuits.New,
	ruleFamily: rules.New, planFamily: stageplan.New, clockFamily: timecode.New, phraseFamily: phrases.New, stockFamily: stock.New, rigFamily: rig.New,
	setFamily: sets.New, venueFamily: venues.New, nightFamily: nights.New, tonightFamily: tonight.New, conflictFamily: conflicts.New, carryFamily: carrying.New, callFamily: calling.New,
	wholeFamily: setview.New, stepFamily: history.New, findingFamily: findings.New, listFamily: against.New}

const (
	ruleFamily = iota
	slotFamily
	patchFamily
	wireFamily
	circuitFamily
	planFamily
	clockFamily
	phraseFamily
	stockFamily
	rigFamily
	setFamily
	venueFamily
	nightFamily
	tonightFamily
	conflictFamily
	carryFamily
	callFamily
	wholeFamily
	stepFamily
	findingFamily
	listFamily
)

// newPages makes the pages of the book, with nothing remembered. To add one, write a room that gives a family and name it in families, here
// and in commands; list of pages, command, key, menu, palette and help follow from it.
func (a *App) newPages() {
	a.families = a.families[:0]
	for _, make := range families {
		a.families = append(a.families, make(a))
	}
	of := func(family int) []page.Page { return a.families[family].Pages }
	types, counts := of(stockFamily)[:3], of(stockFamily)[3:] // what is placed and wired of the stock stands where it is wired
	a.pages = slices.Concat(types[:2], of(slotFamily), types[2:], of(rigFamily), of(patchFamily), of(wireFamily), of(circuitFamily), counts, of(phraseFamily), of(setFamily), of(wholeFamily),
		of(clockFamily), of(venueFamily), of(nightFamily), of(tonightFamily), of(callFamily), of(planFamily), of(findingFamily), of(ruleFamily), of(conflictFamily), of(listFamily), of(stepFamily), of(carryFamily))
}

// pageOf gives the page with an id, or nil.
func (a *App) pageOf(id string) *page.Page {
	for i := range a.pages {
		if a.pages[i].ID == id {
			return &a.pages[i]
		}
	}
	return nil
}

// pageBinding gives what a command does on a page.
func (a *App) pageBinding(off func(*App) string, run func(*App)) page.Act {
	return page.Act{Off: func() string { return off(a) }, Run: func() { run(a) }}
}

// tableOf gives the table of a page, nil where it has none.
func (a *App) tableOf(id string) *table.Table {
	if p := a.pageOf(id); p != nil {
		t, _ := p.Rows.(*table.Table)
		return t
	}
	return nil
}

// book is what the window remembers of its pages.
type book struct {
	at     string         // id of the page in view; "" is the timeline
	last   string         // the page that was in view last
	fresh  bool           // the page came into view just now: its table gets the focus
	refs   []timeline.Ref // records of the chosen rows
	want   []timeline.Ref // records whose rows shall be chosen
	filter bool           // the filter shall get the focus
}

// inBook gives the page in view, or nil while the timeline is.
func (a *App) inBook() *page.Page {
	if a.work == nil {
		return nil
	}
	return a.pageOf(a.book.at)
}

// turn brings a page into view; "" the timeline.
func (a *App) turn(id string) {
	if a.book.at == id {
		a.book.fresh = id != ""
		return
	}
	if a.gesture != nil {
		a.gesture.Cancel()
		a.gesture = nil
		a.drop()
	}
	if a.song.Hearing() >= 0 {
		a.song.Hear()
	}
	if a.book.at != "" && !isView(a.book.at) {
		a.book.last = a.book.at
	}
	a.book.at, a.book.fresh, a.book.refs = id, id != "", nil
	a.song.Unhover()
	a.panel.record = timeline.Ref{}
	a.ui.Blur()
	a.again = true
	a.say("page %s", id)
}

// openBook goes between the timeline and the page that was in view last.
func (a *App) openBook() {
	switch {
	case a.book.at != "" && !isView(a.book.at):
		a.turn("")
	case a.book.last != "":
		a.turn(a.book.last)
	default:
		a.turn(a.pages[0].ID)
	}
}

// stepPage turns to the page after or before.
func (a *App) stepPage(n int) {
	at := slices.IndexFunc(a.pages, func(p page.Page) bool { return p.ID == a.book.at })
	if at < 0 && n < 0 {
		at = 0
	}
	a.turn(a.pages[(at+n+len(a.pages))%len(a.pages)].ID)
}

// toTimeline goes back to the timeline, from a page, a panel, a field or a selection.
func (a *App) toTimeline() {
	if !a.ui.HasFocus() && a.book.at == "" && a.work.Data != nil {
		a.work.View().Choose()
	}
	a.ui.Blur()
	a.turn("")
}

// bookCommands are the commands of the book: a page each, and going between them.
func (a *App) bookCommands() []command {
	list := []command{
		{id: "book", name: "Book or timeline", help: "goes between the timeline and the page of the book last seen", group: "Book", keys: []string{"Ctrl+B"}, off: needShow, run: (*App).openBook},
		{id: "book-on", name: "Next page of the book", help: "turns to the page after", group: "Book", keys: []string{"Ctrl+Shift+PgDn"}, repeats: true, off: needShow, run: func(a *App) { a.stepPage(1) }},
		{id: "book-back", name: "Previous page of the book", help: "turns to the page before", group: "Book", keys: []string{"Ctrl+Shift+PgUp"}, repeats: true, off: needShow, run: func(a *App) { a.stepPage(-1) }},
	}
	for i := range a.pages {
		p := &a.pages[i]
		list = append(list, command{id: "book-" + p.ID, name: p.Part + ": " + p.Name, help: p.Help, group: "Book", keys: p.Keys, off: needShow,
			run: func(a *App) { a.turn(p.ID) }})
	}
	return list
}

// hidden is the reason for which commands of the timeline rest while a page is in view.
const hidden = "the timeline is not in view; Esc goes back to it"

// ofTimeline reports whether a command needs the timeline in view.
func (c *command) ofTimeline() bool {
	switch c.id {
	case "fix", "fix-all", "accept", "phrase", "carry", "carry-undo", "bring-back":
		return false
	case "cut", "copy", "paste", "paste-same", "duplicate", "delete", "remove-time", "select-all", "select-none", "select-on", "select-back",
		"play-selection", "loop-selection", "mute", "solo", "frame-back", "frame-on", "beat-back", "beat-on", "mark-back", "mark-on", "song-start",
		"song-end", "page-back", "page-on", "lane-up", "lane-down", "cue-on", "cue-back", "cue-all-back", "cue-all-on", "zoom-in", "zoom-out",
		"zoom-song", "zoom-selection", "zoom-back", "follow", "context":
		return true
	}
	return c.group == "Cue"
}

// turns reports whether a command brings another page into view and does nothing else.
func (c *command) turns() bool { return strings.HasPrefix(c.id, "book") || c.id == "timeline" }

// actOf gives what a command does on the page in view; ok is false where it does what it always does.
func (a *App) actOf(c *command) (page.Act, bool) {
	p := a.inBook()
	if p == nil {
		return page.Act{}, false
	}
	if own, ok := p.Acts[c.id]; ok {
		return own, true
	}
	switch {
	case p.Only != nil && c.id != "help" && (slices.Contains(p.Only, c.id) || c.turns()):
		return page.Act{}, false
	case p.Only != nil && c.id != "help":
		return page.Act{Off: func() string {
			return "it cannot be done in " + p.Name + ", which changes nothing; " + a.key("timeline") + " leaves it"
		}}, true
	case c.id == "help":
		return page.Act{Off: page.Free, Run: a.askPageHelp}, true
	case c.id == "rename" && p.Rows != nil:
		return a.pageBinding(needChosen, func(a *App) {
			if !p.Rows.EditCell() {
				c.run(a)
			}
		}), true
	case c.id == "edit-values" || c.id == "rename":
		return a.pageBinding(needChosen, c.run), true
	case c.ofTimeline():
		return page.Act{Off: func() string { return hidden }}, true
	}
	return page.Act{}, false
}

// Reasons why a command cannot be used, as pages say them.

func needShow(a *App) string   { return page.NeedShow(a) }
func needEdit(a *App) string   { return page.NeedEdit(a) }
func needChosen(a *App) string { return page.NeedChosen(a) }

// dropGone takes records that are not in the show any more off the chosen ones.
func (a *App) dropGone() {
	gone := func(r timeline.Ref) bool { return find(a.work.Show, r) == nil }
	if slices.ContainsFunc(a.book.refs, gone) {
		a.book.refs = slices.DeleteFunc(slices.Clone(a.book.refs), gone)
	}
}

// bookPage draws the page in view under its name.
func (a *App) bookPage(p *page.Page, r image.Rectangle) {
	u := a.ui
	a.ground(r)
	u.Group("page")
	k := u.Stack(u.Inset(r, 10), 8)
	head := u.Stack(k.Top(24), 12)
	u.Label(head.Left(170), render.TypeTitle, render.InkText, p.Name)
	if now := a.notAsPlayed(); now != "" && p.ID != tonight.ID {
		u.Label(head.Rest(), render.TypeSmall, render.InkText, now)
	} else {
		u.Label(head.Rest(), render.TypeSmall, render.InkSecondary, upper(p.Help))
	}
	u.Push(p.ID)
	if p.Rows != nil {
		a.handRows(p.Rows)
	}
	p.Draw(k.Rest())
	u.Pop()
	a.book.fresh = false
}

// notAsPlayed says that what is in view is the show as it is, where the night in view was played; "" where it was not. Tonight and the
// sheets show such a night as it was commanded.
func (a *App) notAsPlayed() string {
	if a.work.Plan.AsPlayed {
		return ""
	}
	if played := report.HeadOf(a.work.Plan).Played; played != "" {
		return upper(played) + ": see Tonight and the sheets."
	}
	return ""
}

// handRows gives a table what is asked of the one that is drawn next.
func (a *App) handRows(t page.Rows) {
	if len(a.book.want) > 0 {
		t.Want(a.book.want)
		a.book.want = nil
	}
	if a.book.filter {
		t.FocusFilter()
		a.book.filter = false
	}
}

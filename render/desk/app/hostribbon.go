package app

import (
	"image"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/ribbon"
	"emberbeat/timeline"
)

// What the ribbon needs of the window.

var _ ribbon.Host = (*App)(nil)

// Heard gives the time of the song in view that is heard, or the playhead.
func (a *App) Heard() timeline.Time { return a.song.Heard() }

// GoSong brings a song into view.
func (a *App) GoSong(id timeline.ID) { a.song.GoSong(id) }

// DockAway reports whether the panel at the right could be seen and is not.
func (a *App) DockAway() bool { return !isView(a.book.at) && !a.dockShown() }

// views are the pages that are a way to look at the whole show rather than pages of the book, by id, as the ribbon calls them. One that the
// window does not have is not offered.
var views = []struct{ page, name, help string }{
	{"set-view", "Set", "All songs of the set side by side"},
	{"calling", "Call", "What is called next, in large letters"},
}

// isView reports whether a page is one of them.
func isView(id string) bool {
	return slices.ContainsFunc(views, func(v struct{ page, name, help string }) bool { return v.page == id })
}

// Views are the ways to look at the show.
func (a *App) Views() []ribbon.View {
	list := []ribbon.View{{Name: "Song", Command: "timeline", Help: "One song on the timeline", On: a.book.at == ""}}
	for _, v := range views {
		if a.pageOf(v.page) != nil {
			list = append(list, ribbon.View{Name: v.name, Command: "book-" + v.page, Help: v.help, On: a.book.at == v.page})
		}
	}
	return append(list, ribbon.View{Name: "Book", Command: "book", Help: "Pages of stock, rig, nights and findings", On: a.book.at != "" && !isView(a.book.at)})
}

// viewPage draws a view over the whole page.
func (a *App) viewPage(p *page.Page, r image.Rectangle) {
	a.ground(r)
	a.ui.Group("page")
	k := a.ui.Stack(r, 0)
	if now := a.notAsPlayed(); now != "" {
		line := k.Top(22)
		line.Min.X += a.ui.Px(12)
		a.ui.Label(line, render.TypeSmall, render.InkText, now)
	}
	a.ui.Push(p.ID)
	p.Draw(k.Rest())
	a.ui.Pop()
	a.book.fresh = false
}

// ribbonCommands are what can be done with a tile of the ribbon, to the song in view.
func ribbonCommands() []command {
	return []command{
		{id: "song-values", name: "Values of the song", help: "shows the song in view in the inspector", group: "Go", off: needSong, run: func(a *App) { a.Beside(timeline.Ref{Kind: "song", ID: a.work.Song}) }},
		{id: "song-earlier", name: "Song earlier in the set", help: "moves the song in view one place up in the running order that is played", group: "Edit", keys: []string{"Alt+PgUp"}, repeats: true,
			off: (*App).needSongEdit, run: func(a *App) { a.ribbon.Step(-1) }},
		{id: "song-later", name: "Song later in the set", help: "moves the song in view one place down in the running order that is played", group: "Edit", keys: []string{"Alt+PgDn"}, repeats: true,
			off: (*App).needSongEdit, run: func(a *App) { a.ribbon.Step(1) }},
	}
}

func (a *App) needSongEdit() string { return a.song.NeedSongEdit() }

package song

import (
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// Setlist lists the songs in the order they are played, with a word each for how far they are.
func (sp *Page) Setlist(r image.Rectangle) {
	u, w := sp.h.UI(), sp.work()
	ground := u.Scene()
	ground.Rect(r, render.InkPanel)
	ground.Rect(image.Rect(r.Max.X-u.Px(1), r.Min.Y, r.Max.X, r.Max.Y), render.InkBar)
	u.Group("setlist")
	k := u.Stack(u.Inset(r, 8), 6)
	sp.setChoice(k.Top(widget.RowHeight))
	songs := w.Setlist()
	at := -1
	for i, s := range songs {
		if s.ID == w.Song {
			at = i
		}
	}
	if at >= 0 && (sp.songs.Cursor != at || !sp.songs.Has(at)) {
		sp.songs.Only(at)
	}
	foot := k.Bottom(widget.RowHeight)
	if u.Off(page.NeedEdit(sp.h)).Button("add-song", foot, "Add audio…") {
		sp.h.Use("import")
	}
	u.Tip("Adds a song from an audio file", sp.h.Key("import"))
	counts := w.Counts()
	spec := widget.TableSpec{
		Columns: []widget.Column{{}}, Rows: len(songs),
		Empty: "No song yet. Drop an audio file on the window, or press " + sp.h.Key("import") + ".",
		Cell:  func(b []byte, row, _ int) []byte { return append(b, songs[row].FullTitle()...) },
		Draw:  func(row, _ int, r image.Rectangle) bool { return sp.songRow(songs[row], counts, r) },
	}
	if e := u.List("songs", k.Rest(), &sp.songs, &spec); e.Changed && sp.songs.Cursor < len(songs) {
		id := songs[sp.songs.Cursor].ID
		sp.GoSong(id)
		if e.Used {
			sp.h.Beside(timeline.Ref{Kind: "song", ID: id})
		}
	}
}

// setChoice chooses the running order of the tour; a night brings its own.
func (sp *Page) setChoice(r image.Rectangle) {
	w := sp.work()
	if len(w.Show.Sets) == 0 {
		sp.h.UI().Label(r, render.TypeStrong, render.InkSecondary, "All songs by timecode")
		return
	}
	var names []string
	at := -1
	for i, s := range w.Show.Sets {
		names = append(names, s.Name)
		if w.Plan.Set != nil && s.ID == w.Plan.Set.ID {
			at = i
		}
	}
	why := page.NeedEdit(sp.h)
	if w.Night != "" {
		why = "the night brings its own set; change it in the night's record"
	}
	if now, changed := sp.h.UI().Off(why).Dropdown("set", r, names, at); changed {
		page.UseSet(sp.h, w.Show.Sets[now])
	}
}

// songRow draws a song of the setlist: its number, title and state.
func (sp *Page) songRow(song *timeline.Song, counts map[timeline.ID][3]int, r image.Rectangle) bool {
	s, w := sp.h.UI().Scene(), sp.work()
	number := ""
	for i := range w.Plan.Songs {
		if w.Plan.Songs[i].Song.ID == song.ID {
			number = strconv.Itoa(w.Plan.Songs[i].Number)
		}
	}
	row := sp.h.UI().Stack(r, 6)
	s.TextIn(row.Left(14), render.Right, render.TypeSmall, render.InkFaint, number)
	word := w.StateWord(song, counts[song.ID])
	width := s.Face(render.TypeSmall).Measure(word) * 100 / int(s.Scale)
	s.TextIn(row.Right(width+1), render.Right, render.TypeSmall, render.InkFaint, word)
	typ, ink := render.TypeLabel, render.InkText
	if song.ID == w.Song {
		typ = render.TypeStrong
	}
	if number == "" {
		ink = render.InkSecondary
	}
	sp.h.UI().Label(row.Rest(), typ, ink, song.FullTitle())
	return true
}

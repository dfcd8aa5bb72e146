package app

import (
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/work"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// setlist lists the songs in the order they are played, with a word each for how far they are.
func (a *App) setlist(r image.Rectangle) {
	u, w := a.ui, a.work
	a.ground(r)
	a.ruleRight(r)
	u.Group("setlist")
	k := u.Stack(u.Inset(r, 8), 6)
	a.setChoice(k.Top(widget.RowHeight))
	songs := w.Setlist()
	at := -1
	for i, s := range songs {
		if s.ID == w.Song {
			at = i
		}
	}
	if at >= 0 && (a.panel.songs.Cursor != at || !a.panel.songs.Has(at)) {
		a.panel.songs.Only(at)
	}
	foot := k.Bottom(widget.RowHeight)
	if u.Off(needEdit(a)).Button("add-song", foot, "Add audio…") {
		a.Use("import")
	}
	u.Tip("Adds a song from an audio file", a.key("import"))
	counts := w.Counts()
	spec := widget.TableSpec{
		Columns: []widget.Column{{}}, Rows: len(songs),
		Empty: "No song yet. Drop an audio file on the window, or press " + a.key("import") + ".",
		Cell:  func(b []byte, row, _ int) []byte { return append(b, songs[row].FullTitle()...) },
		Draw:  func(row, _ int, r image.Rectangle) bool { return a.songRow(songs[row], counts, r) },
	}
	if e := u.List("songs", k.Rest(), &a.panel.songs, &spec); e.Changed && a.panel.songs.Cursor < len(songs) {
		id := songs[a.panel.songs.Cursor].ID
		a.goSong(id)
		if e.Used {
			a.inspect(timeline.Ref{Kind: "song", ID: id})
		}
	}
}

// setChoice chooses the running order of the tour; a night brings its own.
func (a *App) setChoice(r image.Rectangle) {
	w := a.work
	if len(w.Show.Sets) == 0 {
		a.ui.Label(r, render.TypeStrong, render.InkSecondary, "All songs by timecode")
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
	why := needEdit(a)
	if w.Night != "" {
		why = "the night brings its own set; change it in the night's record"
	}
	if now, changed := a.ui.Off(why).Dropdown("set", r, names, at); changed {
		page.UseSet(a, w.Show.Sets[now])
	}
}

// songRow draws a song of the setlist: its number, title and state.
func (a *App) songRow(song *timeline.Song, counts map[timeline.ID][3]int, r image.Rectangle) bool {
	s, w := a.ui.Scene(), a.work
	number := ""
	for i := range w.Plan.Songs {
		if w.Plan.Songs[i].Song.ID == song.ID {
			number = strconv.Itoa(w.Plan.Songs[i].Number)
		}
	}
	row := a.ui.Stack(r, 6)
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
	a.ui.Label(row.Rest(), typ, ink, song.FullTitle())
	return true
}

// findingList lists the findings of the whole plan.
func (a *App) findingList(r image.Rectangle) {
	u, w := a.ui, a.work
	a.ground(r)
	u.Group("findings")
	s := u.Scene()
	s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+s.Px(1)), render.InkBar)
	k := u.Stack(u.Inset(r, 6), 4)
	head := u.Stack(k.Top(24), 8)
	if u.Button("close-findings", head.Right(70), "Close") {
		a.panel.list = false
		a.again = true
	}
	u.Tip("Closes the list", a.key("findings"))
	if u.Off(needAccept(a)).Button("accept", head.Right(90), "Accept…") {
		a.Use("accept")
	}
	u.Tip("Takes the chosen finding for this night, with a reason; it stays counted", a.key("accept"))
	f := a.chosenFinding()
	if f != nil && f.Fix != nil {
		label := "Fix: " + f.Fix.Label
		if u.Off(needFix(a)).MainButton("fix", head.Right(min(u.ButtonWidth(label), 380)), label) {
			a.Use("fix")
		}
		u.Tip("Makes this change; undo takes it back", a.key("fix"))
	}
	text := w.Summary()
	if f != nil && f.Help != "" {
		text = f.Help
	}
	u.Label(head.Rest(), render.TypeLabel, render.InkSecondary, text)
	spec := widget.TableSpec{
		Columns: []widget.Column{{Title: "", Width: 24}, {Title: "Rule", Width: 130}, {Title: "Song", Width: 110}, {Title: "Where", Width: 190}, {Title: "What"}},
		Rows:    len(w.Findings), Empty: w.Summary(),
		Cell: func(b []byte, row, col int) []byte { return findingCell(w, b, &w.Findings[row], col) },
		Draw: func(row, col int, r image.Rectangle) bool {
			if col == 0 {
				mid := image.Pt((r.Min.X+r.Max.X-s.Px(render.BadgeSize))/2, (r.Min.Y+r.Max.Y-s.Px(render.BadgeSize))/2)
				s.Badge(mid, render.SeverityOf(w.Findings[row].Severity))
			}
			return col == 0
		},
		Ink: func(row int) render.Ink {
			if w.Findings[row].Accepted != nil {
				return render.InkFaint
			}
			return render.InkText
		},
	}
	if e := u.Table("findings", k.Rest(), &a.panel.finding, &spec); e.Changed || e.Used {
		a.goFinding(min(a.panel.finding.Cursor, len(w.Findings)-1))
	}
}

func findingCell(w *work.Work, b []byte, f *rule.Finding, col int) []byte {
	switch col {
	case 1:
		return append(b, f.Rule...)
	case 2:
		if s := w.Show.Song(f.Song); s != nil {
			return append(b, s.FullTitle()...)
		}
	case 3:
		return append(b, work.Where(f, w.Plan.Rate)...)
	case 4:
		if f.Accepted != nil {
			b = append(b, "accepted: "...)
		}
		return append(b, f.Text...)
	}
	return b
}

func (a *App) toggleFindings() { a.panel.list = !a.panel.list }

func (a *App) toggleSide() {
	a.prefs.Side = !a.prefs.Side
	a.prefs.Save()
}

func (a *App) showRecords() {
	a.panel.records = !a.panel.records
	a.panel.side = sideInspector
	if a.panel.records && a.prefs.Side {
		a.toggleSide()
	}
}

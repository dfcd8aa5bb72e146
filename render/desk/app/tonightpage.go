package app

import (
	"cmp"
	"fmt"
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
	"emberbeat/timeline"
)

// tonightState is what the page of tonight remembers.
type tonightState struct {
	songs, todo widget.Selection
	focus       bool // the songs shall get the focus as soon as they are there
}

// tonightPage shows what the crew reads before it starts on a night. Every line leads to where it is mended.
func (a *App) tonightPage(r image.Rectangle) {
	u, w := a.ui, a.work
	a.tonightSeen.focus = a.tonightSeen.focus || a.book.fresh
	k := u.Stack(r, 8)
	a.tonightHead(k.Top(44))
	a.commandButtons(&k, []string{"book-nights", "book-sets", "book-stage-plan", "export-all", "findings"})
	if w.plan.Night == nil && len(w.shown.Nights) == 0 {
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkFaint, "The show has no night yet, so this is the tour. Turn to the page Nights with "+a.key("book-nights")+" and press "+a.key("row-add")+" to make one.")
		return
	}
	t := a.tonight()
	if t == nil {
		text := "Checking the night and making its sheet…"
		if w.tonightReport.of == w.plan && w.tonightReport.err != nil {
			text = "The sheet of the night cannot be made: " + w.tonightReport.err.Error()
		}
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkFaint, text)
		return
	}
	a.tonightTiles(k.Top(62), t)
	h := u.ParagraphHeight(k.Rest().Dx(), render.TypeSmall, t.Caution)
	u.Paragraph(k.Bottom(h*100/int(u.Scene().Scale)+2), render.TypeSmall, render.InkSecondary, t.Caution)
	area := k.Rest()
	half := u.Stack(area, 10)
	left := half.Left(area.Dx() * 100 / int(u.Scene().Scale) * 47 / 100)
	a.tonightSongs(left, t)
	a.tonightTodo(half.Rest(), t)
}

// tonightHead says which night it is.
func (a *App) tonightHead(r image.Rectangle) {
	u, p := a.ui, a.work.plan
	k := u.Stack(r, 0)
	title := "The tour, no night"
	if n := p.Night; n != nil {
		title = cmp.Or(n.Date, "no date") + "   " + n.Name
	}
	u.Label(k.Top(24), render.TypeTitle, render.InkText, title)
	h := report.HeadOf(p)
	place := "venue not given"
	if h.Venue != "" {
		place = h.Venue
		if h.Place != "" {
			place += ", " + h.Place
		}
	}
	text := place + "   set " + cmp.Or(h.Set, "not given") + "   revision " + cmp.Or(h.Revision, "not given") + "   rule set " + cmp.Or(h.RuleSet, "not given") + "   timecode " + h.Rate
	u.Label(k.Rest(), render.TypeLabel, render.InkSecondary, text)
}

// tile is a number with what it counts; strong ones want an eye.
type tile struct {
	number, word string
	strong       bool
}

// tonightTiles draws the counts of the night.
func (a *App) tonightTiles(r image.Rectangle, t *night.Tonight) {
	u := a.ui
	s := u.Scene()
	tiles := tilesOf(t)
	for i, x := range tiles {
		box := widget.Columns(r, len(tiles), i, s.Px(8))
		s.Rect(box, render.InkLane)
		s.Frame(box, s.Px(1), render.InkBar)
		in := box.Inset(s.Px(6))
		in.Min.X += s.Px(4)
		ink := render.InkSecondary
		if x.strong {
			ink = render.InkText
			s.Rect(image.Rect(box.Min.X, box.Min.Y, box.Min.X+s.Px(4), box.Max.Y), render.InkText)
		}
		k := u.Stack(in, 0)
		s.TextCut(k.Top(30), render.TypeCounter, ink, x.number)
		u.Label(k.Rest(), render.TypeSmall, ink, x.word)
	}
}

// tilesOf gives the counts of a night.
func tilesOf(t *night.Tonight) []tile {
	hits, cut, swapped, open, thin, swaps := 0, 0, 0, 0, 0, 0
	for i := range t.Songs {
		s := &t.Songs[i]
		hits, cut, swapped, open = hits+s.Hits, cut+s.Cut, swapped+s.Swapped, open+s.Lost+s.Partly
		if s.Thin {
			thin++
		}
	}
	for i := range t.Supplies {
		swaps += len(t.Supplies[i].Swaps)
	}
	n := func(n int, word string, eye bool) tile { return tile{strconv.Itoa(n), word, eye && n > 0} }
	findings := t.Checked.Errors + t.Checked.Warnings + t.Checked.Notes - t.Checked.Accepted
	return []tile{n(len(t.Songs), "songs", false), n(hits, "cues", false), n(cut, "cut", false), n(swapped, "swapped", false), n(open, "unresolved", true),
		n(thin, "thin songs", true), n(t.Used.Pieces, "to load", false), n(swaps, "supply swaps", false), n(findings, "findings", true), n(len(t.Sign), "to sign", false)}
}

// tonightSongs lists the songs of the night in order.
func (a *App) tonightSongs(r image.Rectangle, t *night.Tonight) {
	u := a.ui
	key, narrow := "songs", r.Dx() < u.Px(narrowSongs)
	if narrow {
		key = "songs-narrow" // widths go with the key
	}
	if a.tonightSeen.focus {
		u.Focus(key)
		a.tonightSeen.focus = false
	}
	columns, shown := songColumns(narrow)
	spec := widget.TableSpec{Rows: len(t.Songs), Columns: columns, Empty: "No song is played. Turn to the page Sets with " + a.key("book-sets") + ".",
		Cell: func(b []byte, row, col int) []byte { return append(b, songCell(&t.Songs[row], shown[col])...) }}
	if e := u.Table(key, r, &a.tonightSeen.songs, &spec); e.Used && e.Row < len(t.Songs) {
		a.turn("")
		a.goSong(timeline.ID(t.Songs[e.Row].Song))
	}
}

// narrowSongs is the logical width below which the table of songs leaves out timecode and remarks.
const narrowSongs = 560

// songColumns gives the columns of the table of songs, and which they are.
func songColumns(narrow bool) (list []widget.Column, shown []int) {
	all := []widget.Column{{Title: "No", Width: 36, Right: true}, {Title: "Song"}, {Title: "Timecode", Width: 100}, {Title: "Played", Width: 64, Right: true}, {Title: "Cut", Width: 44, Right: true},
		{Title: "Swapped", Width: 72, Right: true}, {Title: "Unresolved", Width: 84, Right: true}, {Title: "", Width: 96}}
	for i, c := range all {
		if !narrow || i != 2 && i != 7 {
			list, shown = append(list, c), append(shown, i)
		}
	}
	return list, shown
}

func songCell(s *night.Song, col int) string {
	some := func(n int) string {
		if n == 0 {
			return ""
		}
		return strconv.Itoa(n)
	}
	switch col {
	case 0:
		return strconv.Itoa(s.Number)
	case 1:
		if s.Thin {
			return s.Title + " (thin)"
		}
		return s.Title
	case 2:
		return s.Start
	case 3:
		return fmt.Sprintf("%d/%d", s.Hits, s.Tour)
	case 4:
		return some(s.Cut)
	case 5:
		return some(s.Swapped)
	case 6:
		return some(s.Lost + s.Partly)
	}
	switch {
	case s.Thin:
		return fmt.Sprintf("thin: %d of %d hits lost", s.Tour-s.Hits, s.Tour)
	case s.Moved:
		return "start moved"
	case s.Shift != 0:
		return "moved by " + timeline.Time(s.Shift).Text(4) + " s"
	case s.Encore:
		return "encore"
	case s.Alt != "":
		return "alternative " + s.Alt
	}
	return ""
}

// startNight chooses the night of a show that was just opened: the one planned for last, else the one whose date is today; the page of
// tonight is then what is seen first.
func (a *App) startNight() {
	w := a.work
	id := timeline.ID(a.prefs.planned(w.s.Dir()))
	if w.s.Show().Night(id) == nil {
		id = ""
		today := a.o.Now().Format("2006-01-02")
		for _, n := range w.s.Show().Nights {
			if n.Date == today {
				id = n.ID
			}
		}
	}
	if id == "" {
		if n := len(w.s.Show().Nights); n > 0 && a.note.text == "" {
			a.tell("%s planned: choose one at the top right, then %s shows what it needs", counted(n, "night"), a.key("book-tonight"))
		}
		return
	}
	w.night = id
	a.turn("tonight")
}

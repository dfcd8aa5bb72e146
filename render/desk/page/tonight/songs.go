package tonight

import (
	"fmt"
	"image"
	"strconv"

	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/shows/report/night"
	"emberbeat/timeline"
)

// songTable lists the songs of the night in order.
func (p *Tonight) songTable(r image.Rectangle, t *night.Tonight) {
	u := p.h.UI()
	key, narrow := "songs", r.Dx() < u.Px(narrowSongs)
	if narrow {
		key = "songs-narrow" // widths go with the key
	}
	if p.focus {
		u.Focus(key)
		p.focus = false
	}
	columns, shown := songColumns(narrow)
	spec := widget.TableSpec{Rows: len(t.Songs), Columns: columns, Empty: "No song is played. Turn to the page Sets with " + p.h.Key("book-sets") + ".",
		Cell: func(b []byte, row, col int) []byte { return append(b, songCell(&t.Songs[row], shown[col])...) },
		Draw: func(row, col int, r image.Rectangle) bool {
			if shown[col] != bandColumn {
				return false
			}
			p.bands.draw(u.Scene(), row, r)
			return true
		}}
	p.bands.gather(p.h.Plan())
	if e := u.Table(key, r, &p.songs, &spec); e.Used && e.Row < len(t.Songs) {
		p.h.Turn("", timeline.Ref{Kind: "song", ID: timeline.ID(t.Songs[e.Row].Song)})
	}
}

// narrowSongs is the logical width below which the table of songs leaves out timecode and remarks.
const narrowSongs = 560

// bandColumn is the place of the column that is drawn.
const bandColumn = 8

// songColumns gives the columns of the table of songs, and which they are.
func songColumns(narrow bool) (list []widget.Column, shown []int) {
	all := []widget.Column{{Title: "No", Width: 36, Right: true}, {Title: "Song"}, {Title: "Timecode", Width: 100}, {Title: "Played", Width: 64, Right: true}, {Title: "Cut", Width: 44, Right: true},
		{Title: "Swapped", Width: 72, Right: true}, {Title: "Lost", Width: 48, Right: true}, {Title: "", Width: 96}, {Title: "Hits", Width: 150}}
	for i, c := range all {
		if !narrow || i == 0 || i == 1 || i == 3 || i == bandColumn {
			if narrow && i == bandColumn {
				c.Width = 110
			}
			list, shown = append(list, c), append(shown, i)
		}
	}
	return list, shown
}

func songCell(s *night.Song, col int) string {
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
		return page.BlankZero(s.Cut)
	case 5:
		return page.BlankZero(s.Swapped)
	case 6:
		return page.BlankZero(s.Lost + s.Partly)
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

package tonight

import (
	"image"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/shows/report/night"
)

// todoTable lists what there is to do; Enter or a double click on a line goes where it is mended.
func (p *Tonight) todoTable(r image.Rectangle, t *night.Tonight) {
	u := p.h.UI()
	list := p.Todos(t)
	s := u.Scene()
	spec := widget.TableSpec{Rows: len(list), Columns: []widget.Column{{Title: "To do"}, {Title: "", Width: detailWide(u, r)}},
		Cell: func(b []byte, row, col int) []byte {
			return append(b, []string{list[row].Text, list[row].Detail}[col]...)
		},
		Draw: func(row, col int, r image.Rectangle) bool { return drawTodo(s, &list[row], col, r) },
		Ink: func(row int) render.Ink {
			if list[row].Lead == nil {
				return render.InkSecondary
			}
			return render.InkText
		}}
	e := u.Table("todo", r, &p.todo, &spec)
	u.Tip("Enter or a double click leads to where the line is mended", "")
	if e.Used && e.Row < len(list) && list[e.Row].Lead != nil {
		list[e.Row].Lead()
	}
}

// drawTodo draws headings and badges.
func drawTodo(s *render.Scene, t *Todo, col int, r image.Rectangle) bool {
	switch {
	case t.Head && col == 0:
		s.TextCut(image.Rect(r.Min.X, r.Min.Y, r.Max.X+s.Px(190), r.Max.Y), render.TypeStrong, render.InkText, t.Text)
		return true
	case t.Badge != "" && col == 0:
		s.Badge(image.Pt(r.Min.X, (r.Min.Y+r.Max.Y-s.Px(render.BadgeSize))/2), render.SeverityOf(t.Badge))
		s.TextCut(image.Rect(r.Min.X+s.Px(render.BadgeSize+6), r.Min.Y, r.Max.X, r.Max.Y), render.TypeLabel, render.InkText, t.Text)
		return true
	}
	return false
}

// detailWide is the logical width of the details beside what there is to do.
func detailWide(u *widget.UI, r image.Rectangle) int {
	if r.Dx() < u.Px(narrowSongs) {
		return 190
	}
	return 280
}

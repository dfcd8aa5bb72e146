package widget

import (
	"errors"
	"image"
	"strconv"

	"emberbeat/render"
)

// fields draws the second column: what is typed and chosen.
func (g *Gallery) fields(u *UI, r image.Rectangle) {
	f := u.Form(r, 92)
	f.Head("Text")
	if e := u.TextField("title", f.Row("title"), g.title, TextSpec{Check: needsName}); e.Committed {
		g.title, g.last = e.Text, "renamed to "+e.Text
	}
	u.TextField("empty", f.Row("empty"), "", TextSpec{Hint: "a note for the crew"})
	u.Off("the song is locked").TextField("fixed", f.Row("unusable"), "Harbour Lights", TextSpec{})
	f.Head("Numbers")
	if e := u.Number("open", f.Row("open time"), g.number, &openTime); e.Changed {
		g.number, g.last = e.Value, "open time "+openTime.Text(e.Value)
	}
	if e := u.Number("lead", f.Row("lead"), g.frames, &lead); e.Changed {
		g.frames, g.last = e.Value, "lead "+lead.Text(e.Value)
	}
	u.Number("height", f.Row("wrong"), 6000, &wrongHeight)
	u.Off("it follows from the article").Number("fallout", f.Row("unusable"), 8000, &NumberSpec{Units: []Unit{{"m", 1000, 1}}, Digits: 1})
	f.Head("One of several")
	if at, ok := u.Dropdown("article", f.Row("article"), articles, g.article); ok {
		g.article, g.last = at, "article "+articles[at]
	}
	u.Dropdown("none", f.Row("none yet"), articles, -1)
	u.Off("no venue has a limit").Dropdown("limit", f.Row("unusable"), []string{"Open air"}, 0)
	f.Head("Some of several")
	row, ok := u.Checks("checks", f.Rows("checks", 4*LineHeight), &g.boxes, &ChecksSpec{
		Rows: len(g.boxOn), Label: func(b []byte, row int) []byte { return append(b, articles[row]...) }, On: func(row int) bool { return g.boxOn[row] },
	})
	if ok {
		g.boxOn[row] = !g.boxOn[row]
	}
	g.paragraphs(u, f.Rows("scroll", 72))
}

func needsName(text string) error {
	if text == "" {
		return errors.New("a song needs a title of one letter or more")
	}
	return nil
}

// paragraphs draws text that is longer than its place.
func (g *Gallery) paragraphs(u *UI, r image.Rectangle) {
	const text = "A command leaves before its hit: the lead is what the device needs until the audience sees it. " +
		"Where two cues of one device lie closer together than its recovery, the second comes late or not at all. " +
		"The density strip shows how much happens at once, and where a limit of the venue is passed."
	s := u.Scene()
	s.Rect(r, render.InkLane)
	high := u.ParagraphHeight(r.Dx()-u.Px(scrollBar+16), render.TypeSmall, text) + 2*u.Px(6)
	in := u.BeginScroll("text", r, high)
	u.Paragraph(in.Inset(u.Px(6)), render.TypeSmall, render.InkText, text)
	u.EndScroll()
}

// lists draws the third column.
func (g *Gallery) lists(u *UI, r image.Rectangle) {
	stack := u.Stack(r, 12)
	f := u.Form(stack.Top(30), 0)
	f.Head("Ten thousand rows")
	foot := stack.Bottom(92)
	spec := TableSpec{Columns: galleryColumns[:], Rows: GalleryRows, Cell: g.cell, Sorted: g.sorted, Multi: true}
	e := u.Table("cues", stack.Rest(), &g.rows, &spec)
	if e.Sort != 0 {
		g.sorted = e.Sort
	}
	switch {
	case e.Used:
		g.last = "used row " + strconv.Itoa(e.Row+1)
	case e.Menu:
		u.OpenMenu("row menu", image.Rectangle{Min: e.At, Max: e.At})
	}
	if id, ok := u.Menu("row menu", galleryMenus[1].Sub); ok {
		g.last = "row menu " + id
	}
	empty := TableSpec{Columns: []Column{{Title: "Finding"}, {Title: "Bar", Width: 70}}, Empty: "No findings. Spacing, recovery and stock were checked."}
	u.Table("findings", foot, &g.boxes, &empty)
}

var galleryColumns = [...]Column{{Title: "Bar", Width: 76, Right: true, Sorts: true}, {Title: "Article", Sorts: true}, {Title: "Open", Width: 76, Right: true, Sorts: true}}

// cell gives the text of a cell of the large table.
func (g *Gallery) cell(b []byte, row, col int) []byte {
	if g.sorted < 0 {
		row = GalleryRows - 1 - row
	}
	switch col {
	case 0:
		b = append(strconv.AppendInt(b, int64(row/4+1), 10), '.')
		return strconv.AppendInt(b, int64(row%4+1), 10)
	case 1:
		return append(b, articles[row*7%len(articles)]...)
	}
	return openTime.AppendText(b, int64(row%40+1)*flick/20)
}

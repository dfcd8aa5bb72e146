package widget

import (
	"image"

	"emberbeat/render"
)

// HelpPart is a part of the help: a heading and what keys do.
type HelpPart struct {
	Title string
	Rows  []HelpRow
}

// HelpRow says what keys do.
type HelpRow struct{ Keys, Text string }

// helpLine is the logical height of a line of help.
const helpLine = 24

// Help shows keys over the window as long as it is called, in as many columns as fit, and says whether it was left.
func (u *UI) Help(key, title string, parts []HelpPart) (closed bool) {
	s := u.Scene()
	logical := func(px int) int { return px * 100 / int(s.Scale) }
	w := min(logical(s.Size.X)-40, 1020)
	columns := min(max((w-2*dialogPad-scrollBar)/300, 1), 3)
	room := image.Rect(0, 0, u.Px(w-2*dialogPad-scrollBar), 0)
	high := u.helpHigh(parts, columns, Columns(room, columns, 0, u.Px(helpGap)).Dx())
	h := min(logical(s.Size.Y)-40, logical(high)+dialogHead+dialogFoot+1)
	d := u.BeginDialog(key, title, w, h)
	content := u.BeginScroll("parts", d.Body, high)
	content.Max.X = content.Min.X + room.Dx()
	for i := range columns {
		u.helpColumn(parts, columns, i, Columns(content, columns, i, u.Px(helpGap)), true)
	}
	u.EndScroll()
	closed = d.Buttons(Choice{Label: "Close", Main: true}) == 0
	d.End()
	return closed || d.Closed
}

// Logical sizes of the help: the column of the keys, the gap between columns.
const (
	helpKeys = 104
	helpGap  = 24
)

// helpSplit gives which column a part stands in: the one in which its middle line would be if the lines were dealt out evenly.
func helpSplit(parts []HelpPart, columns, part int) int {
	all, before := 0, 0
	for i := range parts {
		n := len(parts[i].Rows) + 2
		if i < part {
			before += n
		}
		all += n
	}
	return min((2*before+len(parts[part].Rows)+2)*columns/max(2*all, 1), columns-1)
}

// helpHigh gives the device pixels of the highest column.
func (u *UI) helpHigh(parts []HelpPart, columns, width int) int {
	high := 0
	for i := range columns {
		high = max(high, u.helpColumn(parts, columns, i, image.Rect(0, 0, width, 0), false))
	}
	return high
}

// helpColumn sets the parts of one column, draws them if told to, and gives how high they are.
func (u *UI) helpColumn(parts []HelpPart, columns, column int, r image.Rectangle, draw bool) int {
	y := r.Min.Y
	for i := range parts {
		if helpSplit(parts, columns, i) != column {
			continue
		}
		if y > r.Min.Y {
			y += u.Px(helpLine)
		}
		if draw {
			u.Label(image.Rect(r.Min.X, y, r.Max.X, y+u.Px(helpLine)), render.TypeStrong, render.InkText, parts[i].Title)
		}
		y += u.Px(helpLine)
		for _, row := range parts[i].Rows {
			y += u.helpRow(row, image.Rect(r.Min.X, y, r.Max.X, y+u.Px(helpLine)), draw)
		}
	}
	return y - r.Min.Y
}

// helpRow sets a key and what it does beside it, in as many lines as that needs, and gives its height.
func (u *UI) helpRow(row HelpRow, line image.Rectangle, draw bool) int {
	keys := u.keyWidth(row.Keys)
	text := line
	text.Min.X += max(u.Px(helpKeys), keys+u.Px(Gap))
	text.Min.Y += (u.Px(helpLine) - u.Scene().Face(render.TypeLabel).Height()) / 2
	if draw {
		u.keyCap(image.Rect(line.Min.X, line.Min.Y, line.Min.X+keys, line.Max.Y), row.Keys)
		u.Paragraph(text, render.TypeLabel, render.InkText, row.Text)
	}
	return max(u.ParagraphHeight(text.Dx(), render.TypeLabel, row.Text)+u.Px(6), u.Px(helpLine))
}

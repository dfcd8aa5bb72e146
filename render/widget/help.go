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
	w := min(s.Size.X*100/int(s.Scale)-40, 1020)
	columns := min(max((w-2*dialogPad-scrollBar)/300, 1), 3)
	high := u.helpHigh(parts, columns)
	h := min(s.Size.Y*100/int(s.Scale)-40, 640, high*100/int(s.Scale)+dialogHead+dialogFoot)
	d := u.BeginDialog(key, title, w, h)
	content := u.BeginScroll("parts", d.Body, high)
	for i := range columns {
		u.helpColumn(parts, columns, i, Columns(content, columns, i, u.Px(24)))
	}
	u.EndScroll()
	closed = d.Buttons(Choice{Label: "Close", Main: true}) == 0
	d.End()
	return closed || d.Closed
}

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

func (u *UI) helpHigh(parts []HelpPart, columns int) int {
	var room [3]int
	for i := range parts {
		room[helpSplit(parts, columns, i)] += u.Px(helpLine * (len(parts[i].Rows) + 2))
	}
	return max(room[0], room[1], room[2])
}

// helpColumn draws the parts of one column.
func (u *UI) helpColumn(parts []HelpPart, columns, column int, r image.Rectangle) {
	stack := u.Stack(r, 0)
	s := u.Scene()
	for i := range parts {
		if helpSplit(parts, columns, i) != column {
			continue
		}
		u.Label(stack.Top(helpLine), render.TypeStrong, render.InkText, parts[i].Title)
		for _, row := range parts[i].Rows {
			line := stack.Top(helpLine)
			side := line
			side.Max.X = side.Min.X + s.Px(110)
			u.keyCap(image.Rect(side.Min.X, line.Min.Y, side.Min.X+u.keyWidth(row.Keys), line.Max.Y), row.Keys)
			line.Min.X = max(side.Max.X, side.Min.X+u.keyWidth(row.Keys)) + s.Px(8)
			u.Label(line, render.TypeLabel, render.InkText, row.Text)
		}
		stack.Top(helpLine)
	}
}

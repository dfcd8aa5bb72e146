package widget

import (
	"image"

	"emberbeat/render"
)

// ChecksSpec says what a list of boxes shows.
type ChecksSpec struct {
	Rows  int
	Label func(b []byte, row int) []byte // appends the label of a row to b
	On    func(row int) bool
	Empty string
}

// Checks draws a list whose rows have boxes and gives the row whose box was used. The keys are those of a list; Enter, or a press on the
// box, checks and unchecks.
func (u *UI) Checks(key string, r image.Rectangle, sel *Selection, spec *ChecksSpec) (row int, toggled bool) {
	table := TableSpec{
		Columns: u.oneColumn(), Rows: spec.Rows, Empty: spec.Empty,
		Cell: func(b []byte, row, _ int) []byte { return spec.Label(b, row) },
	}
	off := ""
	table.Draw = func(row, _ int, r image.Rectangle) bool {
		line := u.Stack(r, Gap)
		c := control{off: off}
		u.checkBox(line.Left(18), c, spec.On(row))
		u.scratch = spec.Label(u.scratch[:0], row)
		if !u.Scene().BytesIn(line.Rest(), render.Left, render.TypeLabel, c.words(), u.scratch) {
			u.Label(line.Rest(), render.TypeLabel, c.words(), string(u.scratch))
		}
		return true
	}
	off = u.peekOff()
	e := u.Table(key, r, sel, &table)
	onBox := u.in.Pressed&Primary != 0 && u.in.Pointer.X < r.Min.X+u.Px(8+18+Gap/2)
	if e.Used || e.Changed && onBox {
		return e.Row, true
	}
	return 0, false
}

// oneColumn gives the columns of a plain list.
func (u *UI) oneColumn() []Column { return plainColumns[:] }

var plainColumns = [1]Column{}

// peekOff gives the reason that will hold for the next control.
func (u *UI) peekOff() string {
	if u.off == "" && len(u.offs) > 0 {
		return u.offs[len(u.offs)-1]
	}
	return u.off
}

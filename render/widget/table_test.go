package widget

import (
	"image"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// tableBench is a window with one table of numbered rows.
type tableBench struct {
	*bench
	sel  Selection
	spec TableSpec
	last TableEvent // the last event that says anything
}

func newTableBench(rows int) *tableBench {
	names := []string{"ash", "brand", "coal", "cinder"}
	x := &tableBench{spec: TableSpec{Columns: []Column{{Title: "Name", Sorts: true}, {Title: "No", Width: 60, Right: true}}, Rows: rows, Multi: true}}
	x.spec.Cell = func(b []byte, row, col int) []byte {
		if col == 1 {
			return strconv.AppendInt(b, int64(row), 10)
		}
		return append(b, names[row%len(names)]...)
	}
	x.bench = newBench(300, 28+10*LineHeight, func(u *UI) {
		if e := u.Table("t", u.Bounds(), &x.sel, &x.spec); e != (TableEvent{}) {
			x.last = e
		}
	})
	return x
}

// top gives the first row in view.
func (x *tableBench) top() int { return x.ui.tables[x.ui.id("t")].scroll.y / LineHeight }

// rowY gives the middle of the row n from the top of the view.
func rowY(n int) int { return 28 + n*LineHeight + LineHeight/2 }

func TestTableKeys(t *testing.T) {
	x := newTableBench(10_000)
	x.ui.Focus("t")
	x.frame(Input{})
	x.tap(KeyDown, KeyDown)
	require.Equal(t, []int{2}, x.sel.Rows())
	x.key(Press{Key: KeyDown, Mods: Shift}, Press{Key: KeyDown, Mods: Shift})
	require.Equal(t, []int{2, 3, 4}, x.sel.Rows())
	x.key(Press{Key: KeyUp, Mods: Shift})
	require.Equal(t, []int{2, 3}, x.sel.Rows())
	x.tap(KeyEnd)
	require.Equal(t, []int{9999}, x.sel.Rows())
	require.Equal(t, 9990, x.top(), "the cursor is in view")
	x.tap(KeyPageUp)
	require.Equal(t, 9990, x.sel.Cursor)
	x.tap(KeyHome)
	require.Zero(t, x.top())
	x.key(Press{Key: KeyA, Mods: Ctrl})
	require.Equal(t, 10_000, x.sel.Count())
	x.tap(KeyEnter)
	require.Equal(t, TableEvent{Used: true, Row: 0}, x.last)
	x.key(Press{Key: KeyF10, Mods: Shift})
	require.True(t, x.last.Menu)
}

func TestTableTypeAhead(t *testing.T) {
	x := newTableBench(10)
	x.ui.Focus("t")
	x.frame(Input{})
	x.typing("c")
	require.Equal(t, 2, x.sel.Cursor, "coal")
	x.typing("i")
	require.Equal(t, 3, x.sel.Cursor, "cinder")
	x.wait(typeAhead * 2)
	x.typing("C")
	require.Equal(t, 6, x.sel.Cursor, "the next one, in any case")
	x.wait(typeAhead * 2)
	x.frame(Input{Keys: []Press{{Key: KeyX}, {Key: KeySpace}}, Text: []rune("x")})
	require.Equal(t, 6, x.sel.Cursor)
	require.Equal(t, []Press{{Key: KeySpace}}, x.ui.Left())
}

func TestTablePointer(t *testing.T) {
	x := newTableBench(100)
	x.click(50, rowY(3))
	require.Equal(t, []int{3}, x.sel.Rows())
	require.True(t, x.ui.Focused("t"))
	x.wait(clickTime * 2)
	x.press(50, rowY(5), Shift)
	x.release()
	require.Equal(t, []int{3, 4, 5}, x.sel.Rows())
	x.wait(clickTime * 2)
	x.press(50, rowY(4), Ctrl)
	x.release()
	require.Equal(t, []int{3, 5}, x.sel.Rows(), "Ctrl takes off again")
	x.wait(clickTime * 2)
	x.click(50, rowY(7))
	x.click(50, rowY(7))
	require.True(t, x.last.Used)
	require.Equal(t, 7, x.last.Row)
	x.wait(clickTime * 2)

	x.move(50, rowY(2))
	x.frame(Input{Wheel: image.Pt(0, 2)})
	x.frame(Input{})
	require.Equal(t, 6, x.top())
	require.Equal(t, []int{7}, x.sel.Rows(), "scrolling chooses nothing")

	x.frame(Input{Pressed: Secondary})
	require.True(t, x.last.Menu)
	require.Equal(t, 8, x.last.Row)
	require.Equal(t, []int{8}, x.sel.Rows())

	x.click(50, 14)
	require.Equal(t, 1, x.last.Sort, "a title sorts")
	x.spec.Sorted = 1
	x.wait(clickTime * 2)
	x.click(50, 14)
	require.Equal(t, -1, x.last.Sort, "and turns round")
}

func TestTableColumnWidth(t *testing.T) {
	x := newTableBench(5)
	st := x.ui.tables[x.ui.id("t")]
	x.press(228, 14, 0)
	x.move(240, 14)
	x.move(249, 14)
	x.release()
	require.Equal(t, []int{0, 39}, st.widths)
	x.ui.Push("t")
	x.ui.Focus("titles")
	x.ui.Pop()
	x.frame(Input{})
	x.tap(KeyRight)
	x.key(Press{Key: KeyRight, Mods: Shift})
	require.Equal(t, []int{0, 47}, st.widths, "the same by keys")
	x.tap(KeyLeft, KeyEnter)
	require.Equal(t, 1, x.last.Sort)
}

func TestTableOfNothing(t *testing.T) {
	x := newTableBench(0)
	x.spec.Empty = "No cues. Double-click a lane to place one."
	x.ui.Focus("t")
	x.frame(Input{})
	x.tap(KeyDown, KeyEnd, KeyEnter)
	x.typing("a")
	x.click(50, rowY(0))
	require.Zero(t, x.sel.Count())
	require.Contains(t, x.scene.Dump(), "No cues.")

	x.spec.Rows = 8
	x.sel.All(8)
	x.spec.Rows = 3
	x.frame(Input{})
	require.Equal(t, []int{0, 1, 2}, x.sel.Rows(), "rows that went are not chosen")
}

func TestTableAsksOnlyForRowsInView(t *testing.T) {
	x := newTableBench(1_000_000)
	asked := 0
	x.spec.Cell = func(b []byte, row, col int) []byte { asked++; return append(b, "x"...) }
	x.frame(Input{})
	require.LessOrEqual(t, asked, 2*11)
}

func TestChecks(t *testing.T) {
	on := [3]bool{}
	var sel Selection
	b := newBench(200, 100, func(u *UI) {
		row, ok := u.Checks("c", u.Bounds(), &sel, &ChecksSpec{Rows: 3, On: func(i int) bool { return on[i] },
			Label: func(b []byte, i int) []byte { return strconv.AppendInt(b, int64(i), 10) }})
		if ok {
			on[row] = !on[row]
		}
	})
	b.click(16, LineHeight+12)
	require.Equal(t, [3]bool{false, true, false}, on, "a press on the box")
	b.wait(clickTime * 2)
	b.click(100, 12)
	require.Equal(t, [3]bool{false, true, false}, on, "a press on the label chooses the row")
	b.tap(KeyEnter)
	require.Equal(t, [3]bool{true, true, false}, on)
}

// A held row says where it would go, and the line there is drawn.
func TestTableRowIsDragged(t *testing.T) {
	x := newTableBench(4)
	x.press(20, rowY(1), 0)
	require.True(t, x.last.Changed)
	x.move(20, rowY(3)+LineHeight/2)
	require.True(t, x.last.Held)
	require.Equal(t, 4, x.last.Over, "below the last row")
	x.move(20, rowY(0)-LineHeight/2)
	require.Equal(t, 0, x.last.Over)
	lines := len(x.scene.Shapes)
	x.spec.Mark = 3
	x.frame(Input{})
	require.Len(t, x.scene.Shapes, lines+1)
	x.last = TableEvent{}
	x.release()
	x.frame(Input{})
	require.False(t, x.last.Held)
}

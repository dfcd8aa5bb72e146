package widget

import "math/bits"

// Selection is what is chosen in a list: the rows, and the one that the keys move from. The zero Selection has row 0 as its cursor and
// nothing chosen. It belongs to the caller, who clears it when the rows become others.
type Selection struct {
	Cursor int // the row that keys move from
	anchor int // where a range began
	rows   []uint64
}

// Has says whether a row is chosen.
func (s *Selection) Has(row int) bool {
	return row >= 0 && row/64 < len(s.rows) && s.rows[row/64]>>(row%64)&1 == 1
}

// Count gives how many rows are chosen.
func (s *Selection) Count() int {
	n := 0
	for _, w := range s.rows {
		n += bits.OnesCount64(w)
	}
	return n
}

// Rows gives the chosen rows in order.
func (s *Selection) Rows() []int {
	var list []int
	for i, w := range s.rows {
		for ; w != 0; w &= w - 1 {
			list = append(list, 64*i+bits.TrailingZeros64(w))
		}
	}
	return list
}

// Clear chooses nothing.
func (s *Selection) Clear() { clear(s.rows) }

// Only chooses one row and nothing else.
func (s *Selection) Only(row int) {
	s.Clear()
	s.set(row, true)
	s.Cursor, s.anchor = row, row
}

// Toggle chooses a row or leaves it.
func (s *Selection) Toggle(row int) {
	s.set(row, !s.Has(row))
	s.Cursor, s.anchor = row, row
}

// To chooses all rows from where the last single choice was to a row.
func (s *Selection) To(row int) {
	s.Clear()
	for r := min(s.anchor, row); r <= max(s.anchor, row); r++ {
		s.set(r, true)
	}
	s.Cursor = row
}

// All chooses the first n rows.
func (s *Selection) All(n int) {
	s.Clear()
	for r := range n {
		s.set(r, true)
	}
}

func (s *Selection) set(row int, on bool) {
	if row < 0 {
		return
	}
	for row/64 >= len(s.rows) {
		s.rows = append(s.rows, 0)
	}
	if on {
		s.rows[row/64] |= 1 << (row % 64)
	} else {
		s.rows[row/64] &^= 1 << (row % 64)
	}
}

// keep drops what lies past n rows.
func (s *Selection) keep(n int) {
	for row := n; row < 64*len(s.rows); row++ {
		if row%64 == 0 {
			s.rows = s.rows[:row/64]
			break
		}
		s.set(row, false)
	}
	s.Cursor, s.anchor = max(min(s.Cursor, n-1), 0), max(min(s.anchor, n-1), 0)
}

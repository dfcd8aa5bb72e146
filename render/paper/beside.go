package paper

import (
	"sort"

	"emberbeat/render"
)

// besideGap stands free between tables beside each other, in logical pixels.
const besideGap = 22

// tableWidth is the room of a part's table.
func (l *layout) tableWidth(p *Part) int {
	n := max(1, p.Beside)
	return (l.body.Dx() - (n-1)*l.px(besideGap)) / n
}

// beside puts the rows of a part in columns: as many as there is room for in the
// first, then in the next, then on the next page. What ends on a page is shared
// evenly, so that other parts have room below.
func (l *layout) beside(p *Part, head block, rows []block) {
	for first := true; first || len(rows) > 0; first = false {
		if !first {
			l.newPage()
			for _, b := range l.again(p) {
				l.put(b)
			}
		}
		room := l.left() - head.height
		if !first && rows[0].under != nil && rows[0].under.height+rows[0].height+height(withs(rows[1:])) <= room {
			rows = append([]block{*rows[0].under}, rows...)
		}
		stands, rest := abreast(rows, p.Beside, room, !first)
		if len(rest) == 0 {
			least := min(highest(rows), room)
			even := least + sort.Search(room-least, func(n int) bool { _, rest := abreast(rows, p.Beside, least+n, !first); return len(rest) == 0 })
			stands, _ = abreast(rows, p.Beside, even, !first)
		}
		rows = rest
		high := 0
		for _, s := range stands {
			high = max(high, height(s))
		}
		if high == 0 && len(rows) > 0 {
			continue // not even one fits below what stands above
		}
		l.put(block{height: head.height + high, draw: func(s *render.Scene, top int) {
			for i, rows := range stands {
				if i == 0 || len(rows) > 0 {
					l.one(s, p, i, top, head, rows)
				}
			}
		}})
	}
}

// abreast fills columns of some height, one after the other, and gives what is left.
func abreast(rows []block, columns, room int, must bool) (stands [][]block, rest []block) {
	stands = make([][]block, columns)
	for i := range stands {
		stands[i], rows = column(rows, room, must && i == 0)
	}
	return stands, rows
}

// highest is the height of the highest row with those that stand with it.
func highest(rows []block) int {
	n := 0
	for i, b := range rows {
		n = max(n, b.height+height(withs(rows[i+1:])))
	}
	return n
}

// column takes the rows that fit into a height, one at least where it must, and
// parts none from those that stand with it unless they are higher than a column.
func column(rows []block, room int, must bool) (fit, rest []block) {
	used := 0
	for i, b := range rows {
		needed := b.height
		if all := b.height + height(withs(rows[i+1:])); !b.with && all <= room {
			needed = all
		}
		if used+needed > room && !(must && i == 0) {
			return rows[:i], rows[i:]
		}
		used += b.height
	}
	return rows, nil
}

// one draws one of the tables of a part that stand beside each other.
func (l *layout) one(s *render.Scene, p *Part, which, top int, head block, rows []block) {
	page, width := l.body, l.tableWidth(p)
	defer func() { l.body = page }()
	l.body.Min.X += which * (width + l.px(besideGap))
	l.body.Max.X = l.body.Min.X + width
	head.draw(s, top)
	top += head.height
	for _, b := range rows {
		b.draw(s, top)
		top += b.height
	}
}

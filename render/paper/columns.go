package paper

import (
	"slices"
	"strings"
)

// Measures of tables in logical pixels.
const (
	columnGap   = 12
	columnLeast = 24
	boxWidth    = 76
	boxHeight   = 20
	rowPadding  = 3

	tallBox      = 34 // to sign in
	tallBoxWidth = 150
)

// columnKey tells which parts share their columns' widths.
func columnKey(p *Part) string {
	var key strings.Builder
	if p.Large {
		key.WriteByte(1)
	}
	key.WriteByte(byte(2 + p.Beside))
	for _, c := range p.Columns {
		key.WriteString(c.Name)
		key.WriteByte(0)
	}
	return key.String()
}

// columnWidths works out how wide the columns of all parts are, in device
// pixels, by key. Where all fits, columns of words share what is left over;
// where not, each column has its longest word, and what is left makes as many
// texts whole as it can, short ones before long ones.
func (l *layout) columnWidths() map[string][]int {
	wants := map[string]*columnWant{}
	for i := range l.sheet.Parts {
		p := &l.sheet.Parts[i]
		key := columnKey(p)
		if wants[key] == nil {
			wants[key] = newColumnWant(l, p)
		}
		for _, r := range p.Rows {
			wants[key].row(l, p, r)
		}
	}
	widths := make(map[string][]int, len(wants))
	for key, w := range wants {
		widths[key] = w.share(w.all - (len(w.most)-1)*w.gap)
	}
	return widths
}

// columnWant is the least and the most each column can use, and which columns
// may be wider than that: those of words.
type columnWant struct {
	heads       []int // of the longest words of their names, which are never broken while they have room
	least, most []int
	words       []bool
	cells       [][]int // widths of the cells, by column
	gap         int
	all         int // what they share with the gaps
}

func newColumnWant(l *layout, p *Part) *columnWant {
	columns, box := p.Columns, l.px(boxWidth)
	if p.Tall {
		box = l.px(tallBoxWidth)
	}
	w := &columnWant{make([]int, len(columns)), make([]int, len(columns)), make([]int, len(columns)), make([]bool, len(columns)), make([][]int, len(columns)), l.gap(p), l.tableWidth(p)}
	for i, c := range columns {
		w.words[i] = !c.Right && !c.Box
		w.heads[i] = longestWord(l.mark, c.Name)
		w.least[i] = max(l.px(columnLeast), w.heads[i])
		w.most[i] = max(w.least[i], l.mark.Measure(c.Name))
		switch {
		case c.Tick:
			w.least[i], w.most[i] = max(w.least[i], l.px(boxHeight)), max(w.least[i], l.px(boxHeight))
		case c.Box:
			w.least[i], w.most[i] = max(w.least[i], box), max(w.most[i], box)
		}
	}
	return w
}

func (w *columnWant) row(l *layout, p *Part, r Row) {
	if r.Across {
		return
	}
	f := l.faces.Face(cellType(p, r.Strong), pageScale)
	for i, cell := range r.Cells {
		n := f.Measure(cell)
		w.most[i] = max(w.most[i], n)
		w.cells[i] = append(w.cells[i], n)
		if w.most[i] > w.least[i] {
			w.least[i] = max(w.least[i], longestWord(f, cell))
		}
	}
}

// share gives widths whose sum is all, or less where there is no column.
func (w *columnWant) share(all int) []int {
	if len(w.most) == 0 {
		return nil
	}
	least, most := slices.Clone(w.least), slices.Clone(w.most)
	for i := range least { // no column takes more than a third for words or sentences
		least[i] = min(least[i], all/3)
		most[i] = max(least[i], min(most[i], all/3))
	}
	switch needed, wanted := sum(least), sum(most); {
	case wanted <= all:
		return spread(most, w.growing(most), all)
	case needed <= all:
		return fill(least, most, w.wanting(least), all)
	case sum(w.heads) <= all: // words of cells are broken rather than those of heads
		weights := make([]int, len(least))
		for i := range weights {
			weights[i] = max(0, least[i]-w.heads[i])
		}
		return spread(w.heads, weights, all)
	default:
		return spread(make([]int, len(least)), least, all)
	}
}

// growing gives the weights by which columns share what is left over.
func (w *columnWant) growing(most []int) []int {
	weights := slices.Clone(most)
	for i := range weights {
		if !w.words[i] {
			weights[i] = 0
		}
	}
	if sum(weights) == 0 {
		return most
	}
	return weights
}

// wanting counts the cells of each column that are wider than the column.
func (w *columnWant) wanting(widths []int) []int {
	counts := make([]int, len(widths))
	for i, cells := range w.cells {
		for _, n := range cells {
			if n > widths[i] {
				counts[i]++
			}
		}
	}
	return counts
}

// fill widens columns from their least towards their most, those first that make
// many texts whole for little: short ones stay whole, long texts wrap. None takes
// more than a third of what is left before all have had their turn.
func fill(least, most, wanting []int, all int) []int {
	out := slices.Clone(least)
	order := make([]int, len(out))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return (most[a]-least[a])*max(1, wanting[b]) - (most[b]-least[b])*max(1, wanting[a])
	})
	left := all - sum(least)
	var short []int // columns that cannot be made as wide as they want
	for _, i := range order {
		if part := most[i] - least[i]; part <= left/3 {
			out[i], left = most[i], left-part
		} else {
			short = append(short, i)
		}
	}
	slices.SortStableFunc(short, func(a, b int) int { return (most[a] - least[a]) - (most[b] - least[b]) })
	for k, i := range short {
		part := min(most[i]-least[i], left/(len(short)-k))
		out[i], left = out[i]+part, left-part
	}
	return out
}

// spread adds what is missing in all to widths, in proportion to weights.
func spread(widths, weights []int, all int) []int {
	out := slices.Clone(widths)
	left, weight := all-sum(widths), sum(weights)
	for i := range out {
		if weight > 0 {
			part := left * weights[i] / weight
			out[i], left, weight = out[i]+part, left-part, weight-weights[i]
		}
	}
	return out
}

func sum(list []int) int {
	n := 0
	for _, x := range list {
		n += x
	}
	return n
}

package merge

import (
	"slices"
	"strings"
)

// element is one item of a merged list, with where it stands in each of the
// three, or -1.
type element struct {
	text               string
	sorts              string // by which it comes among others: the same for either side
	base, ours, theirs int
}

// at gives where the element stands on a side.
func (e *element) at(s Side) int {
	switch s {
	case Ours:
		return e.ours
	case Theirs:
		return e.theirs
	}
	return e.base
}

// clash is an item, or the place of an item, on which both disagree.
type clash struct {
	why                Why
	held               Side
	base, ours, theirs string            // items; "" = not in the list
	order              map[Side][]string // of a clash about the order: the whole list with each choice
	of                 *element
	nth                int // among items of the same text, from 0
}

// lists merges two edits of a list item by item, and their order. What comes out
// is the same whichever of the two is called ours, but for what is held in
// clashes.
//
// plain says that the items are free text, where an item that was written anew is
// known by where it stands.
func lists(base, ours, theirs []string, plain bool) (items []string, clashes []clash) {
	l := &lister{base: base, ours: ours, theirs: theirs, plain: plain}
	l.pair()
	l.texts()
	list := l.ordered(Ours)
	if moved := l.moved; len(moved) > 0 {
		order := map[Side][]string{Ours: textsOf(list), Theirs: textsOf(l.ordered(Theirs)), Base: textsOf(l.ordered(Base))}
		for _, e := range moved {
			l.clashes = append(l.clashes, clash{why: Order, held: Ours, base: e.text, ours: e.text, theirs: e.text, order: order})
		}
	} else if counted(base) && counted(ours) && counted(theirs) {
		slices.SortStableFunc(list, func(a, b *element) int { return natural(a.text, b.text) })
	}
	for i := range l.clashes {
		c := &l.clashes[i]
		for _, e := range list {
			if e == c.of {
				break
			}
			if c.of != nil && e.text == c.of.text {
				c.nth++
			}
		}
	}
	return textsOf(list), l.clashes
}

// counted reports whether items begin with numbers that rise.
func counted(items []string) bool {
	for i, s := range items {
		if digits(s) == 0 || i > 0 && natural(items[i-1], s) > 0 {
			return false
		}
	}
	return true
}

type lister struct {
	base, ours, theirs []string
	plain              bool
	all                []*element
	clashes            []clash
	moved              []*element // by both, to two places
}

// pair says which items of the three are the same one.
func (l *lister) pair() {
	o, t := pairing(l.base, l.ours, l.plain), pairing(l.base, l.theirs, l.plain)
	inOurs, inTheirs := inverse(o, len(l.base)), inverse(t, len(l.base))
	for i := range l.base {
		l.all = append(l.all, &element{base: i, ours: inOurs[i], theirs: inTheirs[i]})
	}
	newOurs, newTheirs := unpaired(o), unpaired(t)
	same := pairing(pick(l.ours, newOurs), pick(l.theirs, newTheirs), false)
	taken := map[int]bool{}
	for k, i := range same {
		if i >= 0 {
			taken[newOurs[i]] = true
			l.all = append(l.all, &element{base: -1, ours: newOurs[i], theirs: newTheirs[k]})
		} else {
			l.all = append(l.all, &element{base: -1, ours: -1, theirs: newTheirs[k]})
		}
	}
	for _, i := range newOurs {
		if !taken[i] {
			l.all = append(l.all, &element{base: -1, ours: i, theirs: -1})
		}
	}
}

// pairing gives for each item of a list the place in another of what is the same
// item there, or -1: of the same text, else about the same thing, or for free text
// in its place.
func pairing(was, is []string, plain bool) []int {
	to, taken := make([]int, len(is)), make([]bool, len(was))
	for i := range to {
		to[i] = -1
	}
	match := func(name func(string) string) {
		free := map[string][]int{}
		for i, s := range was {
			if !taken[i] {
				free[name(s)] = append(free[name(s)], i)
			}
		}
		for k, s := range is {
			if list := free[name(s)]; to[k] < 0 && len(list) > 0 {
				to[k], taken[list[0]] = list[0], true
				free[name(s)] = list[1:]
			}
		}
	}
	match(func(s string) string { return s })
	if plain {
		pairGaps(was, is, to, taken)
	} else {
		match(identityOf)
	}
	return to
}

// pairGaps pairs free text between the same neighbours, where there is as much of
// it on either side.
func pairGaps(was, is []string, to []int, taken []bool) {
	before := -1 // place in was of the last paired item
	for k := 0; k <= len(is); k++ {
		if k < len(is) && to[k] >= 0 {
			before = to[k]
			continue
		}
		n := k
		for n < len(is) && to[n] < 0 {
			n++
		}
		if n == k {
			return
		}
		after := len(was)
		if n < len(is) {
			after = to[n]
		}
		if after-before-1 == n-k {
			for i := range n - k {
				if w := before + 1 + i; w >= 0 && !taken[w] {
					to[k+i], taken[w] = w, true
				}
			}
		}
		k = n - 1
	}
}

func inverse(to []int, n int) []int {
	from := make([]int, n)
	for i := range from {
		from[i] = -1
	}
	for k, i := range to {
		if i >= 0 {
			from[i] = k
		}
	}
	return from
}

func unpaired(to []int) (list []int) {
	for k, i := range to {
		if i < 0 {
			list = append(list, k)
		}
	}
	return list
}

func pick(items []string, at []int) []string {
	out := make([]string, len(at))
	for k, i := range at {
		out[k] = items[i]
	}
	return out
}

func textAt(items []string, i int) string {
	if i < 0 {
		return ""
	}
	return items[i]
}

// texts decides what each item says, and which are gone.
func (l *lister) texts() {
	var kept []*element
	for _, e := range l.all {
		b, o, t := textAt(l.base, e.base), textAt(l.ours, e.ours), textAt(l.theirs, e.theirs)
		switch {
		case o == t:
			e.text = o
		case e.base >= 0 && e.ours < 0 && b == t, e.base >= 0 && e.theirs < 0 && b == o:
			// taken out by one, and left alone by the other
		case e.base >= 0 && e.ours < 0:
			e.text = t
			l.clashes = append(l.clashes, clash{why: Removed, held: Theirs, base: b, theirs: t, of: e})
		case e.base >= 0 && e.theirs < 0:
			e.text = o
			l.clashes = append(l.clashes, clash{why: Removed, held: Ours, base: b, ours: o, of: e})
		case e.base < 0 && e.theirs < 0, e.base >= 0 && b == t:
			e.text = o
		case e.base < 0 && e.ours < 0, e.base >= 0 && b == o:
			e.text = t
		default:
			if words, ok := joinedWords(b, o, t); ok && e.base >= 0 {
				e.text = words
				break
			}
			e.text, e.sorts = o, min(o, t)
			why := Item
			if e.base < 0 {
				why = Added
			}
			l.clashes = append(l.clashes, clash{why: why, held: Ours, base: b, ours: o, theirs: t, of: e})
		}
		if e.sorts == "" {
			e.sorts = e.text
		}
		if e.text != "" {
			kept = append(kept, e)
		}
	}
	l.all = kept
}

// ordered puts the items in their order: what neither has moved stays, and
// whatever one has moved or added stands where that one has put it. What both have
// moved to two places stands where a side has it.
func (l *lister) ordered(held Side) []*element {
	first, second := Ours, Theirs
	if slices.Compare(l.ours, l.theirs) > 0 {
		first, second = second, first // the same order, whoever is called ours
	}
	movedBy := map[Side]map[*element]bool{Ours: l.movedOn(Ours), Theirs: l.movedOn(Theirs)}
	var steady []*element
	for _, e := range l.all {
		if e.ours >= 0 && e.theirs >= 0 && movedBy[Ours][e] == movedBy[Theirs][e] {
			steady = append(steady, e)
		}
	}
	sortBy(steady, first)
	steady = rising(steady, func(e *element) int { return e.at(second) })
	place := map[*element]int{}
	for i, e := range steady {
		place[e] = i + 1
	}
	runs := map[Side][][]*element{}
	for _, s := range []Side{first, second, Base} {
		runs[s] = make([][]*element, len(steady)+1)
	}
	l.moved = nil
	put := map[Side][]*element{}
	for _, e := range l.all {
		if place[e] > 0 {
			continue
		}
		by := first
		switch {
		case e.at(first) < 0:
			by = second
		case e.at(second) < 0:
		case movedBy[first][e] && movedBy[second][e]:
			l.moved = append(l.moved, e)
			if by = held; held == Base {
				put[Base] = append(put[Base], e)
				continue
			}
		case movedBy[second][e]:
			by = second
		}
		put[by] = append(put[by], e)
	}
	for s, list := range put {
		sortBy(list, s)
		for _, e := range list {
			gap := 0
			for _, k := range steady {
				if k.at(s) >= 0 && k.at(s) < e.at(s) {
					gap = place[k]
				}
			}
			runs[s][gap] = append(runs[s][gap], e)
		}
	}
	var out []*element
	for gap := range len(steady) + 1 {
		if gap > 0 {
			out = append(out, steady[gap-1])
		}
		a, b := runs[Ours][gap], runs[Theirs][gap]
		if slices.CompareFunc(a, b, func(x, y *element) int { return natural(x.sorts, y.sorts) }) > 0 {
			a, b = b, a
		}
		out = append(append(append(out, runs[Base][gap]...), a...), b...)
	}
	return out
}

// movedOn gives the items of the base that a side has moved: all but a longest
// run that still rises.
func (l *lister) movedOn(s Side) map[*element]bool {
	var list []*element
	for _, e := range l.all {
		if e.base >= 0 && e.at(s) >= 0 {
			list = append(list, e)
		}
	}
	sortBy(list, Base)
	moved := map[*element]bool{}
	for _, e := range list {
		moved[e] = true
	}
	for _, e := range rising(list, func(e *element) int { return e.at(s) }) {
		delete(moved, e)
	}
	return moved
}

func sortBy(list []*element, s Side) {
	slices.SortStableFunc(list, func(a, b *element) int { return a.at(s) - b.at(s) })
}

func textsOf(list []*element) []string {
	var out []string
	for _, e := range list {
		out = append(out, e.text)
	}
	return out
}

// rising gives a longest part of a list whose places rise, in its order.
func rising(list []*element, at func(*element) int) []*element {
	best, from := make([]int, len(list)), make([]int, len(list))
	end := -1
	for i := range list {
		best[i], from[i] = 1, -1
		for k := range i {
			if at(list[k]) < at(list[i]) && best[k] >= best[i] {
				best[i], from[i] = best[k]+1, k
			}
		}
		if end < 0 || best[i] > best[end] {
			end = i
		}
	}
	var out []*element
	for ; end >= 0; end = from[end] {
		out = append(out, list[end])
	}
	slices.Reverse(out)
	return out
}

// comments merges two edits of lines of comments: nothing that either wrote is
// lost.
func comments(base, ours, theirs []string) []string {
	if slices.Equal(ours, theirs) || slices.Equal(base, theirs) {
		return ours
	}
	if slices.Equal(base, ours) {
		return theirs
	}
	a, b := ours, theirs
	if strings.Join(a, "\n") > strings.Join(b, "\n") {
		a, b = b, a
	}
	gone := func(line string) bool {
		return slices.Contains(base, line) && (!slices.Contains(a, line) || !slices.Contains(b, line))
	}
	var out []string
	for _, line := range a {
		if !gone(line) {
			out = append(out, line)
		}
	}
	for _, line := range b {
		if !gone(line) && (!slices.Contains(a, line) || line == "") {
			out = append(out, line)
		}
	}
	return out
}

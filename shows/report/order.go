package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/shows/report/wording"
)

// Order says by what a list of commands is sorted.
type Order string

// The orders. Lines that are alike in it stand as they are played.
const (
	ByCommand  Order = "command"
	ByHit      Order = "hit"
	ByPosition Order = "position"
	ByOutput   Order = "output"
	ByArticle  Order = "article"
	ByLane     Order = "lane"
)

// Orders lists the orders.
func Orders() []Order { return []Order{ByCommand, ByHit, ByPosition, ByOutput, ByArticle, ByLane} }

// ParseOrder reads an order; "" is ByCommand.
func ParseOrder(s string) (Order, error) {
	if o := Order(s); s == "" || slices.Contains(Orders(), o) {
		return o.OrCommand(), nil
	}
	return "", fmt.Errorf("%q is no order; write %s", s, words(Orders()))
}

// OrCommand gives the order, that of commands where none is given.
func (o Order) OrCommand() Order { return cmp.Or(o, ByCommand) }

// sort sorts lines, which are in the order they are played.
func (o Order) sort(lines []Line) {
	var less func(a, b *Line) int
	switch o {
	case ByHit:
		less = func(a, b *Line) int {
			return cmp.Or(cmp.Compare(a.SongNumber, b.SongNumber), cmp.Compare(a.Hit, b.Hit))
		}
	case ByPosition:
		less = func(a, b *Line) int { return ByName(a.PositionName, b.PositionName) }
	case ByOutput:
		less = func(a, b *Line) int { return ByName(firstOutput(a), firstOutput(b)) }
	case ByArticle:
		less = func(a, b *Line) int { return ByName(a.ArticleName, b.ArticleName) }
	case ByLane:
		less = func(a, b *Line) int { return ByName(a.LaneName, b.LaneName) }
	default:
		return
	}
	slices.SortStableFunc(lines, func(a, b Line) int { return less(&a, &b) })
}

func firstOutput(l *Line) string {
	if len(l.Outputs) == 0 {
		return ""
	}
	return l.Outputs[0].Label
}

// ByName compares names as people sort them: numbers in them by their value,
// and what has no name last.
func ByName(a, b string) int {
	if a == "" || b == "" {
		return cmp.Compare(wording.OneIf(a == ""), wording.OneIf(b == ""))
	}
	for a != "" && b != "" {
		x, y := leading(a), leading(b)
		if c := compareParts(x, y); c != 0 {
			return c
		}
		a, b = a[len(x):], b[len(y):]
	}
	return cmp.Compare(len(a), len(b))
}

// leading gives the digits at the head of a text, or what stands before them.
func leading(s string) string {
	digits := isDigit(s[0])
	for i := range len(s) {
		if isDigit(s[i]) != digits {
			return s[:i]
		}
	}
	return s
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

func compareParts(a, b string) int {
	if isDigit(a[0]) && isDigit(b[0]) {
		x, y := strings.TrimLeft(a, "0"), strings.TrimLeft(b, "0")
		return cmp.Or(cmp.Compare(len(x), len(y)), strings.Compare(x, y))
	}
	return strings.Compare(strings.ToLower(a), strings.ToLower(b))
}

package timeline

import (
	"cmp"
	"slices"

	"emberbeat/timeline/field"
)

// Order arranges placed effects for a group.
type Order string

// The orders.
const (
	OrderAll         Order = "all" // as named
	OrderLeftToRight Order = "left-to-right"
	OrderRightToLeft Order = "right-to-left"
	OrderOdd         Order = "odd"  // the first, third, fifth from the left
	OrderEven        Order = "even" // the second, fourth from the left
	OrderInsideOut   Order = "inside-out"
	OrderOutsideIn   Order = "outside-in"
)

// Orders lists the orders.
func Orders() []Order {
	return []Order{OrderAll, OrderLeftToRight, OrderRightToLeft, OrderOdd, OrderEven, OrderInsideOut, OrderOutsideIn}
}

// Arrange gives placed effects in an order, or those of them that it keeps.
// Left is the audience's left; what stands at one place keeps its order, what
// has no position comes last. An order that is none is an error.
func (g *Rig) Arrange(placed []ID, order Order) ([]ID, error) {
	if order == OrderAll || order == "" {
		return slices.Clone(placed), nil
	}
	across := slices.Clone(placed)
	slices.SortStableFunc(across, g.compareAcross)
	switch order {
	case OrderLeftToRight:
	case OrderRightToLeft:
		slices.Reverse(across)
	case OrderOdd:
		across = everySecond(across, 0)
	case OrderEven:
		across = everySecond(across, 1)
	case OrderInsideOut:
		across = flatten(rings(across))
	case OrderOutsideIn:
		r := rings(across)
		slices.Reverse(r)
		across = flatten(r)
	default:
		return nil, &ValueError{Kind: "group", Field: "order", Value: string(order), Want: "is not one of: " + field.Listed(Orders())}
	}
	return across, nil
}

func (g *Rig) compareAcross(a, b ID) int {
	p, q := g.standing(a), g.standing(b)
	switch {
	case p == nil || q == nil:
		return cmp.Compare(boolToInt(p == nil), boolToInt(q == nil))
	}
	return cmp.Compare(p.X, q.X)
}

func (g *Rig) standing(id ID) *StagePosition {
	if e := g.PlacedEffect(id); e != nil {
		return g.Position(e.Position)
	}
	return nil
}

func boolToInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

func everySecond[T any](list []T, first int) []T {
	var some []T
	for i := first; i < len(list); i += 2 {
		some = append(some, list[i])
	}
	return some
}

// rings gives the middle of a list, then the pairs around it, from the inside
// out. Of an even number the innermost ring is a pair.
func rings[T any](list []T) [][]T {
	var all [][]T
	left, right := (len(list)-1)/2, len(list)/2
	for ; left >= 0 && right < len(list); left, right = left-1, right+1 {
		if left == right {
			all = append(all, []T{list[left]})
		} else {
			all = append(all, []T{list[left], list[right]})
		}
	}
	return all
}

func flatten[T any](lists [][]T) []T {
	var all []T
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}

package operation

import (
	"cmp"
	"slices"

	"emberbeat/timeline"
)

// Item is one thing that a night says besides its set and venue: what an
// operation has left in one of its lists.
type Item struct {
	Op   *Operation
	List string // field of the night that holds it
	N    int    // its place there, from 1
	Args any    // with which the operation would make it again
	Text string // as the operation says it
	Why  string // reason, or who asks for it

	alone func(*timeline.Night)
}

// Alone gives a night of a set in which the item is all that is said.
func (i *Item) Alone(set timeline.ID) *timeline.Night {
	n := &timeline.Night{Set: set}
	i.alone(n)
	return n
}

// Drop gives the edit that takes the item out of the night. Of several items of
// one list the last must go first, since the others move up.
func (i *Item) Drop(night timeline.ID) timeline.Edit {
	return timeline.DropItem(timeline.Ref{Kind: "night", ID: night}, i.List, i.N)
}

// NightItems lists all that a night says, list by list in the order in which the
// operations stand, each list in its own order. A night of nil says nothing.
func NightItems(s *timeline.Show, n *timeline.Night) []Item {
	if n == nil {
		return nil
	}
	var all []Item
	rank := map[string]int{}
	for _, o := range Of("night") {
		if o.items == nil {
			continue
		}
		for _, i := range o.items(s, n) {
			if rank[i.List] == 0 {
				rank[i.List] = len(rank) + 1
			}
			i.Op = o
			all = append(all, i)
		}
	}
	slices.SortStableFunc(all, func(a, b Item) int { return cmp.Or(cmp.Compare(rank[a.List], rank[b.List]), cmp.Compare(a.N, b.N)) })
	return all
}

// list says in which list of a night an operation leaves items of type T, and
// which struct of arguments A would make one again. Where both are one type,
// args may be nil.
type list[A, T any] struct {
	field string
	at    func(*timeline.Night) *[]T
	own   func(T) bool // which items are the operation's; nil is all of the list
	args  func(T) *A
	why   func(T) string
}

// leaves has an operation list the items that it leaves in a night.
func leaves[A, T any](o *Operation, l list[A, T]) *Operation {
	o.list = l.field
	o.items = func(s *timeline.Show, n *timeline.Night) []Item {
		var items []Item
		for k, x := range *l.at(n) {
			if l.own != nil && !l.own(x) {
				continue
			}
			i := Item{List: l.field, N: k + 1, alone: func(m *timeline.Night) { *l.at(m) = []T{x} }}
			if l.args != nil {
				i.Args = l.args(x)
			} else {
				i.Args = &x
			}
			if i.Text = o.say(s, i.Args); l.why != nil {
				i.Why = l.why(x)
			}
			items = append(items, i)
		}
		return items
	}
	return o
}

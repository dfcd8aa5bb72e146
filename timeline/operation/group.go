package operation

import (
	"errors"
	"strconv"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// groupOperations gather placed effects.
func groupOperations() []*Operation { return []*Operation{makeGroup(), regroup()} }

// Grouping are the arguments of a group that is made.
type Grouping struct {
	Name   string
	Placed []timeline.ID
	Order  timeline.Order
}

func (g *Grouping) start() { g.Order = timeline.OrderAll }

func makeGroup() *Operation {
	type A = Grouping
	return tells(does(Operation{Verb: "group", Menu: "Group of the chosen…", Title: "Group of placed effects", Button: "Make group",
		Tip:  "makes a group of the chosen placed effects in an order",
		Help: "makes a group of placed effects by a pattern",
		Args: []Argument{
			{Field: field.Text("name", "what the crew calls it", func(g *A) *string { return &g.Name }), Word: "NAME", Label: "Name", Hint: "what the crew calls it", Need: "is empty; write what the crew calls it"},
			{Field: placedOrGroups(func(g *A) *[]timeline.ID { return &g.Placed }), Word: "PLACED…", NoForm: true, read: readPlaced},
			{Field: orders(func(g *A) *timeline.Order { return &g.Order }), Label: "Order"},
		}},
		func(at At, g *A) (timeline.Edit, error) {
			return timeline.AddGroup(at.NewID("group", ""), g.Name, g.Placed, g.Order), nil
		},
		func(_ *timeline.Show, g *A) string { return "make group " + strconv.Quote(g.Name) }), func(at At, g *A) (Outcome, error) {
		list, err := at.Show.Rig.Arrange(g.Placed, g.Order)
		return arranged(at.Show, list), err
	})
}

// Regrouping are the arguments of a group that is put in another order.
type Regrouping struct {
	Group timeline.ID
	Order timeline.Order
}

func (g *Regrouping) start() { g.Order = timeline.OrderLeftToRight }

func regroup() *Operation {
	type A = Regrouping
	return tells(does(Operation{Verb: "regroup", Menu: "Order of the group…", Title: "Order of the group", Button: "Order", Plays: true,
		Tip:  "puts the effects of the chosen group in another order",
		Help: "puts the effects of a group in another order",
		Args: []Argument{
			{Field: id("group", "the group", func(g *A) *timeline.ID { return &g.Group }, "group"), Word: "GROUP", NoForm: true},
			{Field: orders(func(g *A) *timeline.Order { return &g.Order }), Label: "Order"},
		}},
		func(_ At, g *A) (timeline.Edit, error) { return timeline.OrderGroup(g.Group, g.Order), nil },
		func(s *timeline.Show, g *A) string { return "order " + s.Named("group", g.Group) }), func(at At, g *A) (Outcome, error) {
		group := at.Show.Rig.Group(g.Group)
		if group == nil {
			return Outcome{}, errors.New("the group is gone")
		}
		list, err := at.Show.Rig.Arrange(group.Members, g.Order)
		return arranged(at.Show, list), err
	})
}

// orders asks for an order of effects; whether a word is one says the edit.
func orders[A any](at func(*A) *timeline.Order) field.Field {
	f := field.Parsed("order", orderHelp, at,
		func(o timeline.Order) string { return string(o) }, func(s string) (timeline.Order, error) { return timeline.Order(s), nil })
	f.Choices = words(timeline.Orders())
	return f
}

// arranged tells in which order placed effects are taken, and where they stand.
func arranged(s *timeline.Show, list []timeline.ID) Outcome {
	out := Outcome{Columns: columns("Effect", "#Place", "Position")}
	for i, id := range list {
		where := ""
		if p := s.Rig.PlacedEffect(id); p != nil && p.Position != "" {
			where = s.CalledBy(p.Position, "position")
		}
		out.Rows = append(out.Rows, []string{s.CalledBy(id, "placed"), strconv.Itoa(i + 1), where})
	}
	return out
}

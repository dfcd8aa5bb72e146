package app

import (
	"strconv"

	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

func needPlaced(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if a.inBook() == nil || len(a.chosenPlaced()) == 0 {
		return "choose placed effects on the page Placed effects first"
	}
	return ""
}

func needGroup(a *App) string {
	if why := needChosenEdit(a); why != "" {
		return why
	}
	if a.book.refs[0].Kind != "group" {
		return "choose a group on the page Groups first"
	}
	return ""
}

// askGroup makes a group of the chosen placed effects.
func (a *App) askGroup(o *operation.Operation) {
	ids := a.chosenPlaced()
	a.askOperation(o, timeline.Ref{}, formSpec{title: "Group of " + counted(len(ids), "placed effect"), given: map[string]string{"order": string(timeline.OrderLeftToRight)},
		begin: func(args any) { args.(*operation.Grouping).Placed = ids }})
}

// arranged shows placed effects in an order.
func (a *App) arranged(ids []timeline.ID, order timeline.Order, c change) outcome {
	list, err := a.work.s.Show().Rig.Arrange(ids, order)
	if err != nil {
		return outcome{err: err}
	}
	out := outcome{change: c, head: []string{"Effect", "Place", "Position"}}
	for i, id := range list {
		where := ""
		if p := a.work.shown.Rig.PlacedEffect(id); p != nil {
			where = a.nameOf([]string{"position"}, "", p.Position)
		}
		out.rows = append(out.rows, []string{a.nameOf([]string{"placed"}, "", id), strconv.Itoa(i + 1), where})
	}
	return out
}

// askOrder puts the chosen group in another order.
func (a *App) askOrder() {
	ref := a.book.refs[0]
	g := a.work.shown.Rig.Group(ref.ID)
	order := choiceOfWords("order", "Order", timeline.Orders(), timeline.OrderLeftToRight)
	d := &asking{title: "Order of " + g.Name, verb: "Order", fields: []*ask{order}}
	d.work = func(a *App, d *asking) outcome {
		g := a.work.s.Show().Rig.Group(ref.ID)
		if g == nil {
			return outcome{}
		}
		by := timeline.Orders()[order.at]
		return a.arranged(g.Members, by, change{"order " + g.Name, []timeline.Edit{func(d *timeline.Draft) error {
			c := *g
			var err error
			if c.Members, err = d.Show().Rig.Arrange(g.Members, by); err == nil {
				d.Put("", &c)
			}
			return err
		}}})
	}
	d.show(a)
}

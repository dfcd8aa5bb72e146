package app

import (
	"image"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
)

// rigPages are the pages of what stands on stage.
func (a *App) rigPages() []page.Page {
	return []page.Page{
		table.Records(a, page.Page{ID: "placed", Name: "Placed effects", Part: "Rig", Keys: []string{"Ctrl+2"}, Help: "what stands where, what drives it and what feeds it", Kind: "placed"}, table.Spec{Empty: "No effect is placed yet. Press Insert to place one: give it an article of the stock and a position.",
			Buttons: []string{"row-add", "row-copy", "row-remove", "wire-run", "unwire", "feed", "group-make"}, Columns: a.placedColumns}),
		table.Records(a, page.Page{ID: "positions", Name: "Positions", Part: "Rig", Help: "places on stage, in metres from the middle of its front edge", Kind: "position"}, table.Spec{Empty: "No position yet. Press Insert to add one; x counts to the audience's right, y upstage, z up.", Columns: a.positionColumns}),
		table.Records(a, page.Page{ID: "groups", Name: "Groups", Part: "Rig", Help: "placed effects that cues can aim at together, in an order", Kind: "group"}, table.Spec{Empty: "No group yet. Choose placed effects on the page before and use Group of the chosen…; lanes and phrases can then aim at it.",
			Buttons: []string{"row-add", "row-copy", "row-remove", "group-order"}, Columns: a.groupColumns}),
		table.Records(a, page.Page{ID: "supplies", Name: "Supplies", Part: "Rig", Help: "cylinders, tanks and hoppers, and what they feed", Kind: "supply"}, table.Spec{Empty: "No supply yet. Press Insert to add a cylinder or tank, then name the placed effects it feeds.", Buttons: []string{"row-add", "row-copy", "row-remove", "refill"}, Columns: a.supplyColumns}),
	}
}

func (a *App) placedColumns() []table.Column {
	name := table.Field(a, "placed", "name", 150)
	name.Draw = func(e *table.Row, r image.Rectangle) bool {
		p := e.Record.(*timeline.Placed)
		table.Named(a, a.work.shown.Stock.Article(p.Article), p.Name, p.Spare, r)
		return true
	}
	driven := table.Column{Title: "Driven by", Width: 170, Text: func(e *table.Row) string { return drivenBy(a.work.plan.Units.Of(e.Ref.ID)) }}
	fed := table.Column{Title: "Fed by", Width: 120, Text: func(e *table.Row) string {
		return namesWith(a.work.shown.Rig.Supplies, func(s *timeline.Supply) (string, []timeline.ID) { return s.Name, s.Feeds }, e.Ref.ID)
	}}
	groups := table.Column{Title: "Groups", Width: 150, Text: func(e *table.Row) string {
		return namesWith(a.work.shown.Rig.Groups, func(g *timeline.Group) (string, []timeline.ID) { return g.Name, g.Members }, e.Ref.ID)
	}}
	return []table.Column{name, table.Field(a, "placed", "article", 150), table.Field(a, "placed", "position", 130), driven, fed, groups, table.Field(a, "placed", "pan", 62),
		table.Field(a, "placed", "tilt", 62), table.Field(a, "placed", "spare", 60), table.Field(a, "placed", "note", 160)}
}

// drivenBy names the outputs that drive a unit; what is out of service says so.
func drivenBy(u *timeline.Unit) string {
	if u == nil {
		return ""
	}
	var texts []string
	for i := range u.Drives {
		text := u.Drives[i].Label(timeline.EffectSlot)
		if u.Drives[i].Dead {
			text += " (dead)"
		}
		texts = append(texts, text)
	}
	return strings.Join(texts, ", ")
}

// namesWith names the records whose list holds an id.
func namesWith[T any](list []T, of func(T) (string, []timeline.ID), id timeline.ID) string {
	var names []string
	for _, r := range list {
		if name, ids := of(r); slices.Contains(ids, id) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

func (a *App) positionColumns() []table.Column {
	standing := table.Column{Title: "Effects there", Width: 240, Text: func(e *table.Row) string {
		var names []string
		for _, p := range a.work.shown.Rig.Placed {
			if p.Position == e.Ref.ID {
				names = append(names, p.Name)
			}
		}
		return strings.Join(names, ", ")
	}}
	return []table.Column{table.Field(a, "position", "name", 150), a.metres("position", "x"), a.metres("position", "y"), a.metres("position", "z"), standing, table.Field(a, "position", "note", 200)}
}

// metres is the column of a length of which 0 means something.
func (a *App) metres(kind, field string) table.Column {
	f := timeline.KindOf(kind).Field(field)
	c := table.Field(a, kind, field, 76)
	c.Text = func(e *table.Row) string { return f.Get(e.Record).Text }
	return c
}

func (a *App) groupColumns() []table.Column {
	count := table.Column{Title: "Effects", Width: 70, Right: true, Text: func(e *table.Row) string { return strconv.Itoa(len(e.Record.(*timeline.Group).Members)) }}
	lanes := table.Column{Title: "Lanes", Width: 66, Right: true, Text: func(e *table.Row) string {
		n := 0
		for _, s := range a.work.shown.Songs {
			for _, l := range s.Lanes {
				if l.Target == e.Ref.ID {
					n++
				}
			}
		}
		return page.BlankZero(n)
	}}
	members := table.Field(a, "group", "members", 0)
	members.Title = "In this order"
	return []table.Column{table.Field(a, "group", "name", 170), count, lanes, members}
}

func (a *App) supplyColumns() []table.Column {
	usable := table.Column{Title: "Usable, kg", Width: 90, Right: true, Text: func(e *table.Row) string {
		s := e.Record.(*timeline.Supply)
		return number(s.Fill * float64(s.Units) * s.Usable)
	}}
	reserve := table.Column{Title: "Warn below, kg", Width: 110, Right: true, Text: func(e *table.Row) string {
		s := e.Record.(*timeline.Supply)
		return number(s.Fill * float64(s.Units) * s.Usable * s.Reserve)
	}}
	return []table.Column{table.Field(a, "supply", "name", 150), table.Field(a, "supply", "medium", 90), table.Field(a, "supply", "fill", 76), table.Field(a, "supply", "units", 60), usable, reserve,
		table.Field(a, "supply", "feeds", 0)}
}

// number writes a figure with three digits, "" for none.
func number(x float64) string {
	if x == 0 {
		return ""
	}
	return strconv.FormatFloat(x, 'g', 3, 64)
}

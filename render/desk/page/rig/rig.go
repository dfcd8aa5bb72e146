package rig

import (
	"image"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// rig is the pages of one host; they remember nothing but their tables.
type rig struct{ h page.Host }

// New gives the pages of placed effects, positions, groups and supplies, and the commands that group and feed placed effects.
func New(h page.Host) page.Family {
	p := rig{h}
	return page.Family{Commands: p.commands(), Pages: []page.Page{
		table.Records(h, page.Page{ID: "placed", Name: "Placed effects", Part: "Rig", Keys: []string{"Ctrl+2"}, Help: "what stands where, what drives it and what feeds it", Kind: "placed"}, table.Spec{Empty: "No effect is placed yet. Press Insert to place one: give it an article of the stock and a position.",
			Buttons: []string{"row-add", "row-copy", "row-remove", "rows-put", "wire-run", "unwire", "feed", "group-make"}, Columns: p.placedColumns}),
		table.Records(h, page.Page{ID: "positions", Name: "Positions", Part: "Rig", Help: "places on stage, in metres from the middle of its front edge", Kind: "position"}, table.Spec{Empty: "No position yet. Press Insert to add one; x counts to the audience's right, y upstage, z up.", Buttons: []string{"row-add", "row-copy", "row-remove", "drawing-take"}, Columns: p.positionColumns}),
		table.Records(h, page.Page{ID: "groups", Name: "Groups", Part: "Rig", Help: "placed effects that cues can aim at together, in an order", Kind: "group"}, table.Spec{Empty: "No group yet. Choose placed effects on the page before and use Group of the chosen…; lanes and phrases can then aim at it.",
			Buttons: []string{"row-add", "row-copy", "row-remove", "group-order"}, Columns: p.groupColumns}),
		table.Records(h, page.Page{ID: "supplies", Name: "Supplies", Part: "Rig", Help: "cylinders, tanks and hoppers, and what they feed", Kind: "supply"}, table.Spec{Empty: "No supply yet. Press Insert to add a cylinder or tank, then name the placed effects it feeds.", Buttons: []string{"row-add", "row-copy", "row-remove", "refill"}, Columns: p.supplyColumns}),
	}}
}

func (p rig) placedColumns() []table.Column {
	name := table.Field(p.h, "placed", "name", 150)
	name.Draw = func(e *table.Row, r image.Rectangle) bool {
		placed := e.Record.(*timeline.Placed)
		table.Named(p.h, p.h.Show().Stock.Article(placed.Article), placed.Name, placed.Spare, r)
		return true
	}
	driven := table.Column{Title: "Driven by", Width: 170, Text: func(e *table.Row) string { return drivenBy(p.h.Plan().Units.Of(e.Ref.ID)) }}
	fed := table.Column{Title: "Fed by", Width: 120, Text: func(e *table.Row) string {
		return namesWith(p.h.Show().Rig.Supplies, func(s *timeline.Supply) (string, []timeline.ID) { return s.Name, s.Feeds }, e.Ref.ID)
	}}
	groups := table.Column{Title: "Groups", Width: 150, Text: func(e *table.Row) string {
		return namesWith(p.h.Show().Rig.Groups, func(g *timeline.Group) (string, []timeline.ID) { return g.Name, g.Members }, e.Ref.ID)
	}}
	return []table.Column{name, table.Field(p.h, "placed", "article", 150), table.Field(p.h, "placed", "position", 130), driven, fed, groups, table.Field(p.h, "placed", "pan", 62),
		table.Field(p.h, "placed", "tilt", 62), table.Field(p.h, "placed", "spare", 60), table.Field(p.h, "placed", "note", 160)}
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

func (p rig) positionColumns() []table.Column {
	standing := table.Column{Title: "Effects there", Width: 240, Text: func(e *table.Row) string {
		var names []string
		for _, placed := range p.h.Show().Rig.Placed {
			if placed.Position == e.Ref.ID {
				names = append(names, placed.Name)
			}
		}
		return strings.Join(names, ", ")
	}}
	return []table.Column{table.Field(p.h, "position", "name", 150), p.metres("position", "x"), p.metres("position", "y"), p.metres("position", "z"), standing, table.Field(p.h, "position", "note", 200)}
}

// metres is the column of a length of which 0 means something.
func (p rig) metres(kind, field string) table.Column {
	f := timeline.KindOf(kind).Field(field)
	c := table.Field(p.h, kind, field, 76)
	c.Text = func(e *table.Row) string {
		x, err := units.Metres.Read(f.Unit, f.Get(e.Record).Text)
		if err != nil {
			return f.Get(e.Record).Text
		}
		return p.h.Show().Told().Number(f.Unit, x, -1)
	}
	return c
}

func (p rig) groupColumns() []table.Column {
	count := table.Column{Title: "Effects", Width: 70, Right: true, Text: func(e *table.Row) string { return strconv.Itoa(len(e.Record.(*timeline.Group).Members)) }}
	lanes := table.Column{Title: "Lanes", Width: 66, Right: true, Text: func(e *table.Row) string {
		n := 0
		for _, s := range p.h.Show().Songs {
			for _, l := range s.Lanes {
				if l.Target == e.Ref.ID {
					n++
				}
			}
		}
		return page.BlankZero(n)
	}}
	members := table.Field(p.h, "group", "members", 0)
	members.Title = "In this order"
	return []table.Column{table.Field(p.h, "group", "name", 170), count, lanes, members}
}

func (p rig) supplyColumns() []table.Column {
	told := p.h.Show().Told()
	usable := table.Column{Title: "Usable, " + told.Unit("kg"), Width: 90, Right: true, Text: func(e *table.Row) string {
		s := e.Record.(*timeline.Supply)
		return told.Number("kg", s.Fill*float64(s.Units)*s.Usable, 3)
	}}
	reserve := table.Column{Title: "Warn below, " + told.Unit("kg"), Width: 110, Right: true, Text: func(e *table.Row) string {
		s := e.Record.(*timeline.Supply)
		return told.Number("kg", s.Fill*float64(s.Units)*s.Usable*s.Reserve, 3)
	}}
	return []table.Column{table.Field(p.h, "supply", "name", 150), table.Field(p.h, "supply", "medium", 90), table.Field(p.h, "supply", "fill", 76), table.Field(p.h, "supply", "units", 60), usable, reserve,
		table.Field(p.h, "supply", "feeds", 0)}
}

package app

import (
	"image"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render"
	"emberbeat/timeline"
)

// rigPages are the pages of what stands on stage.
func rigPages() []page {
	return []page{
		recordTable{p: page{id: "placed", name: "Placed effects", part: "Rig", keys: []string{"Ctrl+2"}, help: "what stands where, what drives it and what feeds it"},
			kind:    "placed",
			empty:   "No effect is placed yet. Press Insert to place one: give it an article of the stock and a position.",
			buttons: []string{"row-add", "row-copy", "row-remove", "wire-run", "unwire", "feed", "group-make"}, columns: placedColumns}.page(),
		recordPage(page{id: "positions", name: "Positions", part: "Rig", help: "places on stage, in metres from the middle of its front edge"}, "position",
			"No position yet. Press Insert to add one; x counts to the audience's right, y upstage, z up.", positionColumns),
		recordTable{p: page{id: "groups", name: "Groups", part: "Rig", help: "placed effects that cues can aim at together, in an order"}, kind: "group",
			empty:   "No group yet. Choose placed effects on the page before and use Group of the chosen…; lanes and phrases can then aim at it.",
			buttons: []string{"row-add", "row-copy", "row-remove", "group-order"}, columns: groupColumns}.page(),
		recordPage(page{id: "supplies", name: "Supplies", part: "Rig", help: "cylinders, tanks and hoppers, and what they feed"}, "supply",
			"No supply yet. Press Insert to add a cylinder or tank, then name the placed effects it feeds.", supplyColumns),
	}
}

func placedColumns() []column {
	name := fieldColumn("placed", "name", 150)
	name.draw = func(a *App, e *entry, r image.Rectangle) bool {
		p := e.rec.(*timeline.Placed)
		a.drawNamed(a.work.shown.Stock.Article(p.Article), p.Name, p.Spare, r)
		return true
	}
	driven := column{title: "Driven by", width: 170, text: func(a *App, e *entry) string { return drivenBy(a.work.plan.Units.Of(e.ref.ID)) }}
	fed := column{title: "Fed by", width: 120, text: func(a *App, e *entry) string {
		return namesWith(a.work.shown.Rig.Supplies, func(s *timeline.Supply) (string, []timeline.ID) { return s.Name, s.Feeds }, e.ref.ID)
	}}
	groups := column{title: "Groups", width: 150, text: func(a *App, e *entry) string {
		return namesWith(a.work.shown.Rig.Groups, func(g *timeline.Group) (string, []timeline.ID) { return g.Name, g.Members }, e.ref.ID)
	}}
	return []column{name, fieldColumn("placed", "article", 150), fieldColumn("placed", "position", 130), driven, fed, groups, fieldColumn("placed", "pan", 62),
		fieldColumn("placed", "tilt", 62), fieldColumn("placed", "spare", 60), fieldColumn("placed", "note", 160)}
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

func positionColumns() []column {
	standing := column{title: "Effects there", width: 240, text: func(a *App, e *entry) string {
		var names []string
		for _, p := range a.work.shown.Rig.Placed {
			if p.Position == e.ref.ID {
				names = append(names, p.Name)
			}
		}
		return strings.Join(names, ", ")
	}}
	return []column{fieldColumn("position", "name", 150), metres("position", "x"), metres("position", "y"), metres("position", "z"), standing, fieldColumn("position", "note", 200)}
}

// metres is the column of a length of which 0 means something.
func metres(kind, field string) column {
	f := timeline.KindOf(kind).Field(field)
	c := fieldColumn(kind, field, 76)
	c.text = func(_ *App, e *entry) string { return f.Get(e.rec).Text }
	return c
}

func groupColumns() []column {
	count := column{title: "Effects", width: 70, right: true, text: func(_ *App, e *entry) string { return strconv.Itoa(len(e.rec.(*timeline.Group).Members)) }}
	lanes := column{title: "Lanes", width: 66, right: true, text: func(a *App, e *entry) string {
		n := 0
		for _, s := range a.work.shown.Songs {
			for _, l := range s.Lanes {
				if l.Target == e.ref.ID {
					n++
				}
			}
		}
		return blankZero(n)
	}}
	members := fieldColumn("group", "members", 0)
	members.title = "In this order"
	return []column{fieldColumn("group", "name", 170), count, lanes, members}
}

func supplyColumns() []column {
	usable := column{title: "Usable, kg", width: 90, right: true, text: func(_ *App, e *entry) string {
		s := e.rec.(*timeline.Supply)
		return number(s.Fill * float64(s.Units) * s.Usable)
	}}
	reserve := column{title: "Warn below, kg", width: 110, right: true, text: func(_ *App, e *entry) string {
		s := e.rec.(*timeline.Supply)
		return number(s.Fill * float64(s.Units) * s.Usable * s.Reserve)
	}}
	return []column{fieldColumn("supply", "name", 150), fieldColumn("supply", "medium", 90), fieldColumn("supply", "fill", 76), fieldColumn("supply", "units", 60), usable, reserve,
		fieldColumn("supply", "feeds", 0)}
}

// number writes a figure with three digits, "" for none.
func number(x float64) string {
	if x == 0 {
		return ""
	}
	return strconv.FormatFloat(x, 'g', 3, 64)
}

// badge sets a text after a mark of severity.
func (a *App) badge(r image.Rectangle, v render.Severity, text string) bool {
	s := a.ui.Scene()
	at := image.Pt(r.Min.X+s.Px(6), (r.Min.Y+r.Max.Y-s.Px(render.BadgeSize))/2)
	s.Badge(at, v)
	s.TextCut(image.Rect(at.X+s.Px(render.BadgeSize+5), r.Min.Y, r.Max.X-s.Px(4), r.Max.Y), render.TypeLabel, render.InkText, text)
	return true
}

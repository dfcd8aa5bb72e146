package app

import (
	"fmt"
	"image"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
)

// stockPages are the pages of what a programmer owns and knows: articles, types of devices and banks.
func (a *App) stockPages() []page.Page {
	return []page.Page{
		table.Records(a, page.Page{ID: "articles", Name: "Articles", Part: "Stock", Keys: []string{"Ctrl+1"}, Help: "effects as they are bought or built: leads, times, distances, how many", Kind: "article"}, table.Spec{Empty: "No article yet. Use Take stock… for the starter stock or another show's, or press Insert to write your own.",
			Note:    "Numbers marked C, M or J and invented ones are unverified: replace them by the label's and the maker's. Label, permit and authority come first.",
			Buttons: []string{"row-add", "row-copy", "row-remove", "retire", "measure", "stock-take"}, Columns: a.articleColumns}),
		table.Records(a, page.Page{ID: "devicetypes", Name: "Device types", Part: "Stock", Help: "what a DMX device listens to: its slots in blocks", Kind: "devicetype"}, table.Spec{Empty: "No device type yet. Use Take stock…, or press Insert and give it slots on the page Slots.",
			Buttons: []string{"row-add", "row-copy", "row-remove", "slots", "stock-take"}, Columns: a.deviceTypeColumns}),
		a.slotPage(),
		table.Records(a, page.Page{ID: "banktypes", Name: "Bank types", Part: "Stock", Help: "kinds of igniter and relay banks: outputs, latency, voltage", Kind: "banktype"}, table.Spec{Empty: "No bank type yet. Use Take stock…, or press Insert and say what its outputs are and how many.",
			Buttons: []string{"row-add", "row-copy", "row-remove", "stock-take"}, Columns: a.bankTypeColumns}),
	}
}

func (a *App) articleColumns() []table.Column {
	name := table.Field(a, "article", "name", 150)
	name.Draw = a.drawArticle
	lead := table.Column{Title: "Lead, s", Width: 108, Right: true, Text: func(e *table.Row) string {
		a := e.Record.(*timeline.Article)
		if a.Spread == 0 {
			return short(a.Lead.String())
		}
		return short(a.Lead.String()) + " ± " + short(a.Spread.String())
	}}
	family := table.Field(a, "article", "family", 120)
	mark := table.Field(a, "article", "mark", 72)
	state := table.Column{Title: "State", Width: 62, Text: func(e *table.Row) string {
		if e.Record.(*timeline.Article).Retired {
			return "retired"
		}
		return ""
	}}
	hand := table.Field(a, "article", "stock", 66)
	hand.Title = "On hand"
	return []table.Column{name, family, lead, table.Field(a, "article", "open", 62), table.Field(a, "article", "recovery", 84), table.Field(a, "article", "height", 74),
		table.Field(a, "article", "fallout", 74), table.Field(a, "article", "separation", 100), table.Field(a, "article", "nec", 62),
		table.Field(a, "article", "division", 72), hand, table.Field(a, "article", "expires", 90), mark, state, table.Field(a, "article", "control", 70),
		table.Field(a, "article", "hit", 86), table.Field(a, "article", "medium", 76), table.Field(a, "article", "use-rate", 98), table.Field(a, "article", "use-each", 84),
		table.Field(a, "article", "wind", 74), table.Field(a, "article", "clear", 70), table.Field(a, "article", "source", 180), table.Field(a, "article", "note", 180)}
}

// drawArticle sets an article's name after the shape of its family; that of a retired one is hollow.
func (a *App) drawArticle(e *table.Row, r image.Rectangle) bool {
	art, ok := e.Record.(*timeline.Article)
	if !ok {
		return false
	}
	a.drawNamed(art, art.Name, art.Retired, r)
	return true
}

// drawNamed sets a name after the shape of an article's family.
func (a *App) drawNamed(art *timeline.Article, name string, hollow bool, r image.Rectangle) {
	s := a.ui.Scene()
	in := image.Rect(r.Min.X+s.Px(8), r.Min.Y, r.Max.X-s.Px(4), r.Max.Y)
	h := s.Px(16)
	ink := render.InkText
	if hollow {
		ink = render.InkFaint
	}
	if art != nil {
		look := render.Look{Glyph: render.GlyphOf(art.Family), Ink: render.InkOf(art.Family.Class()), Hollow: hollow}
		s.Glyph(a.Theme(), image.Pt(in.Min.X, (r.Min.Y+r.Max.Y-h)/2), h, look)
	}
	in.Min.X += s.Px(24)
	s.TextCut(in, render.TypeLabel, ink, name)
}

func (a *App) deviceTypeColumns() []table.Column {
	blocks := table.Column{Title: "Blocks", Width: 110, Text: func(e *table.Row) string {
		var sizes []string
		for _, n := range e.Record.(*timeline.DeviceType).Blocks() {
			sizes = append(sizes, fmt.Sprint(n))
		}
		return strings.Join(sizes, " + ")
	}}
	heads := table.Column{Title: "Heads", Width: 60, Right: true, Text: func(e *table.Row) string { return fmt.Sprint(e.Record.(*timeline.DeviceType).Heads()) }}
	roles := table.Column{Title: "Roles", Width: 210, Text: func(e *table.Row) string { return rolesOf(e.Record.(*timeline.DeviceType)) }}
	used := table.Column{Title: "In rig", Width: 62, Right: true, Text: func(e *table.Row) string {
		n := 0
		for _, v := range a.work.shown.Rig.Devices {
			if v.Type == e.Ref.ID {
				n++
			}
		}
		return blankZero(n)
	}}
	return []table.Column{table.Field(a, "devicetype", "name", 150), blocks, heads, roles, table.Field(a, "devicetype", "latency", 90), table.Field(a, "devicetype", "arm-lead", 90),
		table.Field(a, "devicetype", "arm-hold", 90), table.Field(a, "devicetype", "hazardous", 84), used, table.Field(a, "devicetype", "mark", 76), table.Field(a, "devicetype", "note", 160)}
}

// rolesOf counts the slots of a type by role, in the order of the roles.
func rolesOf(t *timeline.DeviceType) string {
	var parts []string
	for _, role := range timeline.SlotRoles() {
		n := 0
		for _, s := range t.Slots {
			if s.Role == role {
				n++
			}
		}
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, role))
		}
	}
	return strings.Join(parts, ", ")
}

func blankZero(n int) string { return page.BlankZero(n) }

func short(number string) string { return page.Short(number) }

func (a *App) bankTypeColumns() []table.Column {
	used := table.Column{Title: "In rig", Width: 62, Right: true, Text: func(e *table.Row) string {
		n := 0
		for _, b := range a.work.shown.Rig.Banks {
			if b.Type == e.Ref.ID {
				n++
			}
		}
		return blankZero(n)
	}}
	return []table.Column{table.Field(a, "banktype", "name", 150), table.Field(a, "banktype", "kind", 80), table.Field(a, "banktype", "outputs", 76), table.Field(a, "banktype", "latency", 90),
		table.Field(a, "banktype", "volts", 76), table.Field(a, "banktype", "ohms", 92), table.Field(a, "banktype", "amps", 76), table.Field(a, "banktype", "capacity", 110), used,
		table.Field(a, "banktype", "mark", 76), table.Field(a, "banktype", "note", 160)}
}

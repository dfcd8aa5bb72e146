package app

import (
	"fmt"
	"image"
	"strings"

	"emberbeat/render"
	"emberbeat/timeline"
)

// stockPages are the pages of what a programmer owns and knows: articles, types of devices and banks.
func stockPages() []page {
	return []page{
		recordTable{p: page{id: "articles", name: "Articles", part: "Stock", keys: []string{"Ctrl+1"}, help: "effects as they are bought or built: leads, times, distances, how many"},
			kind:    "article",
			empty:   "No article yet. Use Take stock… for the starter stock or another show's, or press Insert to write your own.",
			note:    "Numbers marked C, M or J and invented ones are unverified: replace them by the label's and the maker's. Label, permit and authority come first.",
			buttons: []string{"row-add", "row-copy", "row-remove", "retire", "measure", "stock-take"}, columns: articleColumns}.page(),
		recordTable{p: page{id: "devicetypes", name: "Device types", part: "Stock", help: "what a DMX device listens to: its slots in blocks"},
			kind:    "devicetype",
			empty:   "No device type yet. Use Take stock…, or press Insert and give it slots on the page Slots.",
			buttons: []string{"row-add", "row-copy", "row-remove", "slots", "stock-take"}, columns: deviceTypeColumns}.page(),
		slotPage(),
		recordTable{p: page{id: "banktypes", name: "Bank types", part: "Stock", help: "kinds of igniter and relay banks: outputs, latency, voltage"},
			kind:    "banktype",
			empty:   "No bank type yet. Use Take stock…, or press Insert and say what its outputs are and how many.",
			buttons: []string{"row-add", "row-copy", "row-remove", "stock-take"}, columns: bankTypeColumns}.page(),
	}
}

func articleColumns() []column {
	name := fieldColumn("article", "name", 150)
	name.draw = drawArticle
	lead := column{title: "Lead, s", width: 108, right: true, text: func(_ *App, e *entry) string {
		a := e.rec.(*timeline.Article)
		if a.Spread == 0 {
			return short(a.Lead.String())
		}
		return short(a.Lead.String()) + " ± " + short(a.Spread.String())
	}}
	family := fieldColumn("article", "family", 120)
	mark := fieldColumn("article", "mark", 72)
	state := column{title: "State", width: 62, text: func(_ *App, e *entry) string {
		if e.rec.(*timeline.Article).Retired {
			return "retired"
		}
		return ""
	}}
	hand := fieldColumn("article", "stock", 66)
	hand.title = "On hand"
	return []column{name, family, lead, fieldColumn("article", "open", 62), fieldColumn("article", "recovery", 84), fieldColumn("article", "height", 74),
		fieldColumn("article", "fallout", 74), fieldColumn("article", "separation", 100), fieldColumn("article", "nec", 62),
		fieldColumn("article", "division", 72), hand, fieldColumn("article", "expires", 90), mark, state, fieldColumn("article", "control", 70),
		fieldColumn("article", "hit", 86), fieldColumn("article", "medium", 76), fieldColumn("article", "use-rate", 98), fieldColumn("article", "use-each", 84),
		fieldColumn("article", "wind", 74), fieldColumn("article", "clear", 70), fieldColumn("article", "source", 180), fieldColumn("article", "note", 180)}
}

// drawArticle sets an article's name after the shape of its family; that of a retired one is hollow.
func drawArticle(a *App, e *entry, r image.Rectangle) bool {
	art, ok := e.rec.(*timeline.Article)
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

func deviceTypeColumns() []column {
	blocks := column{title: "Blocks", width: 110, text: func(_ *App, e *entry) string {
		var sizes []string
		for _, n := range e.rec.(*timeline.DeviceType).Blocks() {
			sizes = append(sizes, fmt.Sprint(n))
		}
		return strings.Join(sizes, " + ")
	}}
	heads := column{title: "Heads", width: 60, right: true, text: func(_ *App, e *entry) string { return fmt.Sprint(e.rec.(*timeline.DeviceType).Heads()) }}
	roles := column{title: "Roles", width: 210, text: func(_ *App, e *entry) string { return rolesOf(e.rec.(*timeline.DeviceType)) }}
	used := column{title: "In rig", width: 62, right: true, text: func(a *App, e *entry) string {
		n := 0
		for _, v := range a.work.shown.Rig.Devices {
			if v.Type == e.ref.ID {
				n++
			}
		}
		return blankZero(n)
	}}
	return []column{fieldColumn("devicetype", "name", 150), blocks, heads, roles, fieldColumn("devicetype", "latency", 90), fieldColumn("devicetype", "arm-lead", 90),
		fieldColumn("devicetype", "arm-hold", 90), fieldColumn("devicetype", "hazardous", 84), used, fieldColumn("devicetype", "mark", 76), fieldColumn("devicetype", "note", 160)}
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

func blankZero(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

func bankTypeColumns() []column {
	used := column{title: "In rig", width: 62, right: true, text: func(a *App, e *entry) string {
		n := 0
		for _, b := range a.work.shown.Rig.Banks {
			if b.Type == e.ref.ID {
				n++
			}
		}
		return blankZero(n)
	}}
	return []column{fieldColumn("banktype", "name", 150), fieldColumn("banktype", "kind", 80), fieldColumn("banktype", "outputs", 76), fieldColumn("banktype", "latency", 90),
		fieldColumn("banktype", "volts", 76), fieldColumn("banktype", "ohms", 92), fieldColumn("banktype", "amps", 76), fieldColumn("banktype", "capacity", 110), used,
		fieldColumn("banktype", "mark", 76), fieldColumn("banktype", "note", 160)}
}

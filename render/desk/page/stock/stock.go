package stock

import (
	"fmt"
	"image"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
)

// stock is the pages of one host; they remember nothing but their tables.
type stock struct{ h page.Host }

// New gives the pages of articles, types of devices, types of banks and of what of the articles is placed and wired, in this order, and the
// commands of the stock.
func New(h page.Host) page.Family {
	p := stock{h}
	counts := table.New(h, table.Spec{Columns: p.countColumns, List: table.Of(h, "article"), Buttons: []string{"retire"},
		Empty: "No article yet: the stock is on the page Articles."})
	return page.Family{Commands: p.commands(), Pages: []page.Page{
		table.Records(h, page.Page{ID: "articles", Name: "Articles", Part: "Stock", Keys: []string{"Ctrl+1"}, Help: "effects as they are bought or built: leads, times, distances, how many", Kind: "article"}, table.Spec{Empty: "No article yet. Use Take stock… for the starter stock or another show's, or press Insert to write your own.",
			Note:    "Numbers marked C, M or J and invented ones are unverified: replace them by the label's and the maker's. Label, permit and authority come first.",
			Buttons: []string{"row-add", "row-copy", "row-remove", "retire", "measure", "stock-take"}, Columns: p.articleColumns}),
		table.Records(h, page.Page{ID: "devicetypes", Name: "Device types", Part: "Stock", Help: "what a DMX device listens to: its slots in blocks", Kind: "devicetype"}, table.Spec{Empty: "No device type yet. Use Take stock…, or press Insert and give it slots on the page Slots.",
			Buttons: []string{"row-add", "row-copy", "row-remove", "slots", "stock-take"}, Columns: p.deviceTypeColumns}),
		table.Records(h, page.Page{ID: "banktypes", Name: "Bank types", Part: "Stock", Help: "kinds of igniter and relay banks: outputs, latency, voltage", Kind: "banktype"}, table.Spec{Empty: "No bank type yet. Use Take stock…, or press Insert and say what its outputs are and how many.",
			Buttons: []string{"row-add", "row-copy", "row-remove", "stock-take"}, Columns: p.bankTypeColumns}),
		{ID: "counts", Name: "Against stock", Part: "Wiring", Help: "how many of each article are placed and wired, against what is on hand", Rows: counts, Draw: func(r image.Rectangle) { counts.Draw(r) }},
	}}
}

func (p stock) articleColumns() []table.Column {
	name := table.Field(p.h, "article", "name", 150)
	name.Draw = table.Article(p.h)
	lead := table.Column{Title: "Lead, s", Width: 108, Right: true, Text: func(e *table.Row) string {
		a := e.Record.(*timeline.Article)
		if a.Spread == 0 {
			return page.Short(a.Lead.String())
		}
		return page.Short(a.Lead.String()) + " ± " + page.Short(a.Spread.String())
	}}
	family := table.Field(p.h, "article", "family", 120)
	mark := table.Field(p.h, "article", "mark", 72)
	state := table.Column{Title: "State", Width: 62, Text: func(e *table.Row) string {
		if e.Record.(*timeline.Article).Retired {
			return "retired"
		}
		return ""
	}}
	hand := table.Field(p.h, "article", "stock", 66)
	hand.Title = "On hand"
	return []table.Column{name, family, lead, table.Field(p.h, "article", "open", 62), table.Field(p.h, "article", "recovery", 84), table.Field(p.h, "article", "height", 74),
		table.Field(p.h, "article", "fallout", 74), table.Field(p.h, "article", "separation", 100), table.Field(p.h, "article", "nec", 62),
		table.Field(p.h, "article", "division", 72), hand, table.Field(p.h, "article", "expires", 90), mark, state, table.Field(p.h, "article", "control", 70),
		table.Field(p.h, "article", "hit", 86), table.Field(p.h, "article", "medium", 76), table.Field(p.h, "article", "use-rate", 98), table.Field(p.h, "article", "use-each", 84),
		table.Field(p.h, "article", "wind", 74), table.Field(p.h, "article", "clear", 70), table.Field(p.h, "article", "source", 180), table.Field(p.h, "article", "note", 180)}
}

func (p stock) deviceTypeColumns() []table.Column {
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
		for _, v := range p.h.Show().Rig.Devices {
			if v.Type == e.Ref.ID {
				n++
			}
		}
		return page.BlankZero(n)
	}}
	return []table.Column{table.Field(p.h, "devicetype", "name", 150), blocks, heads, roles, table.Field(p.h, "devicetype", "latency", 90), table.Field(p.h, "devicetype", "arm-lead", 90),
		table.Field(p.h, "devicetype", "arm-hold", 90), table.Field(p.h, "devicetype", "hazardous", 84), used, table.Field(p.h, "devicetype", "mark", 76), table.Field(p.h, "devicetype", "note", 160)}
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

func (p stock) bankTypeColumns() []table.Column {
	used := table.Column{Title: "In rig", Width: 62, Right: true, Text: func(e *table.Row) string {
		n := 0
		for _, b := range p.h.Show().Rig.Banks {
			if b.Type == e.Ref.ID {
				n++
			}
		}
		return page.BlankZero(n)
	}}
	return []table.Column{table.Field(p.h, "banktype", "name", 150), table.Field(p.h, "banktype", "kind", 80), table.Field(p.h, "banktype", "outputs", 76), table.Field(p.h, "banktype", "latency", 90),
		table.Field(p.h, "banktype", "volts", 76), table.Field(p.h, "banktype", "ohms", 92), table.Field(p.h, "banktype", "amps", 76), table.Field(p.h, "banktype", "capacity", 110), used,
		table.Field(p.h, "banktype", "mark", 76), table.Field(p.h, "banktype", "note", 160)}
}

package app

import (
	"emberbeat/render/widget"
)

// commandButtons draws commands as buttons in as many rows as they need.
func (a *App) commandButtons(k *widget.Stack, ids []string) {
	u := a.ui
	if len(ids) == 0 {
		return
	}
	row := u.Stack(k.Top(widget.RowHeight), 6)
	for _, id := range ids {
		c := a.byID(id)
		name := c.name
		wide := u.ButtonWidth(name)
		if row.Rest().Dx() < u.Px(wide) {
			row = u.Stack(k.Top(widget.RowHeight), 6)
		}
		why := a.why(c)
		if u.Off(why).Button(id, row.Left(wide), name) {
			a.use(c)
		}
		if why == "" {
			u.Tip(upper(c.help), a.key(id))
		}
	}
}

// menuItems gives commands as items of a menu, with a rule where there is none of that id.
func (a *App) menuItems(ids []string) []widget.Item {
	var items []widget.Item
	for _, id := range ids {
		c := a.byID(id)
		if c == nil {
			items = append(items, widget.Item{Rule: true})
			continue
		}
		items = append(items, widget.Item{ID: id, Label: c.name, Keys: a.key(id), Off: a.why(c), Check: a.isOn(id)})
	}
	return items
}

// contextMenu draws the menu while it is open.
func (a *App) contextMenu() {
	if !a.ui.MenuOpen("context") {
		return
	}
	var items []widget.Item
	for _, id := range a.song.Offered() {
		c := a.byID(id)
		if c == nil {
			items = append(items, widget.Item{Rule: true})
			continue
		}
		items = append(items, widget.Item{ID: id, Label: c.name, Keys: a.key(id), Off: a.why(c), Check: a.isOn(id)})
	}
	if id, ok := a.ui.Menu("context", items); ok {
		a.song.FromMenu(func() { a.Use(id) })
	}
}

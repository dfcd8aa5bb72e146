package app

import (
	"fmt"
	"image"
	"strconv"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// slotPage is the page that edits the slots of a device type.
func (a *App) slotPage() page.Page {
	t := table.New(a, table.Spec{Columns: a.slotColumns, List: a.slotsListed, Buttons: []string{"slot-add", "slot-change", "slot-remove"},
		Empty: "This device type has no slot yet. Use Add slots… to say what its addresses mean; without an effect slot nothing can be cued on it.",
		Note:  "A window is the range of values in which the role is on; what lies outside, such as Off, is off. Wide slots take two addresses, coarse then fine."})
	return page.Page{ID: "slots", Name: "Slots", Part: "Stock", Help: "the slots of a device type: block, number, role, window, off, head",
		Acts: map[string]page.Act{"row-add": a.pageBinding(needType, using("slot-add")), "delete": a.pageBinding(needSlot, using("slot-remove")), "row-remove": a.pageBinding(needSlot, using("slot-remove"))},
		Rows: t, Draw: func(r image.Rectangle) {
			k := a.ui.Stack(r, 8)
			a.typeChoice(k.Top(widget.RowHeight))
			if used := t.Draw(k.Rest()); used >= 0 {
				a.Use("slot-change")
			}
		}}
}

// slotType gives the device type whose slots are shown: the one chosen, else the first.
func (a *App) slotType() *timeline.DeviceType {
	types := a.work.shown.Stock.DeviceTypes
	if t := a.work.shown.Stock.DeviceType(a.book.slotType); t != nil || len(types) == 0 {
		return t
	}
	return types[0]
}

// typeChoice chooses whose slots are shown.
func (a *App) typeChoice(r image.Rectangle) {
	u := a.ui
	types := a.work.shown.Stock.DeviceTypes
	names, at := make([]string, len(types)), -1
	now := a.slotType()
	for i, t := range types {
		names[i] = t.Name
		if t == now {
			at = i
		}
	}
	row := u.Stack(r, 10)
	why := ""
	if len(types) == 0 {
		why = "there is no device type yet: add one on the page before"
	}
	if to, changed := u.Off(why).Dropdown("type", row.Left(300), names, at); changed {
		a.book.slotType = types[to].ID
		a.tableOf("slots").Again()
		a.tableOf("slots").Clear()
		a.again = true
	}
	u.Tip("The device type whose slots are shown", "")
}

// slotsListed gives the slots of the type shown, by block and number.
func (a *App) slotsListed() []table.Row {
	t := a.slotType()
	if t == nil {
		return nil
	}
	var list []table.Row
	for i := range t.Slots {
		list = append(list, table.Row{Key: strconv.Itoa(i), Ref: timeline.Ref{Kind: "devicetype", ID: t.ID}, Record: t, More: i})
	}
	return list
}

// slotAt gives the slot of a row.
func slotAt(e *table.Row) timeline.Slot { return e.Record.(*timeline.DeviceType).Slots[e.More.(int)] }

func (a *App) slotColumns() []table.Column {
	col := func(title string, width int, right bool, text func(s timeline.Slot) string) table.Column {
		return table.Column{Title: title, Width: width, Right: right, Text: func(e *table.Row) string { return text(slotAt(e)) }}
	}
	return []table.Column{
		col("Block.number", 90, false, func(s timeline.Slot) string { return fmt.Sprintf("%d.%d", s.Block, s.Number) }),
		col("Role", 96, false, func(s timeline.Slot) string { return string(s.Role) }),
		col("On from", 76, true, func(s timeline.Slot) string { return strconv.Itoa(s.From) }),
		col("On to", 76, true, func(s timeline.Slot) string { return strconv.Itoa(s.To) }),
		col("Off", 66, true, func(s timeline.Slot) string { return strconv.Itoa(s.Off) }),
		col("Wide", 70, false, func(s timeline.Slot) string { return map[bool]string{true: "16 bit", false: "8 bit"}[s.Wide] }),
		col("Head", 66, false, func(s timeline.Slot) string {
			return map[bool]string{true: "all", false: strconv.Itoa(s.Head)}[s.Head == 0]
		}),
		col("Name", 0, false, func(s timeline.Slot) string { return s.Name }),
	}
}

func needType(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	if a.book.at != "slots" {
		return "turn to the page Slots first"
	}
	if a.slotType() == nil {
		return "there is no device type yet: add one on the page before"
	}
	return ""
}

func needSlot(a *App) string {
	if why := needType(a); why != "" {
		return why
	}
	if len(a.tableOf("slots").Chosen()) == 0 {
		return "choose a slot of the table first"
	}
	return ""
}

func slotCommands() []command {
	return []command{
		{id: "slots", name: "Slots of the type…", help: "shows the slots of the chosen device type to be changed", group: "Book", off: needTypeChosen, run: (*App).openSlots},
		operationCommand("slot", "add", command{off: needType}, (*App).askSlots),
		operationCommand("slot", "change", command{off: needSlot}, (*App).askSlot),
		operationCommand("slot", "own", command{off: needDevices}, (*App).askSlotOwn),
		operationCommand("slot", "remove", command{off: needSlot}, (*App).removeSlots),
	}
}

func needTypeChosen(a *App) string {
	if why := needChosen(a); why != "" {
		return why
	}
	if a.book.refs[0].Kind != "devicetype" {
		return "choose a device type first"
	}
	return ""
}

func (a *App) openSlots() {
	a.book.slotType = a.book.refs[0].ID
	a.tableOf("slots").Again()
	a.turn("slots")
}

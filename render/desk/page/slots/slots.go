package slots

import (
	"fmt"
	"image"
	"strconv"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// ID is that of the page.
const ID = "slots"

// slots is the page with what it remembers.
type slots struct {
	h  page.Host
	t  *table.Table
	of timeline.ID // the device type whose slots were chosen to be shown
}

// New gives the page of slots and its commands.
func New(h page.Host) page.Family {
	p := &slots{h: h}
	p.t = table.New(h, table.Spec{Columns: columns, List: p.listed, Buttons: []string{"slot-add", "slot-change", "slot-remove"},
		Empty: "This device type has no slot yet. Use Add slots… to say what its addresses mean; without an effect slot nothing can be cued on it.",
		Note:  "A window is the range of values in which the role is on; what lies outside, such as Off, is off. Wide slots take two addresses, coarse then fine."})
	add := page.Does(operation.Find("slot", "add"), page.Command{Off: p.needType, Run: p.askSlots})
	change := page.Does(operation.Find("slot", "change"), page.Command{Off: p.needSlot, Run: p.askSlot})
	remove := page.Does(operation.Find("slot", "remove"), page.Command{Off: p.needSlot, Run: p.remove})
	return page.Family{
		Pages: []page.Page{{ID: ID, Name: "Slots", Part: "Stock", Help: "the slots of a device type: block, number, role, window, off, head",
			Acts: map[string]page.Act{"row-add": add.Act(), "delete": remove.Act(), "row-remove": remove.Act()}, Rows: p.t, Draw: p.draw, On: p.on}},
		Commands: []page.Command{
			{ID: "slots", Name: "Slots of the type…", Help: "shows the slots of the chosen device type to be changed", Off: p.needTypeChosen, Run: p.open},
			add, change,
			page.Does(operation.Find("slot", "own"), page.Command{Off: p.needDevices, Run: p.askOwn}),
			remove,
		},
	}
}

func (p *slots) draw(r image.Rectangle) {
	k := p.h.UI().Stack(r, 8)
	p.typeChoice(k.Top(widget.RowHeight))
	if used := p.t.Draw(k.Rest()); used >= 0 {
		p.h.Use("slot-change")
	}
}

// on shows the slots of a device type.
func (p *slots) on(r timeline.Ref) {
	p.of = r.ID
	p.t.Again()
}

// shown gives the device type whose slots are shown: the one chosen, else the first.
func (p *slots) shown() *timeline.DeviceType {
	s := p.h.Show().Stock
	if t := s.DeviceType(p.of); t != nil || len(s.DeviceTypes) == 0 {
		return t
	}
	return s.DeviceTypes[0]
}

// typeChoice chooses whose slots are shown.
func (p *slots) typeChoice(r image.Rectangle) {
	u := p.h.UI()
	types := p.h.Show().Stock.DeviceTypes
	names, at := make([]string, len(types)), -1
	now := p.shown()
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
		p.on(timeline.Ref{Kind: "devicetype", ID: types[to].ID})
		p.t.Clear()
		p.h.Again()
	}
	u.Tip("The device type whose slots are shown", "")
}

// listed gives the slots of the type shown, by block and number.
func (p *slots) listed() []table.Row {
	t := p.shown()
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

func columns() []table.Column {
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

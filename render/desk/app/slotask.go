package app

import (
	"strconv"

	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// slotGiven is what the fields of a slot hold to begin with.
func slotGiven(s timeline.Slot) map[string]string {
	return map[string]string{"block": strconv.Itoa(s.Block), "number": strconv.Itoa(s.Number), "role": string(s.Role), "from": strconv.Itoa(s.From), "to": strconv.Itoa(s.To),
		"off": strconv.Itoa(s.Off), "wide": strconv.FormatBool(s.Wide), "head": strconv.Itoa(s.Head), "name": s.Name}
}

// askSlots adds one slot or a run of them, one head each.
func (a *App) askSlots(o *operation.Operation) {
	t := a.slotType()
	a.askOperation(o, timeline.Ref{}, formSpec{title: "Add slots to " + t.Name, given: slotGiven(operation.NextSlot(t)),
		begin: func(args any) { args.(*operation.NewSlots).Type = t.ID }})
}

// askSlot changes the chosen slot.
func (a *App) askSlot(o *operation.Operation) {
	t, s := a.slotType(), slotAt(&a.tableOf("slots").Chosen()[0])
	a.askOperation(o, timeline.Ref{}, formSpec{title: "Change a slot of " + t.Name, given: slotGiven(s), begin: func(args any) {
		c := args.(*operation.ChangedSlot)
		c.Type, c.Slot = t.ID, operation.SlotPlace{Block: s.Block, Number: s.Number}
	}})
}

// removeSlots takes the chosen slots out of their type.
func (a *App) removeSlots(o *operation.Operation) {
	args := &operation.GoneSlots{Type: a.slotType().ID}
	rows := a.tableOf("slots").Chosen()
	for i := range rows {
		s := slotAt(&rows[i])
		args.Slots = append(args.Slots, operation.SlotPlace{Block: s.Block, Number: s.Number})
	}
	edit, err := o.Edit(a.operationAt(timeline.Ref{}), args)
	if err != nil {
		a.fail(err)
		return
	}
	a.tableOf("slots").Clear()
	a.doAsked(change{o.Say(a.work.s.Show(), args), []timeline.Edit{edit}}, nil)
}

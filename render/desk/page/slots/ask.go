package slots

import (
	"strconv"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

func (p *slots) needType() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	if p.h.InView() != ID {
		return "turn to the page Slots first"
	}
	if p.shown() == nil {
		return "there is no device type yet: add one on the page before"
	}
	return ""
}

func (p *slots) needSlot() string {
	if why := p.needType(); why != "" {
		return why
	}
	if len(p.t.Chosen()) == 0 {
		return "choose a slot of the table first"
	}
	return ""
}

func (p *slots) needTypeChosen() string {
	if why := page.NeedChosen(p.h); why != "" {
		return why
	}
	if p.h.Chosen()[0].Kind != "devicetype" {
		return "choose a device type first"
	}
	return ""
}

// open shows the slots of the chosen device type.
func (p *slots) open() { p.h.Turn(ID, p.h.Chosen()[0]) }

// given is what the fields of a slot hold to begin with.
func given(s timeline.Slot) map[string]string {
	return map[string]string{"block": strconv.Itoa(s.Block), "number": strconv.Itoa(s.Number), "role": string(s.Role), "from": strconv.Itoa(s.From), "to": strconv.Itoa(s.To),
		"off": strconv.Itoa(s.Off), "wide": strconv.FormatBool(s.Wide), "head": strconv.Itoa(s.Head), "name": s.Name}
}

// askSlots adds one slot or a run of them, one head each.
func (p *slots) askSlots() {
	t := p.shown()
	p.h.AskFor(operation.Find("slot", "add"), timeline.Ref{}, page.Form{Title: "Add slots to " + t.Name, Given: given(operation.NextSlot(t)),
		Begin: func(args any) { args.(*operation.NewSlots).Type = t.ID }})
}

// askSlot changes the chosen slot.
func (p *slots) askSlot() {
	t, s := p.shown(), slotAt(&p.t.Chosen()[0])
	p.h.AskFor(operation.Find("slot", "change"), timeline.Ref{}, page.Form{Title: "Change a slot of " + t.Name, Given: given(s), Begin: func(args any) {
		c := args.(*operation.ChangedSlot)
		c.Type, c.Slot = t.ID, operation.SlotPlace{Block: s.Block, Number: s.Number}
	}})
}

// remove takes the chosen slots out of their type.
func (p *slots) remove() {
	args := &operation.GoneSlots{Type: p.shown().ID}
	rows := p.t.Chosen()
	for i := range rows {
		s := slotAt(&rows[i])
		args.Slots = append(args.Slots, operation.SlotPlace{Block: s.Block, Number: s.Number})
	}
	if p.h.Carry(operation.Find("slot", "remove"), timeline.Ref{}, args) {
		p.t.Clear()
	}
}

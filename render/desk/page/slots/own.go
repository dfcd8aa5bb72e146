package slots

import (
	"fmt"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// needDevices says what to choose before slots of devices can be given a meaning.
func (p *slots) needDevices() string {
	if why := page.NeedChosenEdit(p.h); why != "" {
		return why
	}
	if p.h.Chosen()[0].Kind != "device" {
		return "choose a device on the page Devices first"
	}
	devices := p.chosenDevices()
	t := devices[0].Type
	for _, v := range devices {
		if v.Type != t {
			return "choose devices of one type: their slots differ"
		}
	}
	if t := p.h.Show().Stock.DeviceType(t); t == nil || len(t.Slots) == 0 {
		return "the device's type has no slots yet: give it some on the page Slots"
	}
	return ""
}

// chosenDevices gives the devices that are shown in the inspector.
func (p *slots) chosenDevices() []*timeline.Device {
	var list []*timeline.Device
	for _, r := range p.h.Chosen() {
		if v := p.h.Show().Rig.Device(r.ID); v != nil {
			list = append(list, v)
		}
	}
	return list
}

// askOwn asks what the show makes of one slot of the chosen devices: a name, a meaning where the type leaves it open, an address.
func (p *slots) askOwn() {
	devices := p.chosenDevices()
	t := p.h.Show().Stock.DeviceType(devices[0].Type)
	var ids []timeline.ID
	for _, v := range devices {
		ids = append(ids, v.ID)
	}
	said := timeline.Counted(len(devices), "device")
	if len(devices) == 1 {
		said = p.h.Show().Called(devices[0])
	}
	p.h.AskFor(operation.Find("slot", "own"), timeline.Ref{}, page.Form{
		Title: "Slot of " + said,
		Begin: func(args any) { args.(*operation.OwnSlot).Devices = ids },
		Choices: map[string]func() []page.Choice{
			"slot": func() []page.Choice {
				var list []page.Choice
				for _, s := range t.Slots {
					place := operation.SlotPlace{Block: s.Block, Number: s.Number}.String()
					list = append(list, page.Choice{Value: place, Name: strings.TrimSpace(fmt.Sprintf("%s %s %s", place, s.Role, s.Name))})
				}
				return list
			},
			"role": func() []page.Choice {
				list := []page.Choice{{Value: "", Name: "the type's"}}
				for _, r := range timeline.SlotRoles() {
					list = append(list, page.Choice{Value: string(r), Name: string(r)})
				}
				return list
			},
		},
		Off: map[string]func(any) string{"at": func(any) string {
			if len(devices) > 1 {
				return "choose one device alone to give its slot an address"
			}
			return ""
		}},
	})
}

package app

import (
	"cmp"
	"fmt"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// needDevices says what to choose before slots of devices can be given a meaning.
func needDevices(a *App) string {
	if why := needChosenEdit(a); why != "" {
		return why
	}
	if a.book.refs[0].Kind != "device" {
		return "choose a device on the page Devices first"
	}
	t := a.chosenDevices()[0].Type
	for _, v := range a.chosenDevices() {
		if v.Type != t {
			return "choose devices of one type: their slots differ"
		}
	}
	if t := a.work.shown.Stock.DeviceType(t); t == nil || len(t.Slots) == 0 {
		return "the device's type has no slots yet: give it some on the page Slots"
	}
	return ""
}

// chosenDevices gives the devices that are shown in the inspector.
func (a *App) chosenDevices() []*timeline.Device {
	var list []*timeline.Device
	for _, r := range a.book.refs {
		if v := a.work.shown.Rig.Device(r.ID); v != nil {
			list = append(list, v)
		}
	}
	return list
}

// askSlotOwn asks what the show makes of one slot of the chosen devices: a name, a meaning where the type leaves it open, an address.
func (a *App) askSlotOwn(o *operation.Operation) {
	devices := a.chosenDevices()
	t := a.work.shown.Stock.DeviceType(devices[0].Type)
	var ids []timeline.ID
	for _, v := range devices {
		ids = append(ids, v.ID)
	}
	said := counted(len(devices), "device")
	if len(devices) == 1 {
		said = cmp.Or(devices[0].Name, string(devices[0].ID))
	}
	a.askOperation(o, timeline.Ref{}, formSpec{
		title: "Slot of " + said,
		begin: func(args any) { args.(*operation.OwnSlot).Devices = ids },
		choices: map[string]func(*App) []formValue{
			"slot": func(*App) []formValue {
				var list []formValue
				for _, s := range t.Slots {
					place := operation.SlotPlace{Block: s.Block, Number: s.Number}.String()
					list = append(list, formValue{place, strings.TrimSpace(fmt.Sprintf("%s %s %s", place, s.Role, s.Name))})
				}
				return list
			},
			"role": func(*App) []formValue {
				list := []formValue{{"", "the type's"}}
				for _, r := range timeline.SlotRoles() {
					list = append(list, formValue{string(r), string(r)})
				}
				return list
			},
		},
		off: map[string]func(any) string{"at": func(any) string {
			if len(devices) > 1 {
				return "choose one device alone to give its slot an address"
			}
			return ""
		}},
	})
}

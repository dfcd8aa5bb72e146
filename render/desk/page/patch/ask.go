package patch

import (
	"slices"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// kind gives what the page in view patches: bank or device.
func (p *Patch) kind() string {
	switch p.h.InView() {
	case banksID:
		return "bank"
	case devicesID, universesID:
		return "device"
	}
	return ""
}

func (p *Patch) needPage() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	kind := p.kind()
	switch {
	case kind == "":
		return "turn to the page Banks or Devices first"
	case len(timeline.KindOf(kind+"type").List(p.h.Show(), "")) == 0:
		return "there is no " + kind + " type yet: add one to the stock first"
	}
	return ""
}

func (p *Patch) needPatched() string {
	if why := p.needPage(); why != "" {
		return why
	}
	if chosen := p.h.Chosen(); len(chosen) == 0 || chosen[0].Kind != p.kind() {
		return "choose a " + p.kind() + " of the table first"
	}
	return ""
}

// askRun asks for a run of what the page in view patches; it is like the chosen one, to begin with.
func (p *Patch) askRun() {
	kind := p.kind()
	typ, space, position := timeline.ID(""), "", timeline.ID("")
	if chosen := p.h.Chosen(); len(chosen) > 0 {
		switch v := page.Find(p.h.Show(), chosen[0]).(type) {
		case *timeline.Bank:
			typ, space, position = v.Type, v.Space, v.Position
		case *timeline.Device:
			typ, space, position = v.Type, v.Space, v.Position
		}
	}
	p.h.AskFor(operation.Find("patch", "add"), timeline.Ref{}, page.Form{
		Title: "Add a run of " + kind + "s",
		Given: map[string]string{"type": kind + "type=" + string(typ), "space": space, "position": string(position)},
		Choices: map[string]func() []page.Choice{"type": func() []page.Choice {
			var list []page.Choice
			k := timeline.KindOf(kind + "type")
			for _, r := range k.List(p.h.Show(), "") {
				list = append(list, page.Choice{Value: k.Name + "=" + string(r.RecordID()), Name: p.h.Show().Called(r)})
			}
			return list
		}},
		Off: map[string]func(any) string{"universe": func(any) string {
			if kind == "bank" {
				return "banks have addresses and no universes"
			}
			return ""
		}},
	})
}

// askPatched asks for the addresses of the chosen banks or devices, or of copies of them.
func (p *Patch) askPatched(o *operation.Operation) {
	chosen := slices.Clone(p.h.Chosen())
	p.h.AskFor(o, timeline.Ref{}, page.Form{
		Title: strings.Replace(o.Title, o.Button, o.Button+" "+page.CountedKind(len(chosen), timeline.KindOf(p.kind())), 1),
		Begin: func(args any) { args.(*operation.Patched).Refs = chosen },
	})
}

package app

import (
	"slices"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// patchCommands give devices and banks their addresses.
func patchCommands() []command {
	return []command{
		operationCommand("patch", "add", command{id: "patch-run", keys: []string{"Shift+Insert"}, off: needPatchPage}, (*App).askRun),
		operationCommand("patch", "copy", command{off: needPatched}, (*App).askPatched),
		operationCommand("patch", "move", command{off: needPatched}, (*App).askPatched),
	}
}

// patchKind gives what the page in view patches: bank or device.
func (a *App) patchKind() string {
	switch a.book.at {
	case "banks":
		return "bank"
	case "devices", "universes":
		return "device"
	}
	return ""
}

func needPatchPage(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	kind := a.patchKind()
	switch {
	case kind == "":
		return "turn to the page Banks or Devices first"
	case len(timeline.KindOf(kind+"type").List(a.work.shown, "")) == 0:
		return "there is no " + kind + " type yet: add one to the stock first"
	}
	return ""
}

func needPatched(a *App) string {
	if why := needPatchPage(a); why != "" {
		return why
	}
	if len(a.book.refs) == 0 || a.book.refs[0].Kind != a.patchKind() {
		return "choose a " + a.patchKind() + " of the table first"
	}
	return ""
}

// askRun asks for a run of what the page in view patches; it is like the chosen one, to begin with.
func (a *App) askRun(o *operation.Operation) {
	kind := a.patchKind()
	typ, space, position := timeline.ID(""), "", timeline.ID("")
	if len(a.book.refs) > 0 {
		switch v := find(a.work.shown, a.book.refs[0]).(type) {
		case *timeline.Bank:
			typ, space, position = v.Type, v.Space, v.Position
		case *timeline.Device:
			typ, space, position = v.Type, v.Space, v.Position
		}
	}
	a.askOperation(o, timeline.Ref{}, formSpec{
		title: "Add a run of " + kind + "s",
		given: map[string]string{"type": kind + "type=" + string(typ), "space": space, "position": string(position)},
		choices: map[string]func(*App) []formValue{"type": func(a *App) []formValue {
			var list []formValue
			k := timeline.KindOf(kind + "type")
			for _, r := range k.List(a.work.shown, "") {
				list = append(list, formValue{k.Name + "=" + string(r.RecordID()), k.NameOf(r)})
			}
			return list
		}},
		off: map[string]func(any) string{"universe": func(any) string {
			if kind == "bank" {
				return "banks have addresses and no universes"
			}
			return ""
		}},
	})
}

// askPatched asks for the addresses of the chosen banks or devices, or of copies of them.
func (a *App) askPatched(o *operation.Operation) {
	chosen := slices.Clone(a.book.refs)
	a.askOperation(o, timeline.Ref{}, formSpec{
		title: strings.Replace(o.Title, o.Button, o.Button+" "+page.CountedKind(len(chosen), timeline.KindOf(a.patchKind())), 1),
		begin: func(args any) { args.(*operation.Patched).Refs = chosen },
	})
}

package app

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/table"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

// patchCommands give devices and banks their addresses.
func patchCommands() []command {
	return []command{
		{id: "patch-run", name: "Add a run…", help: "adds banks or devices one after another from a start address on, the next free one if none is given", group: "Book", keys: []string{"Shift+Insert"}, off: needPatchPage, run: (*App).askRun},
		{id: "patch-copy", name: "Copy with addresses…", help: "copies the chosen banks or devices with addresses of their own", group: "Book", off: needPatched, run: func(a *App) { a.askMove(true) }},
		{id: "patch-move", name: "Number anew…", help: "gives the chosen banks or devices consecutive addresses from one on", group: "Book", off: needPatched, run: func(a *App) { a.askMove(false) }},
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

// choiceOf asks for one record of a kind; with none, nothing can be chosen as well.
func (a *App) choiceOf(name, label, kind string, at timeline.ID, none bool) (*ask, []timeline.ID) {
	k := timeline.KindOf(kind)
	f := &ask{name: name, label: label, names: []string{}}
	var ids []timeline.ID
	if none {
		ids, f.names = append(ids, ""), append(f.names, "none")
	}
	for _, r := range k.List(a.work.shown, "") {
		if r.RecordID() == at {
			f.at = len(ids)
		}
		ids, f.names = append(ids, r.RecordID()), append(f.names, k.NameOf(r))
	}
	return f, ids
}

// askRun asks for a run of banks or devices.
func (a *App) askRun() {
	kind := a.patchKind()
	var model timeline.Record // what the run is like, to begin with
	if len(a.book.refs) > 0 && a.book.refs[0].Kind == kind {
		model = find(a.work.shown, a.book.refs[0])
	}
	typ, space, position := runModel(model)
	types, typeIDs := a.choiceOf("type", "Type", kind+"type", typ, false)
	places, placeIDs := a.choiceOf("position", "Position", "position", position, true)
	hint := "1.45; one for each block"
	if kind == "bank" {
		hint = "an address"
	}
	d := &asking{title: "Add a run of " + kind + "s", verb: "Add", fields: []*ask{
		types,
		{name: "count", label: "How many", text: "1", help: "from 1 to 512"},
		{name: "name", label: "Name", hint: "the type's", help: "each gets it with a number that goes on after the highest taken one"},
		{name: "space", label: "Space", text: space, help: "address space: those of one space need different addresses"},
		{name: "universe", label: "Universe", text: "1", help: "to look for a free run in", off: func(*asking) string {
			if kind == "bank" {
				return "banks have addresses and no universes"
			}
			return ""
		}},
		{name: "starts", label: "Start at", hint: hint, help: "empty = the next free run"},
		places,
	}}
	d.work = func(a *App, d *asking) outcome {
		return a.run1(d, kind, typeIDs[types.at], placeIDs[places.at])
	}
	d.show(a)
}

// runModel gives type, space and position of a bank or device.
func runModel(r timeline.Record) (typ timeline.ID, space string, position timeline.ID) {
	switch v := r.(type) {
	case *timeline.Bank:
		return v.Type, v.Space, v.Position
	case *timeline.Device:
		return v.Type, v.Space, v.Position
	}
	return "", "", ""
}

// run1 is what a run of banks or devices comes to: where it fits, and the addresses each gets.
func (a *App) run1(d *asking, kind string, typ, position timeline.ID) outcome {
	show := a.work.s.Show()
	n, err := d.whole("count", 1, 512)
	if err != nil {
		return outcome{err: err}
	}
	universe, err := d.whole("universe", 1, 63999)
	if err != nil {
		return outcome{err: err}
	}
	name, space := strings.TrimSpace(d.field("name").text), strings.TrimSpace(d.field("space").text)
	if name == "" {
		name = a.nameOf([]string{kind + "type"}, "", typ)
	}
	give := a.work.ids()
	newID := func() timeline.ID { return give(kind, "") }
	var edit timeline.Edit
	if kind == "bank" {
		address, err := d.address()
		if err != nil {
			return outcome{err: err}
		}
		edit = timeline.AddBanks(timeline.BankRun{Type: typ, Count: n, Name: name, Space: space, Address: address, Position: position}, newID)
	} else {
		starts, err := d.starts()
		if err != nil {
			return outcome{err: err}
		}
		edit = timeline.AddDevices(timeline.DeviceRun{Type: typ, Count: n, Name: name, Space: space, Starts: starts, Universe: universe, Position: position}, newID)
	}
	out := patchOutcome(show, change{"add " + counted(n, kind), []timeline.Edit{edit}}, kind)
	out.lines = append(out.lines, whereFits(show, timeline.Ref{Kind: kind + "type", ID: typ}, space, universe, n)...)
	return out
}

// address reads a bank's start address; empty is the next free run.
func (d *asking) address() (int, error) {
	if strings.TrimSpace(d.field("starts").text) == "" {
		return 0, nil
	}
	n, err := d.whole("starts", 1, 1_000_000)
	if err != nil {
		return 0, err
	}
	return n, nil
}

// starts reads start addresses of devices; empty is the next free run.
func (d *asking) starts() ([]timeline.Patch, error) {
	var list []timeline.Patch
	for _, word := range strings.FieldsFunc(d.field("starts").text, func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
		p, err := timeline.ParsePatch(word)
		if err != nil {
			return nil, &timeline.ValueError{Field: "starts", Value: word, Want: err.Error()}
		}
		list = append(list, p)
	}
	return list, nil
}

// whereFits says where a run would fit: next free, and after the last used.
func whereFits(show *timeline.Show, typ timeline.Ref, space string, universe, count int) []string {
	next, err := sheet.NewNextFree(show, typ, space, universe, count)
	if err != nil {
		return nil
	}
	var lines []string
	for _, b := range next.Blocks {
		what := "The run"
		if len(next.Blocks) > 1 {
			what = fmt.Sprintf("Block %d", b.Block)
		}
		lines = append(lines, fmt.Sprintf("%s needs %d in a row. Next free: %s. After the last used: %s.", what, b.Slots, orNone(b.NextFree), orNone(b.AfterLast)))
	}
	return lines
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// patchOutcome shows the addresses that a change gives; an address that is taken is about the start.
func patchOutcome(show *timeline.Show, c change, kind string) outcome {
	next, err := show.Edit(c.edits...)
	if err != nil {
		return outcome{err: startError(err)}
	}
	out := outcome{change: c, head: []string{upper(kind), "Was", "Becomes"}}
	for _, ch := range timeline.Diff(show, next) {
		if ch.Ref.Kind != kind || ch.After == nil {
			continue
		}
		out.rows = append(out.rows, []string{timeline.KindOf(kind).NameOf(ch.After), addressText(ch.Before), addressText(ch.After)})
	}
	slices.SortStableFunc(out.rows, func(x, y []string) int { return table.Compare(x[2], y[2]) })
	return out
}

// startError makes an error about an address one about the field that asks for it.
func startError(err error) error {
	if bad := (*timeline.ValueError)(nil); errors.As(err, &bad) && bad.Field == "address" {
		c := *bad
		c.Field = "starts"
		return withValue(err, bad, &c)
	}
	return err
}

// addressText writes where a bank or device is patched.
func addressText(r timeline.Record) string {
	switch v := r.(type) {
	case *timeline.Bank:
		if v.Address > 0 {
			return fmt.Sprint(v.Address)
		}
	case *timeline.Device:
		var texts []string
		for _, p := range v.Starts {
			texts = append(texts, p.String())
		}
		return strings.Join(texts, "  ")
	}
	return ""
}

// askMove asks for the addresses of the chosen banks or devices, or of copies of them.
func (a *App) askMove(copies bool) {
	kind := a.patchKind()
	ids := make([]timeline.ID, len(a.book.refs))
	for i, r := range a.book.refs {
		ids[i] = r.ID
	}
	title, verb := "Number "+page.CountedKind(len(ids), timeline.KindOf(kind))+" anew", "Number"
	hint := "1.45; one for each block"
	if kind == "bank" {
		hint = "an address"
	}
	start := &ask{name: "starts", label: "Start at", hint: hint, help: "where the first one starts; the others follow, each where the one before ends"}
	if copies {
		title, verb = "Copy "+page.CountedKind(len(ids), timeline.KindOf(kind)), "Copy"
		start.help += "; empty = the next free run"
	}
	d := &asking{title: title, verb: verb, fields: []*ask{start}, work: func(a *App, d *asking) outcome { return a.moved(d, kind, ids, copies) }}
	d.show(a)
}

// moved is what numbering anew or copying comes to.
func (a *App) moved(d *asking, kind string, ids []timeline.ID, copies bool) outcome {
	give := a.work.ids()
	newID := func() timeline.ID { return give(kind, "") }
	var edit timeline.Edit
	if kind == "bank" {
		at, err := d.address()
		if err != nil {
			return outcome{err: err}
		}
		if edit = timeline.MoveBanks(ids, at); copies {
			edit = timeline.CopyBanks(ids, at, newID)
		}
	} else {
		starts, err := d.starts()
		if err != nil {
			return outcome{err: err}
		}
		if edit = timeline.MoveDevices(ids, starts); copies {
			edit = timeline.CopyDevices(ids, starts, newID)
		}
	}
	word := "number "
	if copies {
		word = "copy "
	}
	return patchOutcome(a.work.s.Show(), change{word + counted(len(ids), kind), []timeline.Edit{edit}}, kind)
}

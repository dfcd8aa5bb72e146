package app

import (
	"image"
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// dock shows the stage, on the page of a song, and below it the inspector, or the list of records.
func (a *App) dock(r image.Rectangle) {
	u := a.ui
	a.ground(r)
	a.ruleLeft(r)
	rest := r
	if a.book.at == "" {
		u.Group("stage")
		rest = a.song.Stage(r)
	}
	u.Group("side")
	in := u.Inset(rest, 10)
	if a.panel.records {
		a.recordList(in)
		return
	}
	a.inspector(in)
}

// inspected gives the records whose fields are shown: the selected cues, else the record last chosen, else the song.
func (a *App) inspected() []timeline.Ref {
	w := a.work
	if a.book.at != "" {
		return a.inspectedInBook()
	}
	if w.Data != nil && len(w.View().Selected) > 0 {
		var refs []timeline.Ref
		for _, c := range w.Selected() {
			refs = append(refs, timeline.Ref{Kind: "cue", Song: w.Song, ID: c.ID})
		}
		return refs
	}
	if r := a.panel.record; r.Kind != "" && find(w.Show, r) != nil {
		return []timeline.Ref{r}
	}
	if w.Song != "" {
		return []timeline.Ref{{Kind: "song", ID: w.Song}}
	}
	return []timeline.Ref{{Kind: "show", ID: w.Show.Head.ID}}
}

func find(s *timeline.Show, r timeline.Ref) timeline.Record { return page.Find(s, r) }

// nameOf gives the name of the record of one of some kinds with an id.
func (a *App) nameOf(kinds []string, song, id timeline.ID) string {
	return page.NameOf(a.work.Show, kinds, song, id)
}

// Logical heights of the inspector's rows.
const (
	headHigh   = 30
	labelWide  = 92
	listHigh   = 18
	itemsShown = 6
)

// inspector shows every field of the chosen records, to be changed.
func (a *App) inspector(r image.Rectangle) {
	u := a.ui
	refs := a.inspected()
	if len(refs) == 0 {
		u.Paragraph(r, render.TypeLabel, render.InkFaint, "Choose a row of the table, or several: their values are shown and changed here.")
		return
	}
	kind := timeline.KindOf(refs[0].Kind)
	var recs []timeline.Record
	for _, ref := range refs {
		if rec := find(a.work.Show, ref); rec != nil {
			recs = append(recs, rec)
		}
	}
	if kind == nil || len(recs) == 0 {
		return
	}
	k := u.Stack(r, 6)
	a.inspectorHead(k.Top(44), kind, refs, recs)
	high := 0
	for i := range kind.Fields {
		high += page.FieldHeight(&kind.Fields[i], recs[0])
	}
	area := u.BeginScroll("fields", k.Rest(), u.Px(high+8))
	form := u.Form(area, labelWide)
	u.Push(refs[0].String())
	for i := range kind.Fields {
		a.field(&form, kind, &kind.Fields[i], refs, recs, i)
	}
	u.Pop()
	u.EndScroll()
}

// inspectorHead says what is shown.
func (a *App) inspectorHead(r image.Rectangle, kind *timeline.Kind, refs []timeline.Ref, recs []timeline.Record) {
	u := a.ui
	k := u.Stack(r, 0)
	top := u.Stack(k.Top(24), 8)
	if u.Button("to-records", top.Right(80), "Records") {
		a.Use("records")
	}
	u.Tip("Lists every kind of record in the place of this", a.key("records"))
	name := a.work.Show.CalledIn(refs[0].Song, recs[0])
	title := kind.Name
	switch {
	case len(recs) > 1:
		title = page.CountedKind(len(recs), kind)
	case kind.Name == "cue":
		c := recs[0].(*timeline.Cue)
		title = "cue at " + c.At.String()
		if l := a.work.InView().Lane(c.Lane); l != nil {
			name = page.LaneName(a.work.Show, l)
		}
	case name != "":
		title = name
	}
	u.Label(top.Rest(), render.TypeStrong, render.InkText, upper(title))
	sub := kind.Help
	if kind.Name == "cue" && name != "" {
		sub = name
		if len(recs) > 1 {
			sub = "what differs is left empty"
		}
	} else if title == name {
		sub = kind.Name + ": " + kind.Help
	}
	u.Label(k.Top(18), render.TypeSmall, render.InkSecondary, sub)
}

func upper(s string) string { return page.Upper(s) }

// common gives the value that all records have in a field; same is false where they differ.
func common(f *timeline.Field, recs []timeline.Record) (v timeline.Value, same bool) {
	v = f.Get(recs[0])
	for _, r := range recs[1:] {
		if !f.Get(r).Equal(v) {
			return timeline.Value{}, false
		}
	}
	return v, true
}

// field draws one field and makes the change it asks for.
func (a *App) field(form *widget.Form, kind *timeline.Kind, f *timeline.Field, refs []timeline.Ref, recs []timeline.Record, n int) {
	u := a.ui
	v, same := common(f, recs)
	key := kind.Name + "." + f.Name
	off := ""
	if a.work.Session.ReadOnly() {
		off = needEdit(a)
	}
	u.PushOff(off)
	defer u.PopOff()
	row := form.Row(label(f.Name))
	if a.panel.mayFocus && n == 0 {
		a.panel.mayFocus = false
		u.Focus(key)
	}
	switch {
	case f.Type == timeline.ListField:
		a.listField(form, row, key, f, refs, v, same)
	case f.Type == timeline.FlagField:
		on := v.Text == "true"
		if now := u.Checkbox(key, row, "", on); now != on {
			a.assign(f, refs, flagText(now))
		}
	case len(f.Choices) > 0:
		a.chooseField(key, row, f, refs, v, same, f.Choices, f.Choices)
	case len(f.Ref) > 0:
		ids, names := a.choices(f, refs[0].Song)
		a.chooseField(key, row, f, refs, v, same, ids, names)
	default:
		hint := ""
		if !same {
			hint = "differs"
		}
		spec := widget.TextSpec{Hint: hint, Unit: f.Unit, Error: a.fields[refs[0].String()+key], Check: a.checkField(f, refs)}
		if e := u.TextField(key, row, v.Text, spec); e.Committed {
			a.assign(f, refs, e.Text)
		}
	}
	if f.Help != "" {
		u.Tip(f.Help, "")
	}
}

func flagText(on bool) string {
	if on {
		return "true"
	}
	return "false"
}

func label(name string) string { return page.Label(name) }

// checkField says what would be valid where a text is not: the edit is tried on the snapshot.
func (a *App) checkField(f *timeline.Field, refs []timeline.Ref) func(string) error {
	return func(text string) error {
		_, err := a.work.Session.Show().Edit(a.work.Plan.Assign(refs[0], timeline.Assignment{Field: f.Name, Op: timeline.AssignSet, Text: text}))
		return err
	}
}

// assign gives all chosen records a value in a field, as one step.
func (a *App) assign(f *timeline.Field, refs []timeline.Ref, text string) {
	a.assignOp(f, refs, timeline.AssignSet, text)
}

func (a *App) assignOp(f *timeline.Field, refs []timeline.Ref, op timeline.AssignOp, text string) {
	var edits []timeline.Edit
	for _, r := range refs {
		edits = append(edits, a.work.Plan.Assign(r, timeline.Assignment{Field: f.Name, Op: op, Text: text}))
	}
	label := "change " + strings.ReplaceAll(f.Name, "_", " ")
	if len(refs) > 1 {
		label += " of " + page.CountedKind(len(refs), timeline.KindOf(refs[0].Kind))
	}
	key := refs[0].String() + refs[0].Kind + "." + f.Name
	delete(a.fields, key)
	if isStock(refs) {
		if !a.doAsked(change{label, edits}, nil) {
			a.fields[key] = a.note.text
		}
		return
	}
	if err := a.work.Session.Do(label, edits...); err != nil {
		a.fields[key] = err.Error()
		a.fail(err)
		return
	}
	a.note = note{text: label}
	a.again = true
	a.say("did %s", label)
}

// chooseField draws a choice of words or records.
func (a *App) chooseField(key string, row image.Rectangle, f *timeline.Field, refs []timeline.Ref, v timeline.Value, same bool, ids, names []string) {
	at := -1
	if same {
		at = slices.Index(ids, v.Text)
	}
	if same && at < 0 { // what it names is gone: say so rather than hide it
		ids, names = append(slices.Clone(ids), v.Text), append(slices.Clone(names), v.Text+" (gone)")
		at = len(ids) - 1
	}
	if now, changed := a.ui.Dropdown(key, row, names, at); changed {
		a.assign(f, refs, ids[now])
	}
}

// choices gives the records that a field can name, by id and by name; the first is none.
func (a *App) choices(f *timeline.Field, song timeline.ID) (ids, names []string) {
	ids, names = []string{""}, []string{"none"}
	called := a.work.Show.Names()
	for _, name := range f.Ref {
		k := timeline.KindOf(name)
		if k == nil || k.InSong && song == "" {
			continue
		}
		type entry struct{ id, name string }
		var list []entry
		for _, r := range k.List(a.work.Show, song) {
			text := called.Called(song, r)
			if len(f.Ref) > 1 {
				text += "  (" + k.Name + ")"
			}
			list = append(list, entry{string(r.RecordID()), text})
		}
		slices.SortFunc(list, func(a, b entry) int { return strings.Compare(a.name, b.name) })
		for _, e := range list {
			ids, names = append(ids, e.id), append(names, e.name)
		}
	}
	return ids, names
}

// listField draws a list: each item to be changed or taken out, and a field to add one.
func (a *App) listField(form *widget.Form, row image.Rectangle, key string, f *timeline.Field, refs []timeline.Ref, v timeline.Value, same bool) {
	u := a.ui
	hint := "add an item"
	if !same {
		hint = "differs; adds to all"
	}
	if e := u.TextField(key, row, "", widget.TextSpec{Hint: hint, Check: a.checkItem(f, refs)}); e.Committed && e.Text != "" {
		a.assignOp(f, refs, timeline.AssignAdd, e.Text)
	}
	names, in := a.work.Show.Names(), refs[0].Song
	if refs[0].Kind == "song" {
		in = refs[0].ID
	}
	for i, item := range v.Items {
		if i == page.MostItems {
			return
		}
		u.PushRow(i)
		k := u.Stack(form.Row(""), 4)
		if u.IconButton("remove", k.Right(26), "×", "Takes this item out", "") {
			a.assignOp(f, refs, timeline.AssignRemove, item)
		}
		u.Label(k.Rest(), render.TypeLabel, render.InkText, names.SaidItem(f, in, item))
		u.Pop()
	}
}

func (a *App) checkItem(f *timeline.Field, refs []timeline.Ref) func(string) error {
	return func(text string) error {
		if text == "" {
			return nil
		}
		_, err := a.work.Session.Show().Edit(a.work.Plan.Assign(refs[0], timeline.Assignment{Field: f.Name, Op: timeline.AssignAdd, Text: text}))
		return err
	}
}

func (a *App) editValues() { a.toInspector("at") }
func (a *App) rename()     { a.toInspector("") }

// toInspector brings the focus to the first field of the inspector.
func (a *App) toInspector(string) {
	a.openDock()
	a.panel.records, a.panel.mayFocus = false, true
}

// recordList lists one kind of record, so that each can be opened in the inspector, added or taken out.
func (a *App) recordList(r image.Rectangle) {
	u, w := a.ui, a.work
	kinds := timeline.Kinds()
	var names []string
	for _, k := range kinds {
		names = append(names, upper(k.Plural))
	}
	k := u.Stack(r, 6)
	head := u.Stack(k.Top(widget.RowHeight), 8)
	if u.Button("to-inspector", head.Right(86), "Inspector") {
		a.Use("records")
	}
	u.Tip("Goes back to the values of what is chosen", a.key("records"))
	if now, changed := u.Dropdown("kind", head.Rest(), names, a.panel.kind); changed {
		a.panel.kind = now
		a.panel.rows.Clear()
	}
	kind := kinds[a.panel.kind]
	var recs []timeline.Record
	if !kind.InSong || w.Song != "" {
		recs = kind.List(w.Show, w.Song)
	}
	foot := u.Stack(k.Bottom(widget.RowHeight), 6)
	called := w.Show.Names()
	name := func(r timeline.Record) string { return called.Called(w.Song, r) }
	ref := func(i int) timeline.Ref {
		r := timeline.Ref{Kind: kind.Name, ID: recs[i].RecordID()}
		if kind.InSong {
			r.Song = w.Song
		}
		return r
	}
	why := needEdit(a)
	if kind.Name == "show" && why == "" {
		why = "a show has one head"
	}
	if kind.InSong && w.Song == "" && why == "" {
		why = "the show has no song yet"
	}
	if u.Off(why).Button("add-record", foot.Left(74), "Add") {
		a.addRecord(kind)
	}
	at := a.panel.rows.Cursor
	if why == "" && (at >= len(recs) || !a.panel.rows.Has(at)) {
		why = "choose a record first"
	}
	if u.Off(why).Button("remove-record", foot.Left(84), "Remove") {
		r := ref(at)
		if a.do(change{"remove " + kind.Name + " " + name(recs[at]), []timeline.Edit{func(d *timeline.Draft) error { return d.Remove(r) }}}) {
			a.panel.rows.Clear()
		}
	}
	spec := widget.TableSpec{
		Columns: []widget.Column{{}}, Rows: len(recs), Empty: "No " + kind.Plural + " yet: " + kind.Help + ".",
		Cell: func(b []byte, row, _ int) []byte { return append(b, name(recs[row])...) },
	}
	if e := u.List("records."+kind.Name, k.Rest(), &a.panel.rows, &spec); e.Used && e.Row < len(recs) {
		a.openRecord(ref(e.Row))
	}
}

// openRecord shows a record where it can be seen best.
func (a *App) openRecord(r timeline.Ref) {
	if r.Kind == "cue" {
		a.panel.records = false
		a.work.View().Choose(r.ID)
		return
	}
	a.inspect(r)
}

// addRecord adds a record of a kind with its defaults and shows it.
func (a *App) addRecord(kind *timeline.Kind) {
	w := a.work
	r := timeline.Ref{Kind: kind.Name}
	if kind.InSong {
		r.Song = w.Song
	}
	r.ID = w.NewIDs()(kind.Name, r.Song)
	if a.do(change{"add " + kind.Name, []timeline.Edit{w.Plan.Add(r)}}) {
		w.Refresh()
		a.openRecord(r)
	}
}

package app

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/prefs"
	"emberbeat/render/widget"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// dialog is a panel that stands over the window until it is answered.
type dialog interface {
	// draw shows the dialog and reports whether it has been left.
	draw(a *App) (left bool)
}

// dialogs shows the one that stands open. An answer may open the next.
func (a *App) dialogs() {
	d := a.dialog
	if d == nil {
		return
	}
	if d.draw(a) {
		if a.dialog == d {
			a.dialog = nil
		}
		a.again = true
	}
}

// escaped reports whether Escape was pressed: in a dialog of one field it leaves the dialog at once.
func (a *App) escaped() bool {
	return slices.ContainsFunc(a.in.Keys, func(p widget.Press) bool { return p.Key == widget.KeyEscape })
}

// errorDialog says what failed, what is safe, and lets the details be copied.
type errorDialog struct{ title, text string }

func (d *errorDialog) draw(a *App) bool {
	choice, ok := a.ui.Ask("error", widget.Question{Title: d.title, Text: d.text, Choices: []widget.Choice{{Label: "Copy details"}, {Label: "Close"}}})
	if ok && choice == 0 {
		a.ui.Clip.Write(d.title + "\n" + d.text)
	}
	return ok
}

// leaveDialog asks about unsaved edits before the show is left.
type leaveDialog struct{ then func() }

func (d *leaveDialog) draw(a *App) bool {
	q := widget.Question{Title: "There are unsaved edits",
		Text:    "Save them into the show's folder? Left unsaved, they stay in the journal and come back when the show is next opened.",
		Choices: []widget.Choice{{Label: "Leave unsaved"}, {Label: "Cancel"}, {Label: "Save", Main: true}}}
	choice, ok := a.ui.Ask("leave", q)
	switch {
	case !ok:
		return false
	case choice == 2:
		if a.save(); !a.work.Session.Dirty() {
			d.then()
		}
	case choice == 0:
		d.then()
	}
	return true
}

// overDialog asks before files are overwritten that another program has changed.
type overDialog struct{ files []string }

func (d *overDialog) draw(a *App) bool {
	q := widget.Question{Title: "The show has changed on disk",
		Text: "Another program has changed " + strings.Join(d.files, ", ") + " since the show was opened here. Save over it? " +
			"The version on disk is kept among the older versions.",
		Choices: []widget.Choice{{Label: "Save over it"}, {Label: "Do not save"}}}
	choice, ok := a.ui.Ask("over", q)
	if ok && choice == 0 {
		if err := a.work.Session.SaveOver(); err != nil {
			a.dialog = &errorDialog{title: "The show was not saved", text: err.Error()}
			return true
		}
		a.work.NoteDisk()
		a.work.ChangedOnDisk = false
		a.tell("saved; the other version is kept among the older ones")
		a.say("saved over")
	}
	return ok
}

// paletteDialog finds commands.
type paletteDialog struct{ p widget.Palette }

func (d *paletteDialog) draw(a *App) bool {
	var list []widget.Command
	for i := range a.table {
		c := &a.table[i]
		list = append(list, widget.Command{ID: c.id, Label: c.name, Place: c.group, Keys: a.keysText(c), Off: a.why(c)})
	}
	id, done := a.ui.Palette("palette", &d.p, "Commands", list)
	if done && id != "" {
		a.dialog = nil
		a.Use(id)
	}
	return done || a.escaped()
}

func (a *App) askCommand() { a.dialog = &paletteDialog{} }

// found is a place that a search has found.
type found struct {
	text, kind string
	ref        timeline.Ref
}

// findDialog finds songs, cues, lanes, sections and records.
type findDialog struct {
	p    widget.Palette
	list []found
}

func (d *findDialog) draw(a *App) bool {
	commands := make([]widget.Command, len(d.list))
	for i, f := range d.list {
		commands[i] = widget.Command{ID: fmt.Sprint(i), Label: f.text, Place: f.kind}
	}
	id, done := a.ui.Palette("find", &d.p, "Find", commands)
	if done && id != "" {
		var i int
		if _, err := fmt.Sscan(id, &i); err == nil {
			a.panel.found, a.panel.foundAt = matching(d.list, d.p.Query), 0
			a.goRef(d.list[i].ref)
		}
	}
	return done || a.escaped()
}

// matching gives the places whose text holds the query, for going from one to the next.
func matching(list []found, query string) []found {
	var hits []found
	for _, f := range list {
		if strings.Contains(strings.ToLower(f.text), strings.ToLower(query)) {
			hits = append(hits, f)
		}
	}
	return hits
}

func (a *App) askFind() {
	d := &findDialog{}
	show := a.work.Show
	names := show.Names()
	for _, k := range timeline.Kinds() {
		if !k.InSong {
			for _, r := range k.List(show, "") {
				d.list = append(d.list, found{names.Called("", r), k.Name, timeline.Ref{Kind: k.Name, ID: r.RecordID()}})
			}
			continue
		}
		for _, s := range show.Songs {
			for _, r := range k.List(show, s.ID) {
				n := names.Called(s.ID, r)
				if c, ok := r.(*timeline.Cue); ok {
					n = wording.JoinGiven(": ", n, c.Note)
				}
				d.list = append(d.list, found{n, k.Name + " in " + s.FullTitle(), timeline.Ref{Kind: k.Name, Song: s.ID, ID: r.RecordID()}})
			}
		}
	}
	a.dialog = d
}

func needFound(a *App) string {
	if a.work == nil || len(a.panel.found) == 0 {
		return "find something first, with Ctrl+F"
	}
	return ""
}

func (a *App) findNext() {
	a.panel.foundAt = (a.panel.foundAt + 1) % len(a.panel.found)
	a.goRef(a.panel.found[a.panel.foundAt].ref)
}

// goRef shows a record wherever it stands.
func (a *App) goRef(r timeline.Ref) {
	w := a.work
	if r.Song != "" || r.Kind == "song" {
		a.turn("")
	}
	if r.Kind == "song" {
		a.song.GoSong(r.ID)
	}
	if r.Song != "" {
		a.song.GoSong(r.Song)
	}
	var at timeline.Moment
	switch rec := find(w.Show, r).(type) {
	case *timeline.Cue:
		at = rec.At
		w.View().Choose(r.ID)
		w.View().Focus = rec.Lane
		a.song.RevealLane(w.LaneAt(rec.Lane))
		a.panel.records = false
	case *timeline.Section:
		at = rec.At
		a.inspect(r)
	case *timeline.Marker:
		at = rec.At
		a.inspect(r)
	case *timeline.Lane:
		w.View().Focus = r.ID
		a.song.RevealLane(w.LaneAt(r.ID))
		a.inspect(r)
		return
	default:
		a.inspect(r)
		return
	}
	if t, ok := at.In(w.InView().Beats); ok {
		a.song.Seek(t)
		a.song.Reveal()
	}
}

// helpDialog lists keys, all or those of a panel.
type helpDialog struct {
	title string
	parts []widget.HelpPart
}

func (d *helpDialog) draw(a *App) bool { return a.ui.Help("help", d.title, d.parts) }

func (a *App) askKeys() {
	d := &helpDialog{title: "Keys"}
	var rest []widget.HelpPart // what does nothing now, by why
	for _, g := range groups {
		part := widget.HelpPart{Title: g}
		for i := range a.table {
			c := &a.table[i]
			row := widget.HelpRow{Keys: a.keysText(c), Text: c.name}
			why := a.why(c)
			switch {
			case c.group != g || row.Keys == "":
			case why == "":
				part.Rows = append(part.Rows, row)
			default:
				why = "Not now: " + why
				n := slices.IndexFunc(rest, func(p widget.HelpPart) bool { return p.Title == why })
				if n < 0 {
					n, rest = len(rest), append(rest, widget.HelpPart{Title: why})
				}
				rest[n].Rows = append(rest[n].Rows, row)
			}
		}
		if len(part.Rows) > 0 {
			d.parts = append(d.parts, part)
		}
	}
	d.parts = append(d.parts, rest...)
	a.dialog = d
}

func (a *App) askHelp() {
	a.dialog = &helpDialog{title: "Help", parts: []widget.HelpPart{
		{Title: "With the pointer", Rows: []widget.HelpRow{
			{Keys: "Double-click", Text: "on a lane: place a cue"}, {Keys: "Drag", Text: "a cue: move it, snapped"}, {Keys: "Drag its end", Text: "change how long it is open"},
			{Keys: "Drag", Text: "on an empty lane: select"}, {Keys: "Drag", Text: "in a ruler or the sound: playhead"}, {Keys: "Drag", Text: "in the strip: show that part"},
			{Keys: "Click", Text: "a finding: go there"}, {Keys: "Right click", Text: "menu of what is there"}}},
		{Title: "While dragging", Rows: []widget.HelpRow{
			{Keys: "Alt", Text: "snap the other way"}, {Keys: "Ctrl", Text: "copy"}, {Keys: "Shift", Text: "keep lane or time"}, {Keys: "Esc", Text: "leave it as it was"}}},
		{Title: "With the wheel", Rows: []widget.HelpRow{
			{Keys: "Wheel", Text: "lanes, or time over rulers"}, {Keys: "Shift+wheel", Text: "time"}, {Keys: "Ctrl+wheel", Text: "zoom under the pointer"}, {Keys: "Alt+wheel", Text: "lane height"}}},
		{Title: "What a cue shows", Rows: []widget.HelpRow{
			{Keys: "Left edge", Text: "what the audience sees: the hit"}, {Keys: "Line before", Text: "from the command to the hit"}, {Keys: "Band behind", Text: "how long it is open"},
			{Keys: "Shape", Text: "kind of effect; colour: its class"}, {Keys: "Hollow", Text: "disabled, or leads to no command"}, {Keys: "Bar below", Text: "locked"}}},
		{Title: "Then", Rows: []widget.HelpRow{
			{Keys: a.key("palette"), Text: "any command by name"}, {Keys: a.key("keys"), Text: "all keys"}, {Keys: a.key("place"), Text: "place at the playhead"}, {Keys: a.key("tap"), Text: "tap cues in while it plays"},
			{Keys: a.key("finding-on"), Text: "go to the next finding"}, {Keys: a.key("fix"), Text: "apply its fix"}}},
	}}
}

// prefsDialog holds the user's settings.
type prefsDialog struct{}

func (d *prefsDialog) draw(a *App) bool {
	u := a.ui
	b := u.BeginDialog("preferences", "Preferences", 520, 442)
	f := u.Form(b.Body, 130)
	spec := widget.NumberSpec{Units: []widget.Unit{{Name: "ms", Num: 1, Den: 1}}, Min: 0, Max: prefs.MaxDelay, Step: 1, Big: 10}
	if e := u.Number("delay", f.Row("Output delay"), int64(a.prefs.DelayMS), &spec); e.Changed {
		a.setDelay(int(e.Value))
	}
	u.Tip("How long after the device's buffer the sound is heard: the playhead is drawn, and taps are placed, so much earlier", "")
	lead := widget.NumberSpec{Units: spec.Units, Min: -prefs.MaxLead, Max: prefs.MaxLead, Step: 1, Big: 10}
	if e := u.Number("lead", f.Row("Tap lead"), int64(a.prefs.LeadMS), &lead); e.Changed {
		a.prefs.LeadMS = int(e.Value)
		a.prefs.Save()
	}
	u.Tip("How much later than the sound you tap: taps are placed so much earlier, besides the output delay; below 0 if you tap early", "")
	names := make([]string, len(themes))
	for i := range themes {
		names[i] = themes[i].Name
	}
	if now, changed := u.Dropdown("theme", f.Row("Theme"), names, a.prefs.Theme%len(themes)); changed {
		a.prefs.Theme = now
		a.prefs.Save()
	}
	night := ""
	if a.Theme().Name != render.Night.Name {
		night = "it dims the theme Night"
	}
	dim := widget.NumberSpec{Units: []widget.Unit{{Name: "%", Num: 1, Den: 1}}, Min: 20, Max: 100, Step: 5, Fine: 1, Big: 20}
	if e := u.Off(night).Number("dim", f.Row("Dimmer"), int64(a.prefs.Dim), &dim); e.Changed {
		a.prefs.Dim = int(e.Value)
		a.prefs.Save()
	}
	sizes, at := make([]string, len(factors)), 0
	for i, n := range factors {
		sizes[i] = fmt.Sprintf("%d %%", n)
		if n == a.prefs.Factor {
			at = i
		}
	}
	if now, changed := u.Dropdown("size", f.Row("Size"), sizes, at); changed {
		a.prefs.Factor = factors[now]
		a.prefs.Save()
	}
	systems := []string{""}
	said := []string{"as the show has them"}
	for _, s := range units.Systems() {
		systems, said = append(systems, s.String()), append(said, s.Said())
	}
	if now, changed := u.Dropdown("units", f.Row("Units"), said, max(slices.Index(systems, a.prefs.Units), 0)); changed {
		a.readIn(systems[now])
	}
	u.Tip("In which units figures are shown and typed on the screen; sheets are printed in the show's own, files stay in metres", "")
	a.prefs.Snap = u.Toggle("snap", f.Row("Snap"), "draw what is moved to grid and marks", a.prefs.Snap)
	if u.Off(a.noKeysFile()).Button("keys", f.Row("Keys"), "Write the file of keys") {
		a.writeKeys()
	}
	u.Tip("Writes all commands with their keys into a file you can change; it is read at the next start", "")
	for _, p := range a.keys.Problems() {
		u.Label(f.Row(""), render.TypeSmall, render.InkText, p)
	}
	choice := b.Buttons(widget.Choice{Label: "Close", Main: true})
	b.End()
	if choice == 0 || b.Closed {
		a.prefs.Save()
		return true
	}
	return false
}

func (a *App) askPreferences() { a.dialog = &prefsDialog{} }

package app

import (
	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
	"emberbeat/timeline/rule"
)

// What pages of the book need of the shell: App is their page.Host.

var _ page.Host = (*App)(nil)

// UI gives what pages are drawn with.
func (a *App) UI() *widget.UI { return a.ui }

// Again asks for the frame to be drawn once more.
func (a *App) Again() { a.again = true }

// InView gives the id of the page in view, "" while the timeline is.
func (a *App) InView() string { return a.book.at }

// Fresh reports whether the page came into view just now.
func (a *App) Fresh() bool { return a.book.fresh }

// Show gives the show as it is drawn, nil while none is open.
func (a *App) Show() *timeline.Show {
	if a.work == nil {
		return nil
	}
	return a.work.Show
}

// Plan gives what the show comes to for the night in view.
func (a *App) Plan() *timeline.Plan { return a.work.Plan }

// SongPlan gives what a song comes to for that night, whether or not it is played.
func (a *App) SongPlan(id timeline.ID) *timeline.SongPlan {
	w := a.work
	for i := range w.Plan.Songs {
		if w.Plan.Songs[i].Song.ID == id {
			return w.Plan.Songs[i].SongPlan
		}
	}
	if p := w.Session.SongPlanOf(w.Show, id, w.Plan.Night); p != nil && len(p.Songs) > 0 {
		return p.Songs[0].SongPlan
	}
	return nil
}

// Planned gives what the show would come to with edits.
func (a *App) Planned(edits ...timeline.Edit) (*timeline.Plan, error) {
	return a.work.Planned(edits...)
}

// UnderPlan gives the picture under the stage plan of a venue.
func (a *App) UnderPlan(v *timeline.Venue) *render.Underlay {
	return a.files.Under(a.work.Session.Dir(), v.Picture)
}

// KeepPicture puts the picture that an operation has laid into the show's folder.
func (a *App) KeepPicture(args *operation.VenuePicture) {
	if err := a.files.Keep(a.work.Session.Dir(), args); err != nil {
		a.fail(err)
	}
}

// Findings gives those of the plan that was checked last.
func (a *App) Findings() []rule.Finding { return a.work.Findings }

// ReadOnly reports whether the show cannot be changed.
func (a *App) ReadOnly() bool { return a.work.Session.ReadOnly() }

// Do makes a change as one step.
func (a *App) Do(label string, edits ...timeline.Edit) bool { return a.do(change{label, edits}) }

// DoAs makes a change that joins the one before if it has the same key and follows quickly.
func (a *App) DoAs(key, label string, edits ...timeline.Edit) bool {
	return a.doAs(key, change{label, edits})
}

// DoAsked makes a change as one step, and says first what it comes to where anything rests on stock that it changes.
func (a *App) DoAsked(label string, then func(), edits ...timeline.Edit) bool {
	return a.doAsked(change{label, edits}, func(*App) {
		if then != nil {
			then()
		}
	})
}

// NewIDs gives what hands out ids that nothing in the show has, each once.
func (a *App) NewIDs() func(kind string, song timeline.ID) timeline.ID { return a.work.NewIDs() }

// Post hands the window's goroutine something to do.
func (a *App) Post(f func()) { a.post(f) }

// Log tells of a change of state.
func (a *App) Log(format string, args ...any) { a.say(format, args...) }

// Steps gives the steps that undo and redo walk.
func (a *App) Steps() (list []page.Step, now int) {
	steps, now := a.work.Session.Steps()
	for _, x := range steps {
		list = append(list, page.Step(x))
	}
	return list, now
}

// GoStep walks to one of them.
func (a *App) GoStep(step int) {
	n := a.work.Session.GoTo(step)
	a.work.Refresh()
	a.tell("%s taken back or made again", timeline.Counted(n, "step"))
	a.say("walked %d steps", n)
}

// Tell puts a sentence into the status bar.
func (a *App) Tell(text string) { a.tell("%s", text) }

// Warn puts one there that says why something cannot be done.
func (a *App) Warn(text string) {
	a.note = note{text: text, bad: true}
	a.again = true
}

// Off says why a command cannot be used whatever the page in view makes of it.
func (a *App) Off(command string) string {
	if c := a.byID(command); c.off != nil {
		return c.off(a)
	}
	return ""
}

// Key names the first key of a command.
func (a *App) Key(command string) string { return a.key(command) }

// Buttons draws commands as buttons in as many rows as they need.
func (a *App) Buttons(k *widget.Stack, commands ...string) { a.commandButtons(k, commands) }

// Menu draws a menu of commands while it is open.
func (a *App) Menu(key string, commands ...string) {
	if !a.ui.MenuOpen(key) {
		return
	}
	if id, ok := a.ui.Menu(key, a.menuItems(commands)); ok {
		a.Use(id)
	}
}

// Turn brings a page into view, with a record that stands on it; the timeline with a song.
func (a *App) Turn(id string, on ...timeline.Ref) {
	if p := a.pageOf(id); p != nil && p.On != nil && len(on) > 0 {
		p.On(on[0])
	}
	a.turn(id)
	if id == "" && len(on) > 0 {
		a.song.GoSong(on[0].ID)
	}
}

// Export opens the dialog of exports with a sheet.
func (a *App) Export(sheet string) { a.askExportOf(sheet) }

// Go shows a record where it can be seen best.
func (a *App) Go(r timeline.Ref) { a.goRef(r) }

// GoFinding shows a finding by its place in Findings.
func (a *App) GoFinding(i int) { a.goFinding(i) }

// Seek shows a time of a song on the timeline.
func (a *App) Seek(song timeline.ID, at timeline.Time) {
	a.turn("")
	a.song.GoSong(song)
	a.song.Seek(at)
	a.song.Reveal()
}

// Field draws a field of a record as the inspector does.
func (a *App) Field(form *widget.Form, on timeline.Ref, field string) {
	a.inspector.Field(form, on, field)
}

// Chosen gives the records that are chosen on the page in view, as far as they are there.
func (a *App) Chosen() []timeline.Ref {
	a.dropGone()
	return a.book.refs
}

// Choose sets them.
func (a *App) Choose(refs ...timeline.Ref) { a.book.refs = refs }

// Forget drops the record last gone to.
func (a *App) Forget() { a.panel.record = timeline.Ref{} }

// Rows gives the table of the page in view.
func (a *App) Rows() page.Rows {
	if p := a.inBook(); p != nil {
		return p.Rows
	}
	return nil
}

// Inspect brings the focus to the inspector's first field.
func (a *App) Inspect() { a.toInspector() }

// Snap reports whether what is dragged snaps.
func (a *App) Snap() bool { return a.prefs.Snap }

// SetSnap keeps for the user whether it does.
func (a *App) SetSnap(on bool) { a.prefs.Snap = on }

// Start begins a gesture of a page.
func (a *App) Start(g page.Gesture) { a.start(g) }

// Drive moves the gesture that goes on as long as one of the buttons is held.
func (a *App) Drive(held widget.Buttons) { a.drive(held) }

// Dragging reports whether a gesture goes on.
func (a *App) Dragging() bool { return a.gesture != nil }

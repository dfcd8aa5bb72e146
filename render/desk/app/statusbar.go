package app

import (
	"cmp"
	"fmt"
	"image"
	"time"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// statusBar says at its left what the held modifiers would do, in the middle what happened last, at its right how editing stands.
func (a *App) statusBar(r image.Rectangle) {
	u := a.ui
	a.ground(r)
	s := u.Scene()
	s.Rect(image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+s.Px(1)), render.InkBar)
	u.Group("status")
	k := u.Stack(r, 10)
	k.Left(2)
	k.Right(2)
	state, ink := a.savedState()
	a.statusRight(&k, ink, state)
	if why := a.song.Mute(); why == "" {
		a.statusRight(&k, render.InkSecondary, fmt.Sprintf("output delay %d ms", a.prefs.DelayMS))
	} else {
		a.statusRight(&k, render.InkText, why)
	}
	a.statusRight(&k, render.InkSecondary, a.song.SnapName()+", grid "+a.song.GridName())
	room := k.Rest().Dx() * 100 / int(s.Scale)
	u.Label(k.Left(room*2/5), render.TypeSmall, render.InkFaint, a.modifierHelp())
	a.lastDone(&k)
}

// refusalTime is how long the status bar says why something was refused.
const refusalTime = 6 * time.Second

// lastDone says what happened last, or for a while why something was refused, beside what takes the last step back and what lists them all.
func (a *App) lastDone(k *widget.Stack) {
	u := a.ui
	s := u.Scene()
	button := func(command, label, tip string) {
		r := k.Right(u.ButtonWidth(label))
		r.Min.Y, r.Max.Y = r.Min.Y+s.Px(2), r.Max.Y-s.Px(1)
		if u.Button(command, r, label) {
			a.Use(command)
		}
		u.Tip(tip, a.key(command))
	}
	const history = "book-history"
	if a.byID(history) != nil && needShow(a) == "" {
		button(history, "History", a.Help(history))
	}
	last := ""
	if needUndo(a) == "" {
		undo, _ := a.work.Session.Labels()
		last = undo[len(undo)-1]
		button("undo", "Undo", "Takes back: "+last)
	}
	if a.note.bad && a.note.until == 0 {
		a.note.until = a.in.Time + refusalTime
	}
	if a.note.bad && a.in.Time >= a.note.until {
		a.note = note{}
	}
	if a.note.bad {
		u.WakeAt(a.note.until)
		badge := k.Left(render.BadgeSize)
		s.Badge(image.Pt(badge.Min.X, (badge.Min.Y+badge.Max.Y-s.Px(render.BadgeSize))/2), render.SevWarning)
	}
	u.Label(k.Rest(), render.TypeLabel, render.InkText, cmp.Or(a.note.text, last))
}

// statusRight sets a text at the right end of what is left of the bar.
func (a *App) statusRight(k *widget.Stack, ink render.Ink, text string) {
	s := a.ui.Scene()
	w := s.Face(render.TypeSmall).Measure(text)*100/int(s.Scale) + 8
	if k.Rest().Dx() < s.Px(w+240) {
		return
	}
	s.TextIn(k.Right(w), render.Right, render.TypeSmall, ink, text)
}

// savedState says whether all edits are in the show's folder.
func (a *App) savedState() (string, render.Ink) {
	w := a.work
	if w == nil {
		return "", render.InkFaint
	}
	for _, err := range w.Session.Warnings() {
		return err.Error(), render.InkText
	}
	switch {
	case w.Session.ReadOnly():
		return "read-only", render.InkText
	case w.Session.Dirty():
		return "unsaved edits, kept in the journal", render.InkText
	}
	return "saved", render.InkSecondary
}

// modifierHelp says what the held modifiers would do now.
func (a *App) modifierHelp() string {
	if a.gesture != nil {
		return a.gesture.Help()
	}
	if a.inBook() != nil {
		return a.key("row-add") + ": add   " + a.key("edit-values") + ": values   " + a.key("duplicate") + ": copy   " + a.key("delete") + ": remove   " + a.key("row-filter") + ": filter   " + a.key("timeline") + ": timeline"
	}
	switch a.in.Mods {
	case widget.Ctrl:
		return "Ctrl+click: into or out of the selection   Ctrl+wheel: zoom   Ctrl+drag: copy"
	case widget.Shift:
		return "Shift+click: select to here   Shift+wheel: time   Shift+← →: a step of the grid"
	case widget.Alt:
		return "Alt+← →: move cues a frame   Alt+↑ ↓: to the next lane   Alt+wheel: lane height   Alt+drag: snap the other way"
	case widget.Alt | widget.Shift:
		return "Alt+Shift+← →: move cues by a step of the grid"
	}
	if a.work != nil && a.work.Data != nil {
		if n := len(a.work.View().Selected); n > 0 {
			return timeline.Counted(n, "cue") + " selected   Alt+← →: a frame   " + a.key("edit-values") + ": values   " + a.key("delete") + ": delete"
		}
		return "Double-click a lane or press " + a.key("place") + " to place a cue   " + a.key("play") + ": play   " + a.key("palette") + ": all commands"
	}
	return a.key("palette") + ": all commands   " + a.key("keys") + ": keys"
}

// progress shows what goes on beside the window, each with a way to cancel it.
func (a *App) progress() {
	if len(a.jobs) == 0 {
		return
	}
	u := a.ui
	s := u.Scene()
	b := s.Bounds()
	for i, j := range a.jobs {
		r := image.Rect(b.Max.X-s.Px(420), b.Max.Y-s.Px(statusHeight+60*(i+1)), b.Max.X-s.Px(12), b.Max.Y-s.Px(statusHeight+60*i+8))
		s.Rect(r, render.InkPanel)
		s.Frame(r, s.Px(1), render.InkEdge)
		u.PushRow(i)
		done, total := j.done.Load(), int64(1000)
		if done < 0 {
			done, total = 0, 0
		}
		if u.Progress("job", r.Inset(s.Px(10)), j.name, done, total, "Cancel") {
			j.stop()
			a.say("cancel asked %s", j.name)
		}
		u.Pop()
	}
}

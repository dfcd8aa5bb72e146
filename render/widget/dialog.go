package widget

import (
	"image"

	"emberbeat/render"
)

// openDialog is a dialog that stands open. The last one has the keys.
type openDialog struct {
	id     ID
	frame  uint64
	before ID   // what had the focus
	fresh  bool // the focus has still to be brought in
}

// Dialog is a dialog that is being built.
type Dialog struct {
	Body   image.Rectangle // between its title and its buttons
	Closed bool            // by Escape
	Fresh  bool            // it opened this frame: the moment to call UI.Focus
	u      *UI
	id     ID
	foot   image.Rectangle
	was    layer
	group  ID
}

// Sizes of a dialog in logical pixels.
const (
	dialogHead = 48
	dialogFoot = 60
	dialogPad  = 20
)

// Choice is a button of a dialog.
type Choice struct {
	Label string
	Off   string
	Main  bool // Enter uses it, wherever the focus is
}

// BeginDialog builds a dialog w × h logical pixels large in the middle of the window; it is open as long as it is built each frame. While it
// is, nothing below it can be used and Tab stays inside; when it closes, the focus goes back to where it was. End it with End.
func (u *UI) BeginDialog(key, title string, w, h int) Dialog {
	d := Dialog{u: u, id: u.id(key), was: u.layer, group: u.group}
	d.Fresh = u.openDialog(d.id)
	u.layer = layerDialog
	s := u.Scene()
	all := s.Bounds()
	s.Tint(all, render.InkBlack, 120)
	u.ground("shade", key, all)
	size := image.Pt(min(u.Px(w), all.Dx()), min(u.Px(h), all.Dy()))
	p := image.Pt((all.Dx()-size.X)/2, (all.Dy()-size.Y)*2/5)
	r := image.Rectangle{Min: p, Max: p.Add(size)}
	panel(s, r)
	u.Push(key)
	u.group = d.id
	u.ground("dialog", title, r)
	d.layOut(r, title)
	d.Closed = u.top(d.id) && u.pop.id == 0 && u.wants(KeyEscape, 0) && u.texts[u.focus] == nil
	if d.Closed {
		u.take(KeyEscape, 0)
	}
	return d
}

// layOut divides a dialog into title, body and foot.
func (d *Dialog) layOut(r image.Rectangle, title string) {
	u := d.u
	pad := u.Px(dialogPad)
	head := image.Rect(r.Min.X+pad, r.Min.Y, r.Max.X-pad, r.Min.Y+u.Px(dialogHead))
	u.Scene().TextCut(head, render.TypeTitle, render.InkText, title)
	d.foot = image.Rect(head.Min.X, r.Max.Y-u.Px(dialogFoot), head.Max.X, r.Max.Y)
	d.Body = image.Rect(head.Min.X, head.Max.Y, head.Max.X, d.foot.Min.Y)
}

// openDialog notes that a dialog is built this frame and says whether it opened just now.
func (u *UI) openDialog(id ID) bool {
	for i := range u.dialogs {
		if u.dialogs[i].id == id {
			u.dialogs[i].frame = u.frame
			return u.dialogs[i].fresh
		}
	}
	u.dialogs = append(u.dialogs, openDialog{id: id, frame: u.frame, before: u.focus, fresh: true})
	u.focus, u.pop.id = 0, 0
	u.again()
	return true
}

// top says whether a dialog is the last that opened.
func (u *UI) top(id ID) bool { return u.dialogs[len(u.dialogs)-1].id == id }

// Buttons draws a dialog's buttons at the right of its foot, the last one outermost, and gives the one that was used, -1 for none.
func (d *Dialog) Buttons(choices ...Choice) int {
	u, used, main := d.u, -1, -1
	row := u.Stack(d.foot, Gap)
	var room [6]image.Rectangle
	areas := room[:len(choices)]
	for i := len(choices) - 1; i >= 0; i-- {
		areas[i] = row.Right(max(u.ButtonWidth(choices[i].Label), 88))
		mid := (areas[i].Min.Y + areas[i].Max.Y) / 2
		areas[i].Min.Y, areas[i].Max.Y = mid-u.Px(15), mid+u.Px(15)
	}
	for i, c := range choices {
		look := plainButton
		if c.Main {
			look = mainButton
		}
		if u.Off(c.Off).button(c.Label, areas[i], c.Label, look) {
			used = i
		}
		if c.Main && c.Off == "" {
			main = i
		}
	}
	if used < 0 && main >= 0 && u.top(d.id) && u.pop.id == 0 && u.take(KeyEnter, 0) {
		used = main
	}
	return used
}

// End finishes a dialog.
func (d *Dialog) End() {
	u := d.u
	if u.top(d.id) && u.pop.id == 0 && !d.Closed && u.take(KeyEscape, 0) {
		d.Closed = true
	}
	o := &u.dialogs[len(u.dialogs)-1]
	if o.id == d.id && o.fresh {
		o.fresh = false
		u.enter(d.id)
	}
	u.Pop()
	u.layer, u.group = d.was, d.group
}

// enter brings the focus to the first control of a dialog.
func (u *UI) enter(group ID) {
	if u.focus != 0 {
		return
	}
	for i := range u.zones {
		if z := &u.zones[i]; z.group == group && z.reach != reachNone {
			u.focusOn(z.id)
			return
		}
	}
}

// closeDialogs takes away the dialogs that were not built this frame and gives the focus back, unless the program has chosen another one.
func (u *UI) closeDialogs() {
	for len(u.dialogs) > 0 && u.dialogs[len(u.dialogs)-1].frame != u.frame {
		if u.asked != u.frame {
			u.focus = u.dialogs[len(u.dialogs)-1].before
		}
		u.dialogs = u.dialogs[:len(u.dialogs)-1]
		u.again()
	}
}

// Question is a dialog of text and buttons.
type Question struct {
	Title, Text string
	Choices     []Choice
}

// Ask shows a question as long as it is called and gives the choice that was made; Escape makes none and gives -1. The focus begins on the main
// choice, else on the last: what does harm must be neither, since Enter would do it.
func (u *UI) Ask(key string, q Question) (choice int, ok bool) {
	const w = 460
	high := u.ParagraphHeight(u.Px(w-2*dialogPad), render.TypeLabel, q.Text)*100/int(u.Scene().Scale) + 1
	d := u.BeginDialog(key, q.Title, w, dialogHead+high+8+dialogFoot)
	u.Paragraph(d.Body, render.TypeLabel, render.InkText, q.Text)
	if d.Fresh {
		first := len(q.Choices) - 1
		for i, c := range q.Choices {
			if c.Main && c.Off == "" {
				first = i
			}
		}
		u.Focus(q.Choices[first].Label)
	}
	choice = d.Buttons(q.Choices...)
	d.End()
	return choice, choice >= 0 || d.Closed
}

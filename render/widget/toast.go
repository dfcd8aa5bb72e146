package widget

import (
	"image"
	"time"

	"emberbeat/render"
)

// Toast is a message that goes away by itself. What it says must be found elsewhere too, since it may be missed.
type Toast struct {
	Key    string // a later one with the same key replaces it
	Text   string
	Action string // the label of its button, "" for none
	Keys   string // that do the same
}

type liveToast struct {
	Toast
	until time.Duration
}

// toastTime is how long a toast stays; one that is pointed at or focused stays longer.
const toastTime = 6 * time.Second

// Notify shows a toast from now on.
func (u *UI) Notify(t Toast) {
	u.dropToast(t.Key)
	u.toasts = append(u.toasts, liveToast{t, u.in.Time + toastTime})
	u.again()
}

func (u *UI) dropToast(key string) {
	kept := u.toasts[:0]
	for _, t := range u.toasts {
		if t.Key != key {
			kept = append(kept, t)
		}
	}
	u.toasts = kept
}

// Toasts draws the toasts above each other at the bottom of r and gives the key of one whose action was used.
func (u *UI) Toasts(r image.Rectangle) (key string, ok bool) {
	was, group := u.layer, u.group
	u.layer = layerToast
	u.Push("toasts")
	u.group = u.id("")
	bottom := r.Max.Y - u.Px(12)
	for i := len(u.toasts) - 1; i >= 0; i-- {
		t := &u.toasts[i]
		if u.in.Time >= t.until {
			u.toasts = append(u.toasts[:i], u.toasts[i+1:]...)
			continue
		}
		used, top := u.toast(t, r, bottom)
		if used {
			key, ok = t.Key, true
		}
		bottom = top - u.Px(8)
		u.wakeAt(t.until)
	}
	if ok {
		u.dropToast(key)
	}
	u.Pop()
	u.layer, u.group = was, group
	return key, ok
}

// toast draws one toast and gives whether its action was used, and its top.
func (u *UI) toast(t *liveToast, r image.Rectangle, bottom int) (used bool, top int) {
	s := u.Scene()
	w := s.Face(render.TypeLabel).Measure(t.Text) + u.Px(32)
	button := 0
	if t.Action != "" {
		button = u.Px(u.ButtonWidth(t.Action))
		w += button + u.Px(10)
		if t.Keys != "" {
			w += u.keyWidth(t.Keys) + u.Px(8)
		}
	}
	w = min(w, r.Dx()-u.Px(16))
	x := (r.Min.X + r.Max.X - w) / 2
	area := image.Rect(x, bottom-u.Px(40), x+w, bottom)
	panel(s, area)
	s.Rect(image.Rect(area.Min.X, area.Min.Y+u.Px(1), area.Min.X+u.Px(3), area.Max.Y-u.Px(1)), render.InkSecondary)
	u.Push(t.Key)
	u.ground("toast", t.Key, area)
	row := u.Stack(image.Rect(area.Min.X+u.Px(16), area.Min.Y, area.Max.X-u.Px(10), area.Max.Y), 8)
	if t.Action != "" {
		if t.Keys != "" {
			u.keyCap(row.right(u.keyWidth(t.Keys)), t.Keys)
		}
		used = u.Button("action", vInset(row.right(button), u.Px(6)), t.Action)
		if u.last.hot || u.last.focus {
			t.until = max(t.until, u.in.Time+time.Second)
		}
	}
	s.TextCut(row.Rest(), render.TypeLabel, render.InkText, t.Text)
	u.Pop()
	return used, area.Min.Y
}

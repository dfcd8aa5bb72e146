package widget

import (
	"image"
	"strconv"
	"time"

	"emberbeat/render"
)

// Progress draws how far long work is, done of total, with a button that cancels it; cancel is that button's label, "" for none. A total of 0
// means that nobody knows how long it takes. It says whether the button was used.
func (u *UI) Progress(key string, r image.Rectangle, label string, done, total int64, cancel string) bool {
	s := u.Scene()
	row, used := u.Stack(r, Gap), false
	if cancel != "" {
		used = u.Button(key, row.Right(u.ButtonWidth(cancel)), cancel)
	}
	r = row.Rest()
	line := image.Rect(r.Min.X, r.Max.Y-s.Px(8), r.Max.X, r.Max.Y-s.Px(2))
	head := image.Rect(r.Min.X, r.Min.Y, r.Max.X, line.Min.Y-s.Px(2))
	body(s, line, render.InkLane, 255)
	outline(s, line, s.Px(1), render.InkBar)
	if total > 0 {
		done = min(max(done, 0), total)
		u.scratch = append(strconv.AppendInt(u.scratch[:0], done*100/total, 10), " %"...)
		s.BytesIn(head, render.Right, render.TypeSmall, render.InkSecondary, u.scratch)
		head.Max.X -= s.Face(render.TypeSmall).MeasureBytes(u.scratch) + s.Px(8)
		full := line.Inset(s.Px(1))
		full.Max.X = full.Min.X + int(int64(full.Dx())*done/total)
		s.Rect(full, render.InkText)
	} else {
		u.pendulum(line.Inset(s.Px(1)))
	}
	u.Label(head, render.TypeLabel, render.InkText, label)
	return used
}

// swing is how long the mark of work of unknown length takes from end to end; swingStep how often it moves.
const (
	swing     = 3 * time.Second
	swingStep = 100 * time.Millisecond
)

// pendulum draws a mark that goes slowly to and fro.
func (u *UI) pendulum(r image.Rectangle) {
	s := u.Scene()
	at := u.in.Time % (2 * swing)
	if at > swing {
		at = 2*swing - at
	}
	long := r.Dx() / 5
	x := r.Min.X + int(int64(r.Dx()-long)*int64(at/swingStep)/int64(swing/swingStep))
	s.Rect(image.Rect(x, r.Min.Y, x+long, r.Max.Y), render.InkSecondary)
	u.wakeAt((u.in.Time/swingStep + 1) * swingStep)
}

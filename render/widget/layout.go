package widget

import (
	"image"

	"emberbeat/render"
)

// Stack cuts pieces off a rectangle, from its top or from its left. All sizes are logical pixels.
type Stack struct {
	rest  image.Rectangle
	scale render.Scale
	gap   int
}

// Stack gives a Stack over r with gap between pieces.
func (u *UI) Stack(r image.Rectangle, gap int) Stack {
	return Stack{rest: r, scale: u.Scene().Scale, gap: gap}
}

// Inset gives r without a margin of n logical pixels all round.
func (u *UI) Inset(r image.Rectangle, n int) image.Rectangle { return r.Inset(u.Px(n)) }

// Top cuts a piece h high off the top.
func (k *Stack) Top(h int) image.Rectangle {
	r := k.rest
	r.Max.Y = min(r.Min.Y+k.scale.Px(h), k.rest.Max.Y)
	k.rest.Min.Y = min(r.Max.Y+k.scale.Px(k.gap), k.rest.Max.Y)
	return r
}

// Bottom cuts a piece h high off the bottom.
func (k *Stack) Bottom(h int) image.Rectangle {
	r := k.rest
	r.Min.Y = max(r.Max.Y-k.scale.Px(h), k.rest.Min.Y)
	k.rest.Max.Y = max(r.Min.Y-k.scale.Px(k.gap), k.rest.Min.Y)
	return r
}

// Left cuts a piece w wide off the left.
func (k *Stack) Left(w int) image.Rectangle { return k.left(k.scale.Px(w)) }

func (k *Stack) left(w int) image.Rectangle {
	r := k.rest
	r.Max.X = min(r.Min.X+w, k.rest.Max.X)
	k.rest.Min.X = min(r.Max.X+k.scale.Px(k.gap), k.rest.Max.X)
	return r
}

// Right cuts a piece w wide off the right.
func (k *Stack) Right(w int) image.Rectangle { return k.right(k.scale.Px(w)) }

func (k *Stack) right(w int) image.Rectangle {
	r := k.rest
	r.Min.X = max(r.Max.X-w, k.rest.Min.X)
	k.rest.Max.X = max(r.Min.X-k.scale.Px(k.gap), k.rest.Min.X)
	return r
}

// Rest gives what is left.
func (k *Stack) Rest() image.Rectangle { return k.rest }

// Columns cuts a row h high off the top and gives its column i of n equal ones; call it for i = 0 first.
func Columns(r image.Rectangle, n, i, gap int) image.Rectangle {
	w := r.Dx() - gap*(n-1)
	return image.Rect(r.Min.X+w*i/n+gap*i, r.Min.Y, r.Min.X+w*(i+1)/n+gap*i, r.Max.Y)
}

// Form sets fields below each other with their labels at the left, or above them where the form is narrow.
type Form struct {
	u     *UI
	stack Stack
	label int
	above bool
}

// formNarrow is how many logical pixels a field must have beside its label.
const formNarrow = 110

// Form gives a form in r whose labels are label logical pixels wide.
func (u *UI) Form(r image.Rectangle, label int) Form {
	return Form{u: u, stack: u.Stack(r, 6), label: label, above: r.Dx() < u.Px(label+formNarrow)}
}

// Row sets a label and gives the place of its field.
func (f *Form) Row(label string) image.Rectangle { return f.Rows(label, RowHeight) }

// Rows is Row for a field that is high logical pixels high.
func (f *Form) Rows(label string, high int) image.Rectangle {
	if f.above {
		if label != "" {
			f.u.Label(f.stack.Top(16), render.TypeSmall, render.InkSecondary, label)
		}
		return f.stack.Top(high)
	}
	row := f.u.Stack(f.stack.Top(high), Gap)
	side := row.Left(f.label)
	side.Max.Y = min(side.Max.Y, side.Min.Y+f.u.Px(RowHeight))
	f.u.Label(side, render.TypeLabel, render.InkSecondary, label)
	return row.Rest()
}

// Head sets a heading across the form.
func (f *Form) Head(text string) {
	f.stack.Top(2)
	r := f.stack.Top(22)
	f.u.Label(r, render.TypeStrong, render.InkText, text)
	f.u.Scene().Rect(image.Rect(r.Min.X, r.Max.Y-f.u.Px(1), r.Max.X, r.Max.Y), render.InkBeat)
}

// Rest gives what is left below.
func (f *Form) Rest() image.Rectangle { return f.stack.Rest() }

// vInset takes n device pixels off the top and the bottom of r.
func vInset(r image.Rectangle, n int) image.Rectangle {
	return image.Rect(r.Min.X, r.Min.Y+n, r.Max.X, r.Max.Y-n)
}

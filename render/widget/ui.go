package widget

import (
	"image"
	"time"

	"emberbeat/render"
)

// ID names a control: its key hashed with the scopes around it. 0 is no control.
type ID uint64

// UI runs the controls of one window. Make it with New. It belongs to the goroutine that draws.
type UI struct {
	Clip Clipboard // never nil

	faces  *render.Faces
	theme  *render.Theme
	in     Input
	used   []bool  // of in.Keys
	left   []Press // what Left gives
	held   []Press // keys that wait until a field has handed over its draft
	settle ID      // that field
	layers [layerCount]*render.Scene
	layer  layer
	frame  uint64

	zones, seen []zone // of this frame and of the one the user saw
	scopes      []ID
	offs        []string // reasons of PushOff
	off         string   // reason for the next control
	group       ID

	hot      ID    // under the pointer
	height   layer // of what is under the pointer
	onGround bool  // that is nothing, or what controls stand on
	onCanvas bool
	why      string  // it cannot be used
	active   ID      // holds the pointer since a press
	by       Buttons // that press
	focus    ID
	asked    uint64 // frame in which the program last chose the focus
	moved    bool   // the focus came by key: areas that scroll show it
	focusAt  time.Duration
	byKey    bool // the focus came by key last

	dialogs []openDialog
	pop     openPop
	last    control
	tip     tip
	toasts  []liveToast
	hovered time.Duration // since when hot is what it is
	wake    time.Duration
	wakes   bool

	texts   map[ID]*textState
	scrolls map[ID]*scrollState
	tables  map[ID]*tableState
	around  []openScroll
	scratch []byte
	items   []Item
}

// layer is the height at which something floats.
type layer uint8

const (
	layerBase layer = iota
	layerPop        // menus and lists of the base
	layerDialog
	layerDialogPop // menus and lists of a dialog
	layerToast
	layerTip
	layerCount
)

// New gives a UI whose floating panels are set with faces. A nil clipboard is replaced by one of the program's own.
func New(faces *render.Faces, clip Clipboard) *UI {
	if clip == nil {
		clip = &Board{}
	}
	u := &UI{Clip: clip, faces: faces, texts: map[ID]*textState{}, scrolls: map[ID]*scrollState{}, tables: map[ID]*tableState{}}
	for i := range u.layers {
		u.layers[i] = render.NewScene(faces)
	}
	return u
}

// Begin starts a frame on a scene that was Reset. The input is not changed; it and the theme are kept until End.
func (u *UI) Begin(in *Input, s *render.Scene, th *render.Theme) {
	u.in, u.theme, u.layers[layerBase] = *in, th, s
	for _, l := range u.layers[1:] {
		l.Reset(s.Size, s.Scale)
	}
	u.frame++
	u.used = append(u.used[:0], make([]bool, len(in.Keys))...)
	u.zones, u.seen = u.seen[:0], u.zones
	u.scopes, u.offs, u.layer, u.group, u.off = u.scopes[:0], u.offs[:0], layerBase, 0, ""
	u.wakes, u.last = false, control{}
	u.findHot()
	u.leavePop()
	u.grab()
}

// End finishes the frame: it draws what floats on top of the scene, and moves the focus where a key asked for it.
func (u *UI) End() {
	u.closeForgotten()
	u.drawTip()
	u.moveFocus()
	if u.in.Down&u.by == 0 {
		u.active = 0
	}
	for _, l := range u.layers[1:] {
		u.layers[layerBase].Append(l)
	}
	u.collectLeft()
	u.sweep()
	if in := &u.in; in.Pressed|in.Released != 0 || len(in.Keys)+len(in.Text) > 0 {
		u.again() // what controls answered may change what the ones before them show
	}
}

// Scene gives the scene that controls called now draw into: the one given to Begin, or that of the dialog or menu that is being built.
func (u *UI) Scene() *render.Scene { return u.layers[u.layer] }

// Theme gives the theme of this frame.
func (u *UI) Theme() *render.Theme { return u.theme }

// Input gives the input of this frame.
func (u *UI) Input() *Input { return &u.in }

// Px gives n logical pixels in device pixels.
func (u *UI) Px(n int) int { return u.Scene().Px(n) }

// Bounds gives the area of the window.
func (u *UI) Bounds() image.Rectangle { return u.Scene().Bounds() }

// Push opens a scope: the same key inside another scope is another control. Name the record that a form is about.
func (u *UI) Push(key string) { u.scopes = append(u.scopes, u.id(key)) }

// PushRow opens a scope for one row of many.
func (u *UI) PushRow(n int) { u.scopes = append(u.scopes, mix(u.scope(), uint64(n)+1)) }

// Pop closes the last scope.
func (u *UI) Pop() { u.scopes = u.scopes[:len(u.scopes)-1] }

func (u *UI) scope() ID {
	if n := len(u.scopes); n > 0 {
		return u.scopes[n-1]
	}
	return 14695981039346656037
}

// id hashes a key with its scope (FNV-1a).
func (u *UI) id(key string) ID {
	h := u.scope()
	for i := range len(key) {
		h = (h ^ ID(key[i])) * 1099511628211
	}
	return max(h, 1)
}

func mix(h ID, n uint64) ID {
	for range 8 {
		h = (h ^ ID(n&255)) * 1099511628211
		n >>= 8
	}
	return max(h, 1)
}

// Wake says when the next frame is due even if nothing is done: for the caret, a tip, a toast. ok is false where nothing waits.
func (u *UI) Wake() (at time.Duration, ok bool) { return u.wake, u.wakes }

// wakeAt asks for a frame at a time.
func (u *UI) wakeAt(t time.Duration) {
	if !u.wakes || t < u.wake {
		u.wake, u.wakes = t, true
	}
}

// WakeAt asks for a frame at a time, for what the program itself shows for a while.
func (u *UI) WakeAt(t time.Duration) { u.wakeAt(t) }

// again asks for a frame at once: something changed after it was drawn.
func (u *UI) again() { u.wakeAt(u.in.Time) }

// keepFrames is how many frames the state of a control that is not called is kept.
const keepFrames = 3600

// sweep forgets the state of controls that have long not been called.
func (u *UI) sweep() {
	if u.frame%keepFrames != 0 {
		return
	}
	for id, s := range u.texts {
		if u.frame-s.frame > keepFrames {
			delete(u.texts, id)
		}
	}
	for id, s := range u.tables {
		if u.frame-s.frame > keepFrames {
			delete(u.tables, id)
		}
	}
}

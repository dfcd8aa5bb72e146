package widget

import (
	"image"

	"emberbeat/render"
)

// Canvas is an area that the caller draws: a timeline, a stage. It takes part in focus and in who owns the pointer, and leaves the rest.
type Canvas struct {
	Area     image.Rectangle
	Hot      bool    // the pointer is on it, and on nothing that floats above
	Pressed  Buttons // went down on it
	Held     bool    // a button that went down on it is still held: follow the pointer wherever it goes
	Released Buttons // came up after they went down on it
	Focus    bool
	Entered  bool        // the focus came by a key
	Wheel    image.Point // turned over it
}

// Canvas registers an area of the caller's. A press gives it the focus; Tab is left to it, F6 leaves it. Call it before the controls that stand on
// top of it.
func (u *UI) Canvas(key string, r image.Rectangle) Canvas {
	id := u.id(key)
	u.stand(zone{id: id, key: key, area: r, ground: true, reach: reachOwn}, render.HitKind(key))
	v := Canvas{Area: r, Focus: u.focus == id && !u.Modal(), Entered: u.focus == id && u.byKey}
	v.Hot = u.hot == id && (u.active == 0 || u.active == id)
	if v.Hot {
		v.Pressed = u.in.Pressed
		v.Wheel, u.in.Wheel = u.in.Wheel, image.Point{}
		if v.Pressed != 0 && u.active == 0 {
			u.active, u.by = id, v.Pressed
		}
	}
	if u.active == id {
		v.Held = u.in.Down&u.by != 0
		v.Released = u.in.Released & u.by
	}
	u.last = control{id: id, area: r, hot: v.Hot}
	return v
}

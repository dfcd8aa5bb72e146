package widget

import (
	"image"

	"emberbeat/render"
)

// reach says how a control takes part in focus.
type reach uint8

const (
	reachNone  reach = iota // never
	reachKey                // by Tab; a press leaves the focus where it is
	reachPress              // by Tab and by a press
	reachOwn                // by a press and by UI.Focus; takes Tab for itself
)

// zone is where a control stood in a frame.
type zone struct {
	id         ID
	key        string
	area, grip image.Rectangle
	layer      layer
	ground     bool
	reach      reach
	group      ID
}

// control is what became of a control this frame.
type control struct {
	id    ID
	area  image.Rectangle
	off   string // why it cannot be used; "" where it can
	hot   bool   // the pointer is on it and may use it
	press bool   // the primary button went down on it
	held  bool   // it holds the pointer
	click bool   // the button came up on it after it went down on it
	focus bool
}

// Off gives the reason why the next control cannot be used; "" means that it can. The control is drawn faint and its tip says why.
func (u *UI) Off(why string) *UI {
	u.off = why
	return u
}

// PushOff makes all controls up to the matching PopOff unusable for a reason; "" changes nothing.
func (u *UI) PushOff(why string) {
	if why == "" && len(u.offs) > 0 {
		why = u.offs[len(u.offs)-1]
	}
	u.offs = append(u.offs, why)
}

// PopOff ends the last PushOff.
func (u *UI) PopOff() { u.offs = u.offs[:len(u.offs)-1] }

// takeOff gives the reason that holds for the control being built.
func (u *UI) takeOff() string {
	why := u.off
	u.off = ""
	if why == "" && len(u.offs) > 0 {
		why = u.offs[len(u.offs)-1]
	}
	return why
}

// control registers a control at r and says what became of it.
func (u *UI) control(kind render.HitKind, key string, r image.Rectangle, how reach) control {
	c := control{id: u.id(key), area: r, off: u.takeOff()}
	if c.off != "" {
		how = reachNone
	}
	u.stand(zone{id: c.id, key: key, area: r, reach: how}, kind)
	mine := u.hot == c.id
	if c.off == "" {
		c.hot = mine && (u.active == 0 || u.active == c.id)
		c.press = c.hot && u.in.Pressed&Primary != 0
		if c.press {
			u.active, u.by = c.id, Primary
		}
		c.held = u.active == c.id
		c.click = c.held && mine && u.in.Released&Primary != 0
		c.focus = u.focus == c.id && how != reachNone && (u.pop.id == 0 || u.layer == u.pop.layer)
	}
	u.last = c
	u.last.hot = mine
	if c.off != "" {
		u.Tip(c.off, "")
		if mine {
			u.why = c.off
		}
	}
	return c
}

// stand notes where a control is, for the pointer and for Tab.
func (u *UI) stand(z zone, kind render.HitKind) {
	s := u.Scene()
	clip := s.Clip()
	z.layer, z.group = u.layer, u.group
	if z.ground {
		z.grip = z.area.Intersect(clip)
		s.Ground(kind, z.key, z.area)
	} else {
		z.grip = grown(z.area, s.Px(render.Reach)).Intersect(clip)
		s.Hit(kind, z.key, z.area)
	}
	if z.id == u.focus && u.moved && z.reach != reachNone {
		u.showInScrolls(z.area)
	}
	u.zones = append(u.zones, z)
}

// ground registers an area that hides what is behind it from the pointer.
func (u *UI) ground(kind render.HitKind, key string, r image.Rectangle) {
	u.stand(zone{id: u.id(key), key: key, area: r, ground: true}, kind)
}

// Cover keeps the pointer from what lies under an area that is drawn over it.
func (u *UI) Cover(key string, r image.Rectangle) { u.ground("cover", key, r) }

// grown makes r at least size wide and high about its middle.
func grown(r image.Rectangle, size int) image.Rectangle {
	dx, dy := max(size-r.Dx(), 0), max(size-r.Dy(), 0)
	return image.Rect(r.Min.X-dx/2, r.Min.Y-dy/2, r.Max.X+dx-dx/2, r.Max.Y+dy-dy/2)
}

// findHot finds what the pointer is on, in what the user saw.
func (u *UI) findHot() {
	id := ID(0)
	u.height, u.onGround, u.onCanvas, u.why = u.floor(), true, false, ""
	if z := u.zoneAt(u.in.Pointer); z != nil {
		id, u.height, u.onGround, u.onCanvas = z.id, z.layer, z.ground, z.reach == reachOwn
	}
	if id != u.hot || u.in.Pressed != 0 {
		u.hovered = u.in.Time
	}
	u.hot = id
}

// zoneAt gives the zone of the last frame at a point: of the highest layer, in front of the frontmost ground, the nearest one.
func (u *UI) zoneAt(p image.Point) *zone {
	for l := layerTip; l+1 > u.floor(); l-- {
		if z := u.zoneIn(l, p); z != nil {
			return z
		}
	}
	return nil
}

func (u *UI) zoneIn(l layer, p image.Point) *zone {
	var found *zone
	best := 0
	for i := len(u.seen) - 1; i >= 0; i-- {
		z := &u.seen[i]
		if z.layer != l || !p.In(z.grip) {
			continue
		}
		if z.ground {
			if found == nil {
				found = z
			}
			return found
		}
		if d := away(p, z.area); found == nil || d < best {
			found, best = z, d
		}
	}
	return found
}

// away gives the square of the distance from the pixel p to the nearest pixel of r.
func away(p image.Point, r image.Rectangle) int {
	dx := max(r.Min.X-p.X, p.X-(r.Max.X-1), 0)
	dy := max(r.Min.Y-p.Y, p.Y-(r.Max.Y-1), 0)
	return dx*dx + dy*dy
}

// floor gives the lowest layer that can be used: a dialog shuts off what is below it. Toasts and tips float above all.
func (u *UI) floor() layer {
	switch {
	case u.pop.id != 0:
		return u.pop.layer
	case len(u.dialogs) > 0:
		return layerDialog
	}
	return layerBase
}

// seenZone gives the zone of a control in the last frame if it could have the focus.
func (u *UI) seenZone(id ID) *zone {
	for i := range u.seen {
		if u.seen[i].id == id && u.seen[i].reach != reachNone {
			return &u.seen[i]
		}
	}
	return nil
}

// Over says whether the pointer is on a control, or on something that floats, other than a Canvas.
func (u *UI) Over() bool { return u.hot != 0 && !u.onCanvas }

// Why gives, after End, why the control under the pointer cannot be used, "" where it can or there is none.
func (u *UI) Why() string { return u.why }

package widget

import (
	"image"

	"emberbeat/render"
)

// scrollState is where an area that scrolls stands, in device pixels.
type scrollState struct {
	y, high int // high is that of the content
	view    int
	grab    int // pointer to top of the thumb
}

// openScroll is an area between BeginScroll and EndScroll.
type openScroll struct {
	id    ID
	key   string
	state *scrollState
	view  image.Rectangle
}

// scrollBar is the logical width of a scroll bar.
const scrollBar = 12

// wheelStep is the logical height that one notch of the wheel moves.
const wheelStep = 3 * LineHeight

// BeginScroll starts an area that shows a part of content high device pixels high. It gives where the content stands, its top maybe far above
// r, and no wider than what the scroll bar leaves. End it with EndScroll.
func (u *UI) BeginScroll(key string, r image.Rectangle, high int) image.Rectangle {
	id := u.id(key)
	st := u.scrolls[id]
	if st == nil {
		st = &scrollState{}
		u.scrolls[id] = st
	}
	st.high, st.view = high, r.Dy()
	how := reachNone
	if st.over() > 0 {
		how = reachKey
	}
	u.stand(zone{id: id, key: key, area: r, ground: true, reach: how}, "scroll")
	if u.focus == id && how != reachNone {
		u.scrollKeys(st)
	}
	st.clamp()
	u.around = append(u.around, openScroll{id, key, st, r})
	if st.over() > 0 {
		r.Max.X -= u.Px(scrollBar)
	}
	u.Scene().PushClip(r)
	u.Push(key)
	return image.Rect(r.Min.X, r.Min.Y-st.y, r.Max.X, r.Min.Y-st.y+max(high, r.Dy()))
}

// EndScroll ends the last BeginScroll.
func (u *UI) EndScroll() {
	u.Pop()
	u.Scene().PopClip()
	o := u.around[len(u.around)-1]
	u.around = u.around[:len(u.around)-1]
	u.wheel(o.state, o.view)
	u.bar(o.key, o.state, o.view)
	if u.focus == o.id && u.seenZone(o.id) != nil {
		outline(u.Scene(), o.view, u.Px(2), render.InkFocus)
	}
}

// over gives how far the content is higher than the view.
func (st *scrollState) over() int { return max(st.high-st.view, 0) }

func (st *scrollState) clamp() { st.y = min(max(st.y, 0), st.over()) }

// show scrolls so that from to to, measured from the content's top, is seen.
func (st *scrollState) show(from, to int) {
	st.y = min(max(st.y, to-st.view), from)
	st.clamp()
}

// showInScrolls scrolls the areas around a control that got the focus.
func (u *UI) showInScrolls(area image.Rectangle) {
	for _, o := range u.around {
		was := o.state.y
		top := area.Min.Y - o.view.Min.Y + was
		o.state.show(top-u.Px(Gap), top+area.Dy()+u.Px(Gap))
		if o.state.y != was {
			u.again()
		}
	}
}

// scrollKeys scrolls by the keys of a focused area.
func (u *UI) scrollKeys(st *scrollState) {
	line, page := u.Px(LineHeight), max(st.view-u.Px(LineHeight), 1)
	for _, k := range []struct {
		key Key
		by  int
	}{{KeyUp, -line}, {KeyDown, line}, {KeyPageUp, -page}, {KeyPageDown, page}, {KeyHome, -st.high}, {KeyEnd, st.high}} {
		for u.take(k.key, 0) {
			st.y += k.by
		}
	}
}

// wheel scrolls by the wheel while the pointer is over the view, and takes it.
func (u *UI) wheel(st *scrollState, view image.Rectangle) {
	if u.in.Wheel.Y == 0 || st.over() == 0 || u.height != u.layer || u.in.Mods != 0 || !u.in.Pointer.In(view.Intersect(u.Scene().Clip())) {
		return
	}
	st.y += u.in.Wheel.Y * u.Px(wheelStep)
	st.clamp()
	u.in.Wheel.Y = 0
	u.again()
}

// bar draws the scroll bar at the right of a view and lets it be dragged.
func (u *UI) bar(key string, st *scrollState, view image.Rectangle) {
	if st.over() == 0 {
		return
	}
	track := image.Rect(view.Max.X-u.Px(scrollBar), view.Min.Y, view.Max.X, view.Max.Y)
	long := max(view.Dy()*view.Dy()/max(st.high, 1), u.Px(render.Reach))
	room := max(view.Dy()-long, 1)
	u.Push(key)
	c := u.control("scroll-bar", "bar", track, reachNone)
	u.Pop()
	top := room * st.y / st.over()
	p := u.in.Pointer.Y - view.Min.Y
	if c.press {
		st.grab = p - top
		if st.grab < 0 || st.grab > long {
			st.grab = long / 2
		}
	}
	if c.held && u.in.Down&Primary != 0 {
		st.y = (p - st.grab) * st.over() / room
		st.clamp()
		top = room * st.y / st.over()
	}
	thumb := image.Rect(track.Min.X+u.Px(3), view.Min.Y+top, track.Max.X-u.Px(3), view.Min.Y+top+long)
	ink := render.InkBar
	if c.hot || c.held {
		ink = render.InkEdge
	}
	body(u.Scene(), thumb, ink, 255)
}

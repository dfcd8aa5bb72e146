package widget

import "slices"

// Group starts a panel: Tab stays inside it and F6 goes to the next. "" ends it.
func (u *UI) Group(key string) {
	u.group = 0
	if key != "" {
		u.group = u.id(key)
	}
}

// Focus gives the focus to the control with a key in the scope that is open, as soon as it is called.
func (u *UI) Focus(key string) {
	u.focusOn(u.id(key))
	u.asked = u.frame
}

// Blur takes the focus from whatever has it.
func (u *UI) Blur() { u.focus = 0 }

// Focused says whether the control with a key in the open scope has the focus.
func (u *UI) Focused(key string) bool { return u.focus != 0 && u.focus == u.id(key) }

// HasFocus says whether any control has the focus.
func (u *UI) HasFocus() bool { return u.focus != 0 }

// Typing says whether text that is typed now goes into a field.
func (u *UI) Typing() bool {
	s := u.texts[u.focus]
	return s != nil && s.frame >= u.frame-1
}

// Modal says whether a dialog, a menu or a list stands open: the program's own keys rest then.
func (u *UI) Modal() bool { return len(u.dialogs) > 0 || u.pop.id != 0 }

// take gives whether a key went down that nobody took, and takes it.
func (u *UI) take(k Key, m Mods) bool {
	for i, p := range u.in.Keys {
		if !u.used[i] && p.Key == k && p.Mods == m {
			u.used[i] = true
			return true
		}
	}
	return false
}

// Take is take for what is drawn beside the controls and has the focus, such as a Canvas.
func (u *UI) Take(k Key, m Mods) bool { return u.take(k, m) }

// Left gives, after End, the keys of this frame that no control took. The slice lasts until the next Begin.
func (u *UI) Left() []Press { return u.left }

// collectLeft notes the keys that nobody took. A dialog lets nothing through. Where a field holds a draft, the keys wait a frame for it to be
// handed over: a command must find what was typed before it.
func (u *UI) collectLeft() {
	u.left = append(u.left[:0], u.held...)
	u.held, u.settle = u.held[:0], 0
	for i, p := range u.in.Keys {
		if !u.used[i] && !u.Modal() {
			u.left = append(u.left, p)
		}
	}
	if t := u.texts[u.focus]; len(u.left) > 0 && t != nil && t.draft && t.String() != t.base && t.bad == "" {
		u.held = append(u.held, u.left...)
		u.left, u.settle = u.left[:0], u.focus
		u.again()
	}
}

// grab gives the focus to what was pressed, where a press gives it. It runs before all controls, so that the one that loses it can still
// hand over its draft in the same frame.
func (u *UI) grab() {
	if u.in.Pressed&(Primary|Secondary) == 0 {
		return
	}
	if z := u.seenZone(u.hot); z != nil && z.reach >= reachPress {
		u.focus, u.byKey = z.id, false
	} else if u.hot != u.focus && u.texts[u.focus] != nil && u.pop.id == 0 {
		u.focus = 0 // a press anywhere else ends typing
	}
}

// moveFocus moves the focus by Tab within the group and by F6 between groups.
func (u *UI) moveFocus() {
	u.moved = false
	if u.focus != 0 && u.zoneNow(u.focus) == nil {
		u.focus = 0
	}
	for _, step := range []struct {
		key  Key
		mods Mods
		by   int
	}{{KeyTab, 0, 1}, {KeyTab, Shift, -1}, {KeyF6, 0, 1}, {KeyF6, Shift, -1}} {
		if step.key == KeyTab && !u.takesTab() || step.key == KeyF6 && u.Modal() {
			continue
		}
		for u.take(step.key, step.mods) {
			u.step(step.by, step.key == KeyF6)
		}
	}
}

// takesTab says whether Tab moves the focus: not where nothing has it, and not where what has it uses Tab itself.
func (u *UI) takesTab() bool {
	if u.Modal() {
		return true
	}
	z := u.zoneNow(u.focus)
	return z != nil && z.reach != reachOwn
}

// zoneNow gives the zone of a control in this frame.
func (u *UI) zoneNow(id ID) *zone {
	i := slices.IndexFunc(u.zones, func(z zone) bool { return z.id == id && z.reach != reachNone })
	if i < 0 {
		return nil
	}
	return &u.zones[i]
}

// step moves the focus to the next control of its group, or to the first of another group.
func (u *UI) step(by int, groups bool) {
	n, at := len(u.zones), -1
	for i, z := range u.zones {
		if z.id == u.focus && z.reach != reachNone {
			at = i
		}
	}
	from, any := u.groupNow(at)
	if at < 0 && by < 0 {
		at = 0
	}
	for range n {
		at = (at + by + n) % n
		z := &u.zones[at]
		if z.reach == reachNone || z.layer < u.floor() || (z.group != from) != groups && !any {
			continue
		}
		if groups {
			z = u.firstOf(z.group)
		}
		u.focusOn(z.id)
		return
	}
}

// groupNow gives the group that a step starts from, and whether any group will do, since nothing has the focus.
func (u *UI) groupNow(at int) (group ID, any bool) {
	if n := len(u.dialogs); n > 0 {
		return u.dialogs[n-1].id, false
	}
	if at < 0 {
		return 0, true
	}
	return u.zones[at].group, false
}

// focusOn gives the focus to a control, as a key does.
func (u *UI) focusOn(id ID) {
	u.focus, u.moved, u.byKey, u.focusAt = id, true, true, u.in.Time
	u.again()
}

// firstOf gives the first control of a group that can have the focus.
func (u *UI) firstOf(group ID) *zone {
	i := slices.IndexFunc(u.zones, func(z zone) bool { return z.group == group && z.reach != reachNone && z.layer >= u.floor() })
	return &u.zones[i]
}

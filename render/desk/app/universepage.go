package app

import (
	"fmt"
	"image"
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// universeWide is how many slots stand in a row of the map.
const universeWide = 32

// universePage is the map of a universe.
func universePage() page {
	return page{id: "universes", name: "Universes", part: "Patch", help: "who uses each of the 512 slots; arrow keys move, Enter shows the device",
		acts: map[string]act{"row-add": {needPatchPage, (*App).askRun}}, draw: (*App).universeMapPage}
}

// universeMapPage draws the choice of the universe, its map and what stands at the cursor.
func (a *App) universeMapPage(r image.Rectangle) {
	u := a.ui
	keys := universesOf(a.work.shown)
	slices.SortFunc(keys, func(x, y universeKey) int {
		if c := strings.Compare(x.space, y.space); c != 0 {
			return c
		}
		return x.universe - y.universe
	})
	at := max(slices.Index(keys, a.book.universe), 0)
	a.book.universe = keys[at]
	names := make([]string, len(keys))
	for i, k := range keys {
		names[i] = fmt.Sprintf("Universe %d", k.universe)
		if k.space != "" {
			names[i] = k.space + ": universe " + fmt.Sprint(k.universe)
		}
	}
	k := u.Stack(r, 8)
	row := u.Stack(k.Top(widget.RowHeight), 10)
	if now, changed := u.Dropdown("universe", row.Left(240), names, at); changed {
		a.book.universe = keys[now]
		a.again = true
	}
	u.Tip("The universe that is shown; one appears here when a device is patched into it", "")
	m := a.universe(a.book.universe.space, a.book.universe.universe)
	u.Label(row.Rest(), render.TypeSmall, render.InkSecondary, m.summary())
	a.commandButtons(&k, []string{"patch-run", "patch-copy", "patch-move"})
	a.slotNote(k.Bottom(64), m)
	a.slotMap(k.Rest(), m)
}

// summary counts a universe's slots.
func (m *universeMap) summary() string {
	used, bad, last := 0, 0, 0
	for slot := 1; slot <= slotsInUniverse; slot++ {
		if len(m.by[slot]) > 0 {
			used, last = used+1, slot
		}
		if m.clash(slot) != nil {
			bad++
		}
	}
	after := "none"
	if last < slotsInUniverse {
		after = fmt.Sprintf("%d.%d", m.universe, last+1)
	}
	text := fmt.Sprintf("%d of %d slots used, after the last used: %s", used, slotsInUniverse, after)
	if bad > 0 {
		text += fmt.Sprintf(", %s with more than one user", counted(bad, "slot"))
	}
	return text
}

// slotMap draws the 512 slots in rows, each device's run named, and moves the cursor.
func (a *App) slotMap(r image.Rectangle, m *universeMap) {
	u := a.ui
	s := u.Scene()
	c := u.Canvas("map", r)
	if a.book.fresh {
		u.Focus("map")
	}
	if a.book.slot < 1 {
		a.book.slot = 1
	}
	if c.Focus {
		a.slotKeys(m)
	}
	s.Rect(r, render.InkLane)
	head := s.Px(46)
	rows := slotsInUniverse / universeWide
	cell := image.Pt((r.Dx()-head-s.Px(8))/universeWide, min((r.Dy()-s.Px(8))/rows, s.Px(52)))
	origin := image.Pt(r.Min.X+head, r.Min.Y+s.Px(4))
	s.PushClip(r)
	for row := range rows {
		y := origin.Y + row*cell.Y
		s.TextIn(image.Rect(r.Min.X, y, r.Min.X+head-s.Px(8), y+cell.Y), render.Right, render.TypeSmall, render.InkFaint, fmt.Sprint(row*universeWide+1))
		for col := range universeWide {
			slot := row*universeWide + col + 1
			box := image.Rect(origin.X+col*cell.X, y, origin.X+(col+1)*cell.X, y+cell.Y)
			a.slotCell(m, slot, box)
			if c.Hot && c.Pressed&widget.Primary != 0 && a.in.Pointer.In(box) {
				a.book.slot = slot
				a.chooseSlot(m)
			}
		}
		a.slotNames(m, row, origin, cell)
	}
	a.slotCursor(origin, cell, c.Focus)
	s.PopClip()
	if c.Focus {
		s.Frame(r, s.Px(2), render.InkFocus)
	} else {
		s.Frame(r, s.Px(1), render.InkBar)
	}
}

// slotCell draws one slot: empty, used, or used twice, which is hatched and marked.
func (a *App) slotCell(m *universeMap, slot int, box image.Rectangle) {
	s := a.ui.Scene()
	in := image.Rect(box.Min.X, box.Min.Y+s.Px(1), box.Max.X, box.Max.Y-s.Px(1))
	claims := m.by[slot]
	switch {
	case len(claims) == 0:
		s.Rect(image.Rect(in.Min.X+s.Px(1), in.Max.Y-s.Px(1), in.Max.X-s.Px(1), in.Max.Y), render.InkBeat)
	case m.clash(slot) != nil:
		s.Rect(in, render.InkBar)
		for d := s.Px(6); d < in.Dx()+in.Dy(); d += s.Px(6) {
			x0, y0 := in.Min.X+min(d, in.Dx()), in.Min.Y+max(d-in.Dx(), 0)
			x1, y1 := in.Min.X+max(d-in.Dy(), 0), in.Min.Y+min(d, in.Dy())
			s.Line(float32(s.Px(1)), render.InkText, 200, render.Point{X: float32(x0), Y: float32(y0)}, render.Point{X: float32(x1), Y: float32(y1)})
		}
		size := s.Px(render.BadgeSize)
		s.Badge(image.Pt((in.Min.X+in.Max.X-size)/2, (in.Min.Y+in.Max.Y-size)/2), render.SevError)
	default:
		s.Rect(in, render.InkBeat)
		if c := claims[0]; c.number == 1 {
			s.Rect(image.Rect(in.Min.X, in.Min.Y, in.Min.X+s.Px(2), in.Max.Y), render.InkEdge)
		}
		s.TextIn(image.Rect(in.Min.X, (in.Min.Y+in.Max.Y)/2, in.Max.X, in.Max.Y), render.Middle, render.TypeSmall, render.InkSecondary, roleSign(claims[0].slot.Role))
	}
}

// roleSign gives the letters of a role.
func roleSign(role timeline.SlotRole) string {
	switch role {
	case timeline.EffectSlot:
		return "E"
	case timeline.LevelSlot:
		return "L"
	case timeline.ArmSlot:
		return "A"
	case timeline.ConditionSlot:
		return "C"
	case timeline.WarmUpSlot:
		return "W"
	case timeline.OpenSlot:
		return "?"
	}
	return "·"
}

// slotNames sets the name of each device over its run in a row.
func (a *App) slotNames(m *universeMap, row int, origin, cell image.Point) {
	s := a.ui.Scene()
	for col := 0; col < universeWide; {
		slot := row*universeWide + col + 1
		claims := m.by[slot]
		end := col + 1
		if len(claims) == 0 {
			col = end
			continue
		}
		for end < universeWide && m.claimed(row*universeWide+end+1, claims[0].device) {
			end++
		}
		y := origin.Y + row*cell.Y
		box := image.Rect(origin.X+col*cell.X+s.Px(5), y+s.Px(2), origin.X+end*cell.X-s.Px(2), y+cell.Y/2+s.Px(2))
		s.TextCut(box, render.TypeSmall, render.InkText, claims[0].device.Name)
		col = end
	}
}

// slotCursor draws the frame of the slot that the keys move.
func (a *App) slotCursor(origin, cell image.Point, focus bool) {
	s := a.ui.Scene()
	row, col := (a.book.slot-1)/universeWide, (a.book.slot-1)%universeWide
	at := origin.Add(image.Pt(col*cell.X, row*cell.Y))
	ink := render.InkEdge
	if focus {
		ink = render.InkFocus
	}
	s.Frame(image.Rectangle{Min: at, Max: at.Add(cell)}, s.Px(2), ink)
}

// slotKeys moves the cursor of the map.
func (a *App) slotKeys(m *universeMap) {
	for _, k := range []struct {
		key widget.Key
		by  int
	}{{widget.KeyLeft, -1}, {widget.KeyRight, 1}, {widget.KeyUp, -universeWide}, {widget.KeyDown, universeWide}, {widget.KeyHome, -slotsInUniverse}, {widget.KeyEnd, slotsInUniverse}} {
		for a.ui.Take(k.key, 0) {
			a.book.slot = min(max(a.book.slot+k.by, 1), slotsInUniverse)
			a.chooseSlot(m)
		}
	}
	if a.ui.Take(widget.KeyEnter, 0) {
		a.toInspector("")
	}
}

// chooseSlot shows the devices at the cursor in the inspector.
func (a *App) chooseSlot(m *universeMap) {
	a.book.refs = nil
	for _, c := range m.by[a.book.slot] {
		a.book.refs = append(a.book.refs, timeline.Ref{Kind: "device", ID: c.device.ID})
	}
	a.again = true
}

// slotNote says in words what stands at the cursor.
func (a *App) slotNote(r image.Rectangle, m *universeMap) {
	slot := min(max(a.book.slot, 1), slotsInUniverse)
	lines := []string{fmt.Sprintf("%d.%d: free", m.universe, slot)}
	for i, c := range m.by[slot] {
		what := string(c.slot.Role)
		if what == "" {
			what = "gap"
		}
		if c.slot.Name != "" {
			what += " “" + c.slot.Name + "”"
		}
		text := fmt.Sprintf("%d.%d: %s, slot %d.%d, %s", m.universe, slot, c.device.Name, c.block, c.number, what)
		if i == 0 {
			lines[0] = text
			continue
		}
		word := "shared with "
		if m.clash(slot) != nil {
			word = "conflict with "
		}
		lines = append(lines, word+text)
	}
	if len(m.by[slot]) == 0 && slot == 1 {
		lines = append(lines, "What has no address yet often answers to slot 1: leave it empty beside anything that can hurt.")
	}
	lines = append(lines, "E effect  L level  A arm  C condition  W warm-up  ? open  · spare or gap; hatched with E in an octagon: more than one user")
	a.ui.Paragraph(r, render.TypeSmall, render.InkSecondary, strings.Join(lines, "\n"))
}

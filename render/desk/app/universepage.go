package app

import (
	"fmt"
	"image"
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// universeWide is how many slots stand in a row of the map.
const universeWide = 32

// slotLow is the logical height below which a slot has no room for its role under the name.
const slotLow = 34

// universePage is the map of a universe.
func (a *App) universePage() page.Page {
	return page.Page{ID: "universes", Name: "Universes", Part: "Patch", Help: "who uses each of the 512 slots; arrow keys move, Enter shows the device",
		Acts: map[string]page.Act{"row-add": a.pageBinding(needPatchPage, using("patch-run"))}, Draw: a.universeMapPage}
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
	if last < m.last {
		after = fmt.Sprintf("%d.%d", m.universe, last+1)
	}
	text := fmt.Sprintf("%d of %d slots used, after the last used: %s", used, slotsInUniverse, after)
	if bad > 0 {
		text += fmt.Sprintf(", %s with more than one user", counted(bad, "slot"))
	}
	return text
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
	claims := m.by[slot]
	for i := range claims {
		c := &claims[i]
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
		for k := range i {
			if m.clashing(slot, c, &claims[k]) {
				word = "conflict with "
			}
		}
		lines = append(lines, word+text)
	}
	if len(m.by[slot]) == 0 && slot == 1 {
		lines = append(lines, "What has no address yet often answers to slot 1: leave it empty beside anything that can hurt.")
	}
	lines = append(lines, "E effect  L level  A arm  C condition  W warm-up  ? open  · spare or gap; hatched with E in an octagon: more than one user")
	a.ui.Paragraph(r, render.TypeSmall, render.InkSecondary, strings.Join(lines, "\n"))
}

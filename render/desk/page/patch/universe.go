package patch

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

// slotLow is the logical height below which a slot has no room for its role under the name.
const slotLow = 34

// drawUniverse draws the choice of the universe, its map and what stands at the cursor.
func (p *Patch) drawUniverse(r image.Rectangle) {
	u := p.h.UI()
	keys := universesOf(p.h.Show())
	slices.SortFunc(keys, func(x, y Universe) int {
		if c := strings.Compare(x.Space, y.Space); c != 0 {
			return c
		}
		return x.Number - y.Number
	})
	at := max(slices.Index(keys, p.At), 0)
	p.At = keys[at]
	names := make([]string, len(keys))
	for i, k := range keys {
		names[i] = fmt.Sprintf("Universe %d", k.Number)
		if k.Space != "" {
			names[i] = k.Space + ": universe " + fmt.Sprint(k.Number)
		}
	}
	k := u.Stack(r, 8)
	row := u.Stack(k.Top(widget.RowHeight), 10)
	if now, changed := u.Dropdown("universe", row.Left(240), names, at); changed {
		p.At = keys[now]
		p.h.Again()
	}
	u.Tip("The universe that is shown; one appears here when a device is patched into it", "")
	m := p.Map(p.At)
	u.Label(row.Rest(), render.TypeSmall, render.InkSecondary, m.Summary())
	p.h.Buttons(&k, "patch-run", "patch-copy", "patch-move")
	p.slotNote(k.Bottom(64), m)
	p.slotMap(k.Rest(), m)
}

// Summary counts a universe's slots.
func (m *Map) Summary() string {
	used, bad, last := 0, 0, 0
	for slot := 1; slot <= slotsInUniverse; slot++ {
		if len(m.by[slot]) > 0 {
			used, last = used+1, slot
		}
		if m.Clash(slot) != nil {
			bad++
		}
	}
	after := "none"
	if last < m.last {
		after = fmt.Sprintf("%d.%d", m.of.Number, last+1)
	}
	text := fmt.Sprintf("%d of %d slots used, after the last used: %s", used, slotsInUniverse, after)
	if bad > 0 {
		text += fmt.Sprintf(", %s with more than one user", timeline.Counted(bad, "slot"))
	}
	return text
}

// slotKeys moves the cursor of the map.
func (p *Patch) slotKeys(m *Map) {
	for _, k := range []struct {
		key widget.Key
		by  int
	}{{widget.KeyLeft, -1}, {widget.KeyRight, 1}, {widget.KeyUp, -universeWide}, {widget.KeyDown, universeWide}, {widget.KeyHome, -slotsInUniverse}, {widget.KeyEnd, slotsInUniverse}} {
		for p.h.UI().Take(k.key, 0) {
			p.Slot = min(max(p.Slot+k.by, 1), slotsInUniverse)
			p.chooseSlot(m)
		}
	}
	if p.h.UI().Take(widget.KeyEnter, 0) {
		p.h.Inspect()
	}
}

// chooseSlot shows the devices at the cursor in the inspector.
func (p *Patch) chooseSlot(m *Map) {
	var refs []timeline.Ref
	for _, c := range m.by[p.Slot] {
		refs = append(refs, timeline.Ref{Kind: "device", ID: c.device.ID})
	}
	p.h.Choose(refs...)
	p.h.Again()
}

// slotNote says in words what stands at the cursor.
func (p *Patch) slotNote(r image.Rectangle, m *Map) {
	slot := min(max(p.Slot, 1), slotsInUniverse)
	lines := []string{fmt.Sprintf("%d.%d: free", m.of.Number, slot)}
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
		text := fmt.Sprintf("%d.%d: %s, slot %d.%d, %s", m.of.Number, slot, c.device.Name, c.block, c.number, what)
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
	p.h.UI().Paragraph(r, render.TypeSmall, render.InkSecondary, strings.Join(lines, "\n"))
}

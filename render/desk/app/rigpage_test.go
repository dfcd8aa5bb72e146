package app

import (
	"fmt"
	"image"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/patch"
	"emberbeat/render/desk/page/table"
	"emberbeat/timeline"
)

// A run of devices is shown with its addresses before it is added, as one step; what is taken says where it would fit.
func TestAddARunOfDevices(t *testing.T) {
	h := withExample(t)
	h.open("devices")
	before := len(h.a.work.Show.Rig.Devices)
	h.key("Shift+Insert")
	d := h.fill(map[string]string{"type": "Flame head", "space": "stage", "count": "3", "name": "side flame", "at": "1.100"})
	require.Contains(t, d.why(), "belongs to flame head 1")
	require.Contains(t, d.why(), "the next free run of 3 starts at 1.1")
	d = h.fill(map[string]string{"at": ""})
	require.Empty(t, d.why())
	require.Contains(t, strings.Join(d.out.Lines, "\n"), "Next free: 1.2. After the last used: 1.305.")
	require.Equal(t, []string{"side flame 1", "", "1.2"}, d.out.Rows[0], "slot 1 stays empty beside what can hurt")
	for _, c := range []struct{ field, text, want string }{
		{"count", "0", "How many: \"0\" must be a whole number from 1 to 512"}, {"universe", "64000", "from 1 to 63999"}, {"at", "1.600", "must be universe.slot"},
		{"at", "2.511", "a universe ends at 512"},
	} {
		d := h.fill(map[string]string{"count": "3", "universe": "1", "at": "", c.field: c.text})
		if c.field != "at" {
			d.field("at").text = ""
		}
		require.Contains(t, d.why(), c.want)
	}
	h.fill(map[string]string{"at": "2.101", "universe": "1", "count": "3"})
	h.key("Ctrl+Enter")
	require.Len(t, h.a.work.Show.Rig.Devices, before+3)
	require.Len(t, h.a.book.refs, 3, "the new ones are chosen")
	h.key("Ctrl+Z")
	require.Len(t, h.a.work.Show.Rig.Devices, before)
}

// The chosen devices are copied with addresses of their own, and numbered anew.
func TestCopyAndNumberAnew(t *testing.T) {
	h := withExample(t)
	l := h.open("devices")
	h.row(l, "spark head 1")
	h.key("Shift+Down")
	require.Len(t, h.a.book.refs, 2)
	h.a.Use("patch-copy")
	h.step()
	h.fill(map[string]string{"at": "3.1"})
	h.key("Ctrl+Enter")
	require.Len(t, h.a.book.refs, 2)
	v := find(h.a.work.Show, h.a.book.refs[0]).(*timeline.Device)
	require.Equal(t, 3, v.Starts[0].Universe)
	h.a.Use("patch-move")
	h.step()
	d := h.fill(map[string]string{"at": ""})
	require.Contains(t, d.why(), "write universe.slot for each block")
	h.fill(map[string]string{"at": "4.11"})
	h.key("Ctrl+Enter")
	for i, r := range h.a.book.refs {
		require.Equal(t, timeline.Patch{Universe: 4, Slot: 11 + 4*i}, find(h.a.work.Show, r).(*timeline.Device).Starts[0])
	}
}

// Banks: a run in an address space, after the last used, and "none" where nothing fits.
func TestAddARunOfBanks(t *testing.T) {
	h := withExample(t)
	l := h.open("banks")
	h.row(l, "bank B")
	h.key("Shift+Insert")
	d := h.fill(map[string]string{"count": "2", "name": "spare"})
	require.Equal(t, "banks have addresses and no universes", d.field("universe").off())
	require.Equal(t, [][]string{{"spare 1", "", "3"}, {"spare 2", "", "4"}}, d.out.Rows)
	h.fill(map[string]string{"at": "1"})
	require.Contains(t, d.why(), "belongs to bank A; the next free run of 2 starts at 3")
	h.fill(map[string]string{"at": "999999", "count": "3"})
	require.Contains(t, d.why(), "must be from 1 to 999998 for 3 banks")
	h.fill(map[string]string{"at": "", "count": "2"})
	h.key("Ctrl+Enter")
	require.Len(t, h.a.work.Show.Rig.Banks, 5)
}

// The map of a universe shows who uses each slot, by keys; devices on one slot are a conflict in words unless they declare to share it.
func TestUniverseMap(t *testing.T) {
	h := withExample(t)
	a := h.a
	h.open("universes")
	h.step()
	p := a.families[patchFamily].State.(*patch.Patch)
	stage := patch.Universe{Space: "stage", Number: 1}
	require.Equal(t, stage, p.At)
	m := p.Map(stage)
	require.Equal(t, "38 of 512 slots used, after the last used: 1.305", m.Summary())
	h.key("Home", "Down", "Down", "Down", "Right", "Right", "Right", "Right")
	require.Equal(t, 101, p.Slot)
	require.Equal(t, "flame head 1", find(a.work.Show, a.book.refs[0]).(*timeline.Device).Name)
	require.Nil(t, m.Clash(101))

	v := *a.work.Show.Rig.Device(a.book.refs[0].ID)
	w := v
	timeline.SetID(&w, "clone")
	w.Name = "clone"
	require.True(t, a.do(change{"add clone", []timeline.Edit{page.Put("", &w)}}))
	h.step()
	require.NotNil(t, p.Map(stage).Clash(101))
	require.Equal(t, "overlaps at 1.101", cellOf(a.tableOf("devices"), "State", &table.Row{Record: a.work.Show.Rig.Device(v.ID)}))
	require.Contains(t, p.Map(stage).Summary(), "3 slots with more than one user")
	s := w
	s.Shares = []timeline.ID{v.ID}
	require.True(t, a.do(change{"share", []timeline.Edit{page.Put("", &s)}}))
	h.step()
	require.Nil(t, p.Map(stage).Clash(101), "a declared clone is no conflict")
	for slot := range 512 + 2 {
		require.NotPanics(t, func() { m.Clash(slot) })
	}
}

// cellOf gives the text of a row in the column with a title.
func cellOf(l *table.Table, title string, e *table.Row) string {
	for _, c := range l.Columns() {
		if c.Title == title {
			return c.Text(e)
		}
	}
	return "no such column"
}

// Groups are made of what is chosen, in an order, and put in another.
func TestGroupOfTheChosen(t *testing.T) {
	h := withExample(t)
	l := h.open("placed")
	h.row(l, "Jet 1")
	h.key("Shift+Down", "Shift+Down", "Shift+Down")
	h.a.Use("group-make")
	h.step()
	d := h.fill(map[string]string{"name": ""})
	require.Contains(t, d.why(), "Name is empty")
	h.fill(map[string]string{"name": "four jets", "order": "inside-out"})
	require.Len(t, d.out.Rows, 4)
	h.key("Ctrl+Enter")
	g := h.a.work.Show.Rig.Groups
	var made *timeline.Group
	for _, x := range g {
		if x.Name == "four jets" {
			made = x
		}
	}
	require.NotNil(t, made)
	l = h.open("groups")
	h.row(l, "four jets")
	h.a.Use("group-order")
	h.step()
	h.fill(map[string]string{"order": "right-to-left"})
	h.key("Ctrl+Enter")
	now := h.a.work.Show.Rig.Group(made.ID).Members
	require.ElementsMatch(t, made.Members, now)
	want, err := h.a.work.Show.Rig.Arrange(made.Members, timeline.OrderRightToLeft)
	require.NoError(t, err)
	require.Equal(t, want, now)
}

// A table of 2,000 rows asks for the cells in view alone.
func TestTableDrawsWhatIsInView(t *testing.T) {
	h := newHand(t)
	require.NoError(t, h.a.newShow(filepath.Join(t.TempDir(), "mine"), "Mine"))
	h.step()
	asked := 0
	var all []table.Row
	for i := range 2000 {
		all = append(all, table.Row{Key: fmt.Sprint(i), Record: &timeline.Placed{}})
	}
	rows := table.New(h.a, table.Spec{List: func() []table.Row { return all }, Columns: func() []table.Column {
		return []table.Column{
			{Title: "Row", Width: 80, Text: func(e *table.Row) string { asked++; return e.Key }},
			{Title: "Again", Width: 80, Text: func(e *table.Row) string { asked++; return e.Key }}}
	}})
	p := h.a.pageOf("placed")
	p.Rows, p.Draw = rows, func(r image.Rectangle) { rows.Draw(r) }
	h.open("placed")
	asked = 0
	h.step()
	require.Less(t, asked, 2*45, "one frame of a window 900 high")
	require.Positive(t, asked)
}

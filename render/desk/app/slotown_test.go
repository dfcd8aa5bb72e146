package app

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page/patch"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// A slot that the type leaves spare gets a meaning in this show, shown before it is given; another slot's role stands, and the error says so.
func TestSlotOfADevice(t *testing.T) {
	h := withExample(t)
	l := h.open("devices")
	h.row(l, "spark head 1")
	id := h.a.book.refs[0].ID
	h.a.Use("slot-own")
	h.step()
	d := h.fill(map[string]string{"slot": "1.4"})
	require.Contains(t, d.why(), "write what differs from the type")
	d = h.fill(map[string]string{"on": "300x"})
	require.Contains(t, d.why(), "On: \"300x\"")
	d = h.fill(map[string]string{"slot": "1.2", "role": "arm", "on": ""})
	require.Contains(t, d.why(), "only slots that it leaves open or spare take another")
	d = h.fill(map[string]string{"slot": "1.4", "role": "arm", "on": "100..127", "off": "0", "name": "key", "at": "2.17"})
	require.Empty(t, d.why())
	require.Equal(t, []string{"1.4  key", "arm", "100..127", "0", "2.17"}, d.out.Rows[3])
	h.key("Ctrl+Enter")
	require.Len(t, h.a.work.Show.Rig.Device(id).Slots, 1)
	h.step()
	require.True(t, h.a.families[patchFamily].State.(*patch.Patch).Map(patch.Universe{Space: "stage", Number: 2}).Claimed(17, h.a.work.Show.Rig.Device(id)), "the map shows it where it has been moved")
	h.a.Use("slot-own")
	h.step()
	h.fill(map[string]string{"slot": "1.4", "none": "true"})
	h.key("Ctrl+Enter")
	require.Empty(t, h.a.work.Show.Rig.Device(id).Slots)
}

// One supply feeds the chosen effects, and no other does any more; one that holds something else is named.
func TestFeedFromASupply(t *testing.T) {
	h := withExample(t)
	a := h.a
	l := h.open("placed")
	h.row(l, "Jet 1")
	id := a.book.refs[0].ID
	feeding := func() (names []string) {
		for _, s := range a.work.Show.Rig.Supplies {
			for _, f := range s.Feeds {
				if f == id {
					names = append(names, s.Name)
				}
			}
		}
		return names
	}
	before := feeding()
	require.Len(t, before, 1)
	a.Use("feed")
	h.step()
	d := h.fill(map[string]string{"supply": "Propane"})
	require.Contains(t, strings.Join(d.out.Lines, "\n"), "Jet 1 uses CO2, and Propane")
	h.key("Ctrl+Enter")
	require.NotEqual(t, before, feeding())
	require.Len(t, feeding(), 1)
	h.key("Ctrl+Z")
	require.Equal(t, before, feeding())
}

// The menu of a row holds the page's commands, by key as well, and F1 says what the page can do.
func TestMenuAndHelpOfAPage(t *testing.T) {
	h := withExample(t)
	h.open("articles")
	require.Empty(t, h.a.book.refs)
	h.key("Shift+F10")
	require.Len(t, h.a.book.refs, 1, "the row that the keys stand on is meant")
	require.True(t, h.a.ui.Modal(), "a menu stands open")
	h.key("Esc")
	require.Equal(t, "articles", h.a.book.at, "Escape closes the menu alone")
	h.key("F1")
	d, ok := h.a.dialog.(*helpDialog)
	require.True(t, ok)
	require.Equal(t, "Articles", d.title)
	var rows []widget.HelpRow
	for _, p := range d.parts {
		rows = append(rows, p.Rows...)
	}
	require.Contains(t, rows, widget.HelpRow{Keys: "button", Text: "Measured lead…: " + h.a.byID("measure").help})
}

// Several records are changed in one step from the inspector.
func TestManyRowsAreChangedAtOnce(t *testing.T) {
	h := withExample(t)
	l := h.open("placed")
	h.row(l, "Flash 1")
	h.key("Shift+Down", "Shift+Down")
	refs := h.a.inspected()
	require.Len(t, refs, 3)
	h.a.inspector.Assign(timeline.KindOf("placed").Field("tilt"), refs, "15")
	h.step()
	for _, r := range refs {
		require.InDelta(t, 15, h.a.work.Show.Rig.PlacedEffect(r.ID).Tilt, 0)
	}
	require.Equal(t, "change tilt of 3 placed", h.a.note.text)
	h.key("Ctrl+Z")
	require.InDelta(t, 0, h.a.work.Show.Rig.PlacedEffect(refs[0].ID).Tilt, 0)
}

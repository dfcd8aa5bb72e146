package app

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page/table"
	"emberbeat/shows"
	"emberbeat/shows/example"
	"emberbeat/timeline"
)

// open turns to a page and gives its table.
func (h *hand) open(id string) *table.Table {
	h.t.Helper()
	require.NotNil(h.t, h.a.pageOf(id), id)
	h.a.turn(id)
	h.step()
	h.step()
	return h.a.tableOf(id)
}

// row chooses the row of a page's table in which a text stands in any column.
func (h *hand) row(l *table.Table, text string) {
	h.t.Helper()
	for i := range l.Rows() {
		for _, c := range l.Columns() {
			if c.Text(&l.Rows()[i]) == text {
				l.Sel.Only(i)
				h.step()
				return
			}
		}
	}
	require.Fail(h.t, "no row holds "+text)
}

// fill writes values into the dialog that stands open, as a person would after Tab.
func (h *hand) fill(values map[string]string) *form {
	h.t.Helper()
	d, ok := h.a.dialog.(*form)
	require.True(h.t, ok, "no dialog of values stands open: %T", h.a.dialog)
	for name, text := range values {
		f := d.field(name)
		switch {
		case f.many != nil:
			for i := range f.names {
				f.many[i] = strings.Contains(","+text+",", ","+strings.SplitN(f.names[i], ",", 2)[0]+",")
			}
		case f.flag:
			f.on = text == "true"
		case f.names != nil:
			f.at = -1
			for i, n := range f.names {
				if strings.HasPrefix(n, text) {
					f.at = i
					break
				}
			}
			require.GreaterOrEqual(h.t, f.at, 0, "%s cannot be %q; it can be %q", name, text, f.names)
		default:
			f.text = text
		}
	}
	d.stale = true
	h.step()
	return d
}

// An edit of stock on which cues rest is shown before it is made: it can be taken back, nothing having happened, or kept as one step.
func TestStockEditIsAskedAbout(t *testing.T) {
	h := withExample(t)
	a := h.a
	l := h.open("articles")
	h.row(l, "Cold jet, 6 m")
	id := a.book.refs[0].ID
	kind := timeline.KindOf("article")
	edit := func() { a.inspector.Assign(kind.Field("recovery"), a.book.refs, "30"); h.step() }

	edit()
	d, ok := a.dialog.(*stockDialog)
	require.True(t, ok)
	h.until(func() bool { return d.known })
	text := strings.Join(d.lines, "\n")
	require.Contains(t, text, "recovery=0.4000→30.0000")
	require.Regexp(t, `It is used by \d+ cues in \d songs and \d+ placed effects`, text)
	require.Regexp(t, `New: [1-9]\d* findings`, text)
	require.Contains(t, text, "load Jet 1")
	require.Contains(t, text, "cue Slow Matches  ")
	require.Equal(t, 400*timeline.Millisecond, a.work.Session.Show().Stock.Article(id).Recovery, "nothing has happened yet")
	h.key("Esc")
	require.Nil(t, a.dialog)
	require.False(t, a.work.Session.Dirty(), "taken back")

	edit()
	h.key("Enter")
	require.Nil(t, a.dialog)
	require.Equal(t, 30*timeline.Second, a.work.Session.Show().Stock.Article(id).Recovery)
	h.key("Ctrl+Z")
	require.Equal(t, 400*timeline.Millisecond, a.work.Session.Show().Stock.Article(id).Recovery)
}

// Stock that nothing rests on is changed without a question.
func TestStockThatNothingUsesIsNotAskedAbout(t *testing.T) {
	h := withExample(t)
	h.open("articles")
	h.key("Insert")
	h.typed("Test pot")
	h.key("Enter")
	require.Nil(t, h.a.dialog)
	require.Equal(t, "Test pot", h.a.work.Show.Stock.Article(h.a.book.refs[0].ID).Name)
	h.a.Use("retire")
	h.step()
	require.True(t, h.a.work.Show.Stock.Article(h.a.book.refs[0].ID).Retired)
	h.a.Use("retire")
	h.step()
	require.False(t, h.a.work.Show.Stock.Article(h.a.book.refs[0].ID).Retired)
}

// A lead is kept as counted from video: 6, 7, 6 and 7 frames at 50 pictures a second are 130 ms; the farthest shot is half a frame off the
// mean, and half a picture cannot be seen into: ± 20 ms (derived).
func TestMeasuredLead(t *testing.T) {
	h := withExample(t)
	l := h.open("articles")
	h.row(l, "Comet, white, 12 m")
	id := h.a.book.refs[0].ID
	h.a.Use("measure")
	h.step()
	d := h.fill(map[string]string{"frames": "6, 7, x"})
	require.Equal(t, `Frames: "x" is no whole number; write one for each shot, such as 6, 7, 6`, d.why())
	d = h.fill(map[string]string{"frames": "6, 7, 6, 7", "fps": "50"})
	require.Empty(t, d.why())
	require.Equal(t, [][]string{{"Lead", "0.0400", "0.1300"}, {"Spread", "0.0200", "0.0200"}}, d.out.Rows)
	h.key("Ctrl+Enter", "Enter")
	art := h.a.work.Show.Stock.Article(id)
	require.Equal(t, 130*timeline.Millisecond, art.Lead)
	require.Contains(t, art.Marks, "lead=measured")
}

// Stock comes from the starter stock and from another show's folder; what differs is listed and counts only where that is asked for.
func TestTakeStock(t *testing.T) {
	h := newHand(t)
	require.NoError(t, h.a.newShow(filepath.Join(t.TempDir(), "mine"), "Mine"))
	h.step()
	h.open("articles")
	h.key("Ctrl+1")
	h.a.Use("stock-take")
	h.step()
	d := h.fill(map[string]string{"only": "no such thing"})
	require.Contains(t, d.why(), "stands in no name there")
	h.fill(map[string]string{"from": "another", "folder": filepath.Join(t.TempDir(), "nothing"), "only": ""})
	require.Contains(t, d.why(), "is no folder that can be read")
	other := filepath.Join(t.TempDir(), "other")
	require.NoError(t, example.CopyTo(other))
	h.fill(map[string]string{"folder": other, "only": "cold jet"})
	require.Empty(t, d.why())
	require.Equal(t, [][]string{{"Cold jet, 6 m", "article", "is added"}}, d.out.Rows)
	h.key("Ctrl+Enter")
	require.Len(t, h.a.book.refs, 1, "what came is chosen")
	id := h.a.book.refs[0].ID
	require.Equal(t, "Cold jet, 6 m", h.a.work.Show.Stock.Article(id).Name)

	h.a.inspector.Assign(timeline.KindOf("article").Field("height"), h.a.book.refs, "9")
	h.step()
	h.a.Use("stock-take")
	h.step()
	d = h.fill(map[string]string{"from": "another", "folder": other, "only": "cold jet"})
	require.Contains(t, d.why(), "nothing to change")
	require.Equal(t, "differs: ours stays", d.out.Rows[0][2])
	h.fill(map[string]string{"conflicts": "replace"})
	h.key("Ctrl+Enter")
	require.InDelta(t, 6, h.a.work.Show.Stock.Article(id).Height, 0)

	h.a.Use("stock-take")
	h.step()
	h.fill(map[string]string{"from": "the starter"})
	h.key("Ctrl+Enter")
	starter, err := shows.Starter()
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(h.a.work.Show.Stock.Articles), len(starter.Articles))
}

// Slots of a device type are added in a run, changed and removed; what stands on another, or lies off its window, says what would be valid.
func TestSlotsOfADeviceType(t *testing.T) {
	h := withExample(t)
	h.open("devicetypes")
	h.key("Insert")
	id := h.a.book.refs[0].ID
	h.a.Use("slots")
	h.step()
	h.step()
	require.Equal(t, "slots", h.a.book.at)
	slots := func() []timeline.Slot { return h.a.work.Show.Stock.DeviceType(id).Slots }
	h.key("Insert")
	d := h.fill(map[string]string{"count": "4", "heads": "true", "number": "3", "role": "effect", "from": "200", "to": "255", "name": "open"})
	require.Empty(t, d.why())
	h.key("Ctrl+Enter")
	require.Len(t, slots(), 4)
	require.Equal(t, timeline.Slot{Block: 1, Number: 6, Role: timeline.EffectSlot, Head: 4, From: 200, To: 255, Name: "open"}, slots()[3])
	require.Equal(t, 4, h.a.work.Show.Stock.DeviceType(id).Heads())

	for _, c := range []struct{ field, text, want string }{
		{"number", "4", "Number: \"4\" is taken in block 1"}, {"number", "513", "Number: \"513\" must be a whole number from 1 to 512"},
		{"off", "210", "off must be outside"}, {"to", "300", "must be a whole number from 0 to 255"}, {"from", "255x", "must be a whole number"},
		{"block", "0", "from 1 to 64"}, {"count", "600", "from 1 to 512"},
	} {
		h.a.Use("slot-add")
		h.step()
		d := h.fill(map[string]string{c.field: c.text, "from": map[bool]string{true: c.text, false: "200"}[c.field == "from"]})
		require.Contains(t, d.why(), c.want, c.field)
		h.a.dialog = nil
	}
	l := h.a.tableOf("slots")
	l.Sel.Only(0)
	h.step()
	h.a.Use("slot-change")
	h.step()
	h.fill(map[string]string{"wide": "true", "number": "1", "from": "40000", "to": "65535", "role": "level"})
	h.key("Ctrl+Enter")
	require.Equal(t, timeline.Slot{Block: 1, Number: 1, Role: timeline.LevelSlot, Head: 1, From: 40000, To: 65535, Wide: true, Name: "open"}, slots()[0])
	l.Sel.Only(0)
	h.step()
	h.key("Delete")
	require.Len(t, slots(), 3)
	h.key("Ctrl+Z", "Ctrl+Z", "Ctrl+Z")
	require.Empty(t, slots())
}

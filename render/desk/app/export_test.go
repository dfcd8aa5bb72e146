package app

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/export"
	"emberbeat/render/sheet"
	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// openExport opens the dialog on one thing, for the example's first night, into a folder of the test's own.
func openExport(t *testing.T, item string) (*hand, *exportDialog) {
	t.Helper()
	h := withExample(t)
	h.a.goNight(h.a.work.Show.Nights[0].ID)
	h.key("Ctrl+E")
	d := h.a.dialog.(*exportDialog)
	d.folder = t.TempDir()
	d.choose(h.a, item)
	h.step()
	return h, d
}

// exportNow presses a button and waits until the export is done.
func (h *hand) exportNow(verb string) {
	h.t.Helper()
	h.button(verb)
	h.until(func() bool { return len(h.a.jobs) == 0 })
	h.step()
}

// All that the tables of sheets and of sound files offer can be written in all its forms, and is what the sheets themselves write. Pictures are
// most of the work; a short run writes that of the cue list alone.
func TestEverythingOfferedIsExported(t *testing.T) {
	h, d := openExport(t, "cue-list")
	dir := d.folder
	for _, x := range export.Items() {
		if x.ID == export.All {
			continue
		}
		for _, format := range x.Formats {
			if testing.Short() && format == "png" && x.ID != "cue-list" {
				continue
			}
			d := &exportDialog{ask: d.ask, folder: dir}
			d.choose(h.a, x.ID)
			d.ask.Format = format
			d.rename(h.a)
			h.a.dialog = d
			h.step()
			h.exportNow("Export")
			require.Empty(t, d.bad, "%s %s", x.ID, format)
			require.Nil(t, h.a.dialog)
			info, err := os.Stat(filepath.Join(dir, d.name))
			require.NoError(t, err, "%s %s", x.ID, format)
			require.NotZero(t, info.Size())
		}
	}
	kind, ok := sheet.KindNamed("cue-list")
	require.True(t, ok)
	list, err := kind.Make(h.a.work.Plan, report.Filter{})
	require.NoError(t, err)
	var want bytes.Buffer
	require.NoError(t, list.WriteCSV(&want))
	got, err := os.ReadFile(filepath.Join(dir, "saltglass-first-cue-list.csv"))
	require.NoError(t, err)
	require.Equal(t, "\ufeff"+want.String(), string(got), "the same bytes as the sheet's, marked as UTF-8")
}

func TestAllSheetsOfANightIntoAFolder(t *testing.T) {
	h, d := openExport(t, export.All)
	dir := filepath.Join(d.folder, d.name)
	h.exportNow("Export")
	require.Empty(t, d.bad)
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, entries, 1+len(sheet.Kinds()), "those about a night among them, and the summary")
	require.Contains(t, h.a.note.text, "sheets into")
}

// A file that the window has not written is not overwritten unasked; its own is.
func TestForeignFileIsAskedAbout(t *testing.T) {
	h, d := openExport(t, "cue-list")
	name := filepath.Join(d.folder, d.name)
	require.NoError(t, os.WriteFile(name, []byte("somebody's work"), 0o600))
	h.button("Export")
	require.Equal(t, []string{name}, d.over)
	require.Empty(t, h.a.jobs)
	b, err := os.ReadFile(name)
	require.NoError(t, err)
	require.Equal(t, "somebody's work", string(b))
	h.exportNow("Overwrite")
	b, err = os.ReadFile(name)
	require.NoError(t, err)
	require.Contains(t, string(b), "Saltglass Hall")
	h.key("Ctrl+E")
	d2 := h.a.dialog.(*exportDialog)
	require.Equal(t, d.folder, d2.folder, "the folder is kept")
	h.exportNow("Export")
	require.Empty(t, d2.over, "our own file may be written again")
	require.Nil(t, h.a.dialog)
}

// What cannot be made is said in the dialog, with what would be right, and nothing is written.
func TestExportSaysWhatIsWrong(t *testing.T) {
	h, first := openExport(t, "cue-list")
	for _, c := range []struct {
		item string
		ask  func(*export.Ask)
		want string
	}{
		{"cue-list", func(q *export.Ask) { q.Format, q.Page = "png", 900 }, "page"},
		{"cue-list", func(q *export.Ask) { q.Bars = "soon" }, "write a bar such as 17"},
		{"ltc", func(q *export.Ask) { q.Roll = "-3" }, "negative"},
		{"ltc", func(q *export.Ask) { q.Bars = "1-4" }, "leave the bars out"},
		{"cue-list", func(q *export.Ask) { q.Song = "no-such" }, "does not play this song"},
		{"cut-list", func(q *export.Ask) { q.Night = "" }, "none is chosen"},
	} {
		d := &exportDialog{ask: first.ask, folder: t.TempDir()}
		d.choose(h.a, c.item)
		c.ask(&d.ask)
		d.ask.Path = filepath.Join(d.folder, d.name)
		h.a.dialog = nil
		h.a.export(d)
		h.until(func() bool { return len(h.a.jobs) == 0 && d.bad != "" })
		require.Contains(t, d.bad, c.want, c.item)
		require.Same(t, d, h.a.dialog, "the dialog is there again")
		entries, err := os.ReadDir(d.folder)
		require.NoError(t, err)
		require.Empty(t, entries, "no half of a file is left")
	}
}

// A cancelled export leaves nothing.
func TestCancelledExportLeavesNothing(t *testing.T) {
	h, d := openExport(t, "ltc")
	h.button("Export")
	require.Len(t, h.a.jobs, 1)
	h.a.jobs[0].stop()
	h.until(func() bool { return len(h.a.jobs) == 0 })
	entries, err := os.ReadDir(d.folder)
	require.NoError(t, err)
	require.False(t, slices.ContainsFunc(entries, func(e os.DirEntry) bool { return e.Name() != d.name }), "no half of a file is left")
}

// A set of the tour and another rate are what the export is of.
func TestExportOfAnotherSetAndRate(t *testing.T) {
	h := withExample(t)
	show := h.a.work.Session.Show()
	q := export.Ask{Item: "cue-list", Format: "csv", Paper: "A4", Set: show.Sets[len(show.Sets)-1].ID, Rate: "30"}
	p, _, err := q.Plan(show)
	require.NoError(t, err)
	require.Equal(t, q.Set, p.Set.ID)
	require.Equal(t, timeline.Rate30, p.Rate)
	require.Same(t, show, h.a.work.Session.Show(), "the show stays as it is")
	_, _, err = (&export.Ask{Rate: "31"}).Plan(show)
	require.Error(t, err)
}

package app

import (
	"image"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/widget"
	"emberbeat/timeline"
)

func TestDragMovesSnapsAndIsOneStep(t *testing.T) {
	h := withExample(t)
	first := h.cues("Jets, lip")[0]
	require.Equal(t, "13.1", first.Cue.At.String())
	p := middle(h.cue(first.Cue.ID))
	by := h.at("14.1") - h.at("13.1")
	h.drag(p, p.Add(image.Pt(by+1, 0)), 0)
	require.Equal(t, "14.1", h.a.work.InView().Cue(first.Cue.ID).At.String(), "caught by the grid within its reach")
	undo, _ := h.a.work.Session.Labels()
	require.Equal(t, []string{"move 1 cue"}, undo)
	h.key("Ctrl+Z")
	require.Equal(t, "13.1", h.a.work.InView().Cue(first.Cue.ID).At.String())
}

// What is dragged is made as it was shown: the plan of the last frame is the show's, and nothing is compiled on release.
func TestReleaseMakesWhatWasShown(t *testing.T) {
	h := withExample(t)
	show := h.a.work.Session.Show()
	id := h.cues("Jets, lip")[0].Cue.ID
	p := middle(h.cue(id))
	h.move(p)
	h.down(widget.Primary)
	h.move(p.Add(image.Pt(60, 0)))
	tried, plan := h.a.work.Tried, h.a.work.Plan
	require.NotNil(t, tried)
	h.up()
	require.Nil(t, h.a.work.Tried)
	require.Same(t, tried, h.a.work.Session.Show())
	require.Same(t, plan, h.a.work.Plan)
	h.key("Ctrl+Z")
	require.Same(t, show, h.a.work.Session.Show())
}

func TestCopyPasteDuplicateDelete(t *testing.T) {
	h := withExample(t)
	id := h.cues("Jets, lip")[0].Cue.ID
	h.tap(middle(h.cue(id)))
	h.key("Ctrl+C")
	require.NoError(t, h.a.song.GoTo("15.3"))
	n := len(h.cues("Jets, lip"))
	h.key("Ctrl+V")
	require.Len(t, h.cues("Jets, lip"), n+1)
	require.Equal(t, "15.3", h.a.work.Selected()[0].At.String())
	h.key("Ctrl+D")
	require.Equal(t, "16.3", h.a.work.Selected()[0].At.String(), "right after itself, by a whole bar")
	h.key("Delete")
	h.key("Ctrl+Z", "Ctrl+Z", "Ctrl+Z")
	require.Len(t, h.cues("Jets, lip"), n)
	require.False(t, h.a.work.Session.Dirty())
}

func TestLockedCuesStay(t *testing.T) {
	h := withExample(t)
	id := h.cues("Jets, lip")[0].Cue.ID
	h.tap(middle(h.cue(id)))
	h.key("Ctrl+L")
	p := middle(h.cue(id))
	h.later()
	h.drag(p, p.Add(image.Pt(80, 0)), 0)
	require.Equal(t, "13.1", h.a.work.InView().Cue(id).At.String())
	h.key("Delete")
	require.NotNil(t, h.a.work.InView().Cue(id))
	require.Contains(t, h.a.note.text, "is locked")
}

// A copy of a locked cue may be moved to where it belongs, however it was made.
func TestCopiesOfLockedCuesAreFree(t *testing.T) {
	for name, copies := range map[string]func(h *hand, id timeline.ID){
		"dragged with Ctrl": func(h *hand, id timeline.ID) {
			p := middle(h.cue(id))
			h.drag(p, p.Add(image.Pt(h.at("14.1")-h.at("13.1")+1, 0)), widget.Ctrl)
		},
		"duplicated": func(h *hand, id timeline.ID) { h.key("Ctrl+D") },
	} {
		t.Run(name, func(t *testing.T) {
			h := withExample(t)
			id := h.cues("Jets, lip")[0].Cue.ID
			h.tap(middle(h.cue(id)))
			h.key("Ctrl+L")
			h.later()
			copies(h, id)
			require.True(t, h.a.work.InView().Cue(id).Locked)
			chosen := h.a.work.Selected()
			require.Len(t, chosen, 1)
			require.NotEqual(t, id, chosen[0].ID)
			require.False(t, chosen[0].Locked)
		})
	}
}

func TestUndoAllGivesTheSameBytes(t *testing.T) {
	h := withExample(t)
	before := folder(t, h.dir)
	ids := h.a.work.InView().Cues
	h.a.work.View().Choose(ids[0].ID, ids[5].ID, ids[9].ID)
	for _, k := range []string{"Alt+Right", "Alt+Shift+Right", "Ctrl+D", "H", "Ctrl+L", "Ctrl+G", "M", "Ctrl+A", "Alt+Left"} {
		h.key(k)
	}
	undo, _ := h.a.work.Session.Labels()
	require.NotEmpty(t, undo)
	for range undo {
		h.key("Ctrl+Z")
	}
	h.key("Ctrl+S")
	require.Equal(t, before, folder(t, h.dir))
}

// folder reads a show's text files.
func folder(t *testing.T, dir string) map[string]string {
	files := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, e os.DirEntry, err error) error {
		if err == nil && filepath.Ext(path) == ".toml" {
			b, err := os.ReadFile(path)
			require.NoError(t, err)
			files[path] = string(b)
		}
		return err
	}))
	return files
}

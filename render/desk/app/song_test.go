package app

import (
	"image"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// shapes counts what is drawn over the panels.
func (h *hand) shapes() int { return len(h.frame.Moving.Shapes) }

// The stage is drawn with what moves, beside the inspector, and only while it is shown.
func TestStageIsDrawnWhileItIsShown(t *testing.T) {
	h := withExample(t)
	with := h.shapes()
	h.a.Use("stage-hide")
	h.step()
	h.step()
	without := h.shapes()
	require.Less(t, without, with)
	h.key("F5")
	require.True(t, h.a.prefs.Side)
	require.Equal(t, without, h.shapes(), "the dock is closed")
	h.key("F5")
	h.a.Use("stage-hide")
	h.step()
	h.step()
	require.Equal(t, with, h.shapes())
	h.key("F4")
	require.Equal(t, with, h.shapes(), "records are listed below it")
}

// The rectangle that selects is drawn until it is let go, or left with Esc.
func TestSelectingRectangleGoesWhenItIsLetGo(t *testing.T) {
	h := withExample(t)
	_, area := h.lane("Sparks")
	from, to := image.Pt(h.at("30.1"), middle(area).Y), image.Pt(h.at("34.1"), middle(area).Y+2)
	for _, end := range []func(){h.up, func() { h.key("Esc"); h.up() }} {
		h.later()
		h.move(to)
		before := h.shapes()
		h.move(from)
		h.down(widget.Primary)
		h.move(to)
		require.Greater(t, h.shapes(), before)
		end()
		require.Equal(t, before, h.shapes())
		require.Nil(t, h.a.gesture)
	}
}

// Choosing a cue brings its fields into view, whatever the inspector showed.
func TestChosenCueIsInspected(t *testing.T) {
	h := withExample(t)
	cue := h.cues("Jets, lip")[0].Cue
	h.a.inspect(timeline.Ref{Kind: "lane", Song: h.a.work.Song, ID: cue.Lane})
	h.key("F4")
	require.True(t, h.a.panel.records)
	h.tap(middle(h.cue(cue.ID)))
	require.False(t, h.a.panel.records)
	require.Equal(t, []timeline.Ref{{Kind: "cue", Song: h.a.work.Song, ID: cue.ID}}, h.a.inspected())
	h.key("Ctrl+Shift+A")
	require.Equal(t, []timeline.Ref{{Kind: "song", ID: h.a.work.Song}}, h.a.inspected(), "the lane was left for the cue")
}

// What was read of a recording is heard on, whatever becomes of the file; one that leads out of the folder is read once it does not.
func TestRecordingIsAskedForWhereItIsNotRead(t *testing.T) {
	h := withExample(t)
	read := h.sound()
	require.NotNil(t, read.PCM)
	file, kept := read.Path, filepath.Join(t.TempDir(), "kept")
	require.NoError(t, os.Rename(file, kept))
	if err := os.Symlink(kept, file); err != nil {
		t.Skip("no links here: ", err)
	}
	h.step()
	require.Same(t, read, h.sound())
	delete(h.a.work.Sounds, h.a.work.Song)
	h.step()
	require.Empty(t, h.sound().Path)
	require.NoError(t, os.Remove(file))
	require.NoError(t, os.Rename(kept, file))
	h.until(func() bool { return h.sound().PCM != nil })
	require.Equal(t, file, h.sound().Path)
	head := h.a.work.InView().SongHead
	head.Audio.Path = "audio/none.ogg"
	require.True(t, h.a.do(change{"another", []timeline.Edit{page.Put("", &head)}}))
	h.until(func() bool { return h.sound().Err != nil })
}

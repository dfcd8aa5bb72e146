package app

import (
	"image"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/front"
	"emberbeat/timeline"
)

// said lists what is written in what moves.
func (h *hand) said() string {
	var b strings.Builder
	for i := range h.frame.Moving.Shapes {
		if sh := &h.frame.Moving.Shapes[i]; sh.Kind == render.KindText {
			b.Write(h.frame.Moving.Label(sh))
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// The stage is seen from the front, turns with V, and takes the place of the lanes
// with Shift+F5, at the playhead's time.
func TestStageFromTheFront(t *testing.T) {
	const caption = "marks, not where people are"
	require.Contains(t, front.Caption, caption)
	h := withExample(t)
	require.NoError(t, h.a.song.GoTo("17.1"))
	h.step()
	require.Contains(t, h.said(), caption)
	small := len(h.frame.Moving.Shapes)
	require.NotContains(t, h.said(), "front edge\n")
	h.key("V")
	require.Contains(t, h.said(), caption)
	require.Contains(t, h.said(), "front edge\n", "from above")
	require.Contains(t, h.said(), "Next\n")
	h.key("V", "Shift+F5")
	require.True(t, h.a.isOn("stage-large"))
	require.Contains(t, h.said(), "now\n")
	require.Greater(t, len(h.frame.Moving.Shapes), small)
	require.Contains(t, h.said(), "6 m\n")
	for _, id := range []string{"stage-heights", "stage-reach", "stage-zones"} {
		before := len(h.frame.Moving.Shapes)
		require.True(t, h.a.isOn(id), id)
		h.a.Use(id)
		h.step()
		require.False(t, h.a.isOn(id), id)
		require.Less(t, len(h.frame.Moving.Shapes), before, id)
	}
	require.NotContains(t, h.said(), "6 m · ")
	h.tap(image.Pt(700, 500))
	require.Empty(t, h.a.work.View().Selected, "the lanes below are out of reach")
	h.key("Shift+F5")
	require.False(t, h.a.isOn("stage-large"))
	require.NotContains(t, h.said(), "now\n")

	s := render.NewScene(h.a.faces)
	r := image.Rect(0, 0, 900, 500)
	frame := func(at timeline.Time) {
		s.Reset(r.Max, render.Unit)
		h.a.song.DrawFront(s, r, at)
	}
	for at := timeline.Time(0); at < 40*timeline.Second; at += timeline.Second / 4 {
		frame(at)
	}
	at := timeline.Time(0)
	require.Zero(t, testing.AllocsPerRun(100, func() {
		at = (at + 40*timeline.Millisecond) % (40 * timeline.Second)
		frame(at)
	}), "a frame of it makes no garbage")
}

// With a selection the stage shows its cues alone, where that is asked for.
func TestStageOfTheSelection(t *testing.T) {
	h := withExample(t)
	cue := h.cues("Jets, lip")[0]
	h.a.work.View().Choose(cue.Cue.ID)
	h.a.work.View().Playhead = cue.Hit - timeline.Second/2
	h.step()
	require.Contains(t, h.said(), "Next\n")
	all := len(h.frame.Moving.Shapes)
	h.a.Use("stage-selection")
	h.step()
	require.Less(t, len(h.frame.Moving.Shapes), all)
	require.Contains(t, h.said(), "Jets, lip\n")
	h.a.work.View().Choose()
	h.step()
	require.Equal(t, all, len(h.frame.Moving.Shapes), "with none selected, all are seen")
}

package app

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/widget"
)

func TestWheelZoomsUnderThePointer(t *testing.T) {
	h := withExample(t)
	p := image.Pt(h.at("20.1"), h.a.song.Drawn().Wave.Min.Y+10)
	h.move(p)
	for range 8 {
		before := h.a.song.Drawn().TimeAt(p.X)
		h.in.Wheel, h.in.Mods = image.Pt(0, -1), widget.Ctrl
		h.step()
		h.step()
		require.InDelta(t, before.Seconds(), h.a.song.Drawn().TimeAt(p.X).Seconds(), (h.a.song.Drawn().TimeAt(p.X+2) - h.a.song.Drawn().TimeAt(p.X)).Seconds())
	}
	require.InDelta(t, 4, float64(h.a.work.Data.Whole().To)/float64(h.a.song.Drawn().Show.To-h.a.song.Drawn().Show.From), 0.2, "8 notches of 2^¼ are a factor of 4")
	was := h.a.song.Drawn().Show
	h.in.Mods = 0
	h.in.Wheel = image.Pt(0, 1)
	h.step()
	h.step()
	require.Greater(t, h.a.song.Drawn().Show.From, was.From, "over the sound the wheel moves time")
}

func TestDragInTheRulerMovesThePlayheadAndClickInLanesDoesNot(t *testing.T) {
	h := withExample(t)
	h.tap(image.Pt(h.at("9.1")+1, h.a.song.Drawn().Bars.Min.Y+5))
	require.Equal(t, "9.1", h.a.work.InView().Beats.Locate(h.a.work.View().Playhead).String())
	_, area := h.lane("Sparks")
	h.tap(image.Pt(h.at("30.1"), middle(area).Y))
	require.Equal(t, "9.1", h.a.work.InView().Beats.Locate(h.a.work.View().Playhead).String())
}

func TestDimmerDarkensNightAlone(t *testing.T) {
	h := newHand(t)
	light := func() int { c := h.a.Theme().Light(render.InkText); return int(c.R) + int(c.G) + int(c.B) }
	dark := light()
	h.a.prefs.Dim = 40
	require.Equal(t, dark, light(), "the theme Dark stays as it is")
	h.key("F9")
	dimmed := light()
	h.a.prefs.Dim = 100
	require.InDelta(t, 0.4, float64(dimmed)/float64(light()), 0.02)
}

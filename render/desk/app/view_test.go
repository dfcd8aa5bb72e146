package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
)

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

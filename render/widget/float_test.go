package widget

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestToast(t *testing.T) {
	acted, presses := "", 0
	b := newBench(600, 400, func(u *UI) {
		if v := u.Canvas("lanes", u.Bounds()); v.Pressed != 0 {
			presses++
		}
		if key, ok := u.Toasts(u.Bounds()); ok {
			acted = key
		}
	})
	b.ui.Notify(Toast{Key: "delete", Text: "3 cues deleted", Action: "Undo", Keys: "Ctrl+Z"})
	b.frame(Input{})
	require.Contains(t, b.scene.Dump(), "3 cues deleted")
	b.frame(Input{})
	b.clickOn(t, "button", "action")
	require.Equal(t, "delete", acted)
	require.Zero(t, presses, "what is below hears nothing")
	b.frame(Input{})
	require.NotContains(t, b.scene.Dump(), "3 cues deleted")

	b.ui.Notify(Toast{Key: "a", Text: "saved", Action: "Undo"})
	b.ui.Notify(Toast{Key: "a", Text: "saved again"})
	b.wait(toastTime / 2)
	require.NotContains(t, b.scene.Dump(), `"saved"`, "a later one replaces it")
	b.wait(toastTime)
	require.NotContains(t, b.scene.Dump(), "saved again")

	acted = ""
	b.ui.Notify(Toast{Key: "b", Text: "moved", Action: "Undo"})
	b.frame(Input{})
	b.ui.Focus("lanes")
	b.frame(Input{})
	b.tap(KeyF6, KeyEnter)
	require.Equal(t, "b", acted, "F6 and Enter work it without a pointer")
}

func TestTip(t *testing.T) {
	b := newBench(300, 200, func(u *UI) {
		u.IconButton("zoom", image.Rect(10, 10, 38, 38), "+", "Zoom in", "+")
		u.Button("b", image.Rect(100, 10, 200, 38), "Other")
	})
	b.move(20, 20)
	require.NotContains(t, b.scene.Dump(), "Zoom in", "not at once")
	at, ok := b.ui.Wake()
	require.True(t, ok)
	b.now = at - frameTime
	b.frame(Input{})
	require.Contains(t, b.scene.Dump(), "Zoom in")
	b.move(20, 150)
	require.NotContains(t, b.scene.Dump(), "Zoom in")
	b.ui.Focus("zoom")
	b.wait(3 * tipDelay)
	require.Contains(t, b.scene.Dump(), "Zoom in", "the focus shows it too")
}

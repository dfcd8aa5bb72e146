package widget

import (
	"image"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
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

// A tip stands where it covers no other control where there is such a place, and never over the field that comes next.
func TestTipLeavesTheNextFieldFree(t *testing.T) {
	const said = "What stands here is a sentence that is long enough to need a second line of the tip."
	rows := func(n int) []image.Rectangle {
		list := make([]image.Rectangle, n)
		for i := range list {
			list[i] = image.Rect(20, 60+34*i, 220, 88+34*i)
		}
		return list
	}
	for name, fields := range map[string][]image.Rectangle{"a column": rows(4), "the last of a window": rows(1), "rows": {image.Rect(20, 60, 120, 88), image.Rect(130, 60, 230, 88), image.Rect(20, 94, 120, 122), image.Rect(130, 94, 230, 122)}} {
		t.Run(name, func(t *testing.T) {
			b := newBench(600, 240, func(u *UI) {
				for i, r := range fields {
					u.TextField(string(rune('a'+i)), r, "", TextSpec{})
					u.Tip(said, "")
				}
			})
			for i, r := range fields {
				b.ui.Blur()
				b.move(r.Min.X+5, r.Min.Y+5)
				b.wait(3 * tipDelay)
				tip := image.Rectangle{}
				for k := range b.scene.Shapes {
					if sh := &b.scene.Shapes[k]; sh.Kind == render.KindText && sh.Box.Dx() > 0 && strings.Contains(said, string(b.scene.Label(sh))) {
						tip = tip.Union(sh.Box)
					}
				}
				require.False(t, tip.Empty(), "field %d has no tip", i)
				for k, other := range fields {
					require.False(t, tip.Overlaps(other), "the tip of field %d lies over %d", i, k)
				}
			}
		})
	}
}

package widget

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestButton(t *testing.T) {
	used, why := 0, ""
	b := newBench(300, 200, func(u *UI) {
		if u.Off(why).Button("go", image.Rect(10, 10, 110, 40), "Go") {
			used++
		}
		u.Button("other", image.Rect(10, 60, 110, 90), "Other")
	})
	b.clickOn(t, "button", "go")
	require.Equal(t, 1, used, "a click")
	require.False(t, b.ui.HasFocus(), "a press leaves the focus where it is")

	b.press(20, 20, 0)
	b.move(200, 150)
	b.release()
	require.Equal(t, 1, used, "the pointer left before the button came up")

	b.ui.Focus("go")
	b.frame(Input{})
	b.tap(KeyEnter)
	require.Equal(t, 2, used, "Enter")
	require.Empty(t, b.ui.Left())
	b.tap(KeySpace)
	require.Equal(t, []Press{{Key: KeySpace}}, b.ui.Left(), "Space is left for playback")

	why = "nothing to save"
	b.clickOn(t, "button", "go")
	b.tap(KeyEnter)
	require.Equal(t, 2, used, "unusable")
	b.wait(tipDelay * 2)
	require.Contains(t, b.scene.Dump(), `"nothing to save"`, "it says why")
}

package widget

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestMenuByKeys(t *testing.T) {
	var chosen []string
	b := newBench(600, 400, func(u *UI) {
		if id, ok := u.MenuButton("m", image.Rect(10, 10, 110, 38), "More", galleryMenus[0].Sub); ok {
			chosen = append(chosen, id)
		}
		u.Button("b", image.Rect(200, 10, 300, 38), "Other")
	})
	b.ui.Focus("m")
	b.frame(Input{})
	b.tap(KeyDown, KeyDown, KeyEnter)
	require.Equal(t, []string{"open"}, chosen)
	require.False(t, b.ui.Modal())

	b.tap(KeyEnter, KeyEnd, KeyUp, KeyRight, KeyDown, KeyEnter)
	require.Equal(t, []string{"open", "load"}, chosen, "into the sub-menu")

	b.tap(KeyEnter, KeyDown, KeyDown, KeyEnter)
	require.True(t, b.ui.Modal(), "an unusable entry does nothing")
	require.Contains(t, b.scene.Dump(), "nothing changed since 14:02", "and says why")
	require.Len(t, chosen, 2)
	b.typing("q")
	b.tap(KeyEnter)
	require.Equal(t, "quit", chosen[2], "a letter marks")

	b.tap(KeyEnter, KeyDown, KeyDown, KeyDown, KeyRight, KeyLeft, KeyEscape)
	require.False(t, b.ui.Modal())
	require.True(t, b.ui.Focused("m"), "the focus stays where it was")
	require.Empty(t, b.ui.Left())
}

func TestMenuByPointer(t *testing.T) {
	var chosen []string
	others := 0
	b := newBench(600, 400, func(u *UI) {
		if id, ok := u.MenuButton("m", image.Rect(10, 10, 110, 38), "More", galleryMenus[0].Sub); ok {
			chosen = append(chosen, id)
		}
		if u.Button("b", image.Rect(300, 10, 400, 38), "Other") {
			others++
		}
	})
	b.click(50, 20)
	b.click(50, 65) // Open…
	require.Equal(t, []string{"open"}, chosen)
	b.click(50, 20)
	b.move(50, 145) // Export
	b.frame(Input{})
	b.click(250, 150) // its first entry
	require.Equal(t, []string{"open", "cues"}, chosen)
	b.click(50, 20)
	b.click(350, 20)
	require.Zero(t, others, "a press beside an open menu only closes it")
	require.False(t, b.ui.Modal())
	b.click(350, 20)
	require.Equal(t, 1, others)
}

func TestMenuBar(t *testing.T) {
	var chosen []string
	b := newBench(600, 400, func(u *UI) {
		if id, ok := u.MenuBar("bar", image.Rect(0, 0, 600, 28), galleryMenus); ok {
			chosen = append(chosen, id)
		}
	})
	b.press(20, 14, 0)
	b.move(20, 50)
	b.release()
	require.Equal(t, []string{"open"}, chosen, "press, drag, let go")

	b.press(20, 14, 0)
	b.release()
	b.move(70, 14)
	b.frame(Input{})
	b.click(70, 50)
	require.Equal(t, []string{"open", "undo"}, chosen, "pointing at another title opens it")

	b.ui.Focus("bar")
	b.frame(Input{})
	b.tap(KeyEnter, KeyRight, KeyRight, KeyDown, KeyEnter)
	require.Equal(t, "click", chosen[2], "the arrow keys go from menu to menu")
	b.tap(KeyRight, KeyDown, KeyEnter)
	require.Equal(t, "undo", chosen[3], "and along the bar")
}

func TestLongMenuScrolls(t *testing.T) {
	items := make([]string, 100)
	for i := range items {
		items[i] = string(rune('a'+i%26)) + " article"
	}
	at := 90
	b := newBench(300, 200, func(u *UI) { at, _ = u.Dropdown("d", image.Rect(10, 10, 200, 38), items, at) })
	b.click(50, 20)
	b.frame(Input{})
	require.Positive(t, b.ui.pop.tops[0], "what holds is in view")
	b.tap(KeyHome, KeyEnter)
	require.Equal(t, 0, at)
	b.ui.Focus("d")
	b.frame(Input{})
	b.tap(KeyEnter, KeyEnd, KeyEnter)
	require.Equal(t, 99, at)
}

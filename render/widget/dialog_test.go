package widget

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestDialogTrapsFocus(t *testing.T) {
	open, answer, under := false, -1, 0
	b := newBench(800, 600, func(u *UI) {
		if u.Button("open", image.Rect(10, 10, 110, 38), "Open") {
			open = true
			under++
		}
		u.TextField("text", image.Rect(10, 50, 110, 78), "", TextSpec{})
		if open {
			if choice, ok := u.Ask("q", Question{Title: "Leave?", Text: "37 edits are not saved.", Choices: []Choice{{Label: "Leave"}, {Label: "Stay"}, {Label: "Save", Main: true}}}); ok {
				open, answer = false, choice
			}
		}
	})
	b.ui.Focus("open")
	b.frame(Input{})
	b.tap(KeyEnter)
	b.frame(Input{})
	q := func(key string) bool {
		b.ui.Push("q")
		defer b.ui.Pop()
		return b.ui.Focused(key)
	}
	require.True(t, q("Save"), "the focus begins on the main button")
	seen := []string{}
	for range 4 {
		b.tap(KeyTab)
		for _, k := range []string{"Leave", "Stay", "Save"} {
			if q(k) {
				seen = append(seen, k)
			}
		}
	}
	require.Equal(t, []string{"Leave", "Stay", "Save", "Leave"}, seen, "Tab stays inside")
	b.key(Press{Key: KeyF6}, Press{Key: KeyS, Mods: Ctrl})
	require.True(t, q("Leave"))
	require.Empty(t, b.ui.Left(), "no command hears keys while a dialog is open")
	b.click(50, 20)
	require.Equal(t, 1, under, "what is below cannot be pressed")
	b.tap(KeyEnter)
	b.frame(Input{})
	require.Equal(t, 0, answer, "Enter is the focused button")
	require.True(t, b.ui.Focused("open"), "the focus goes back")

	b.tap(KeyEnter)
	b.frame(Input{})
	b.tap(KeyEnter)
	require.Equal(t, 2, answer)
	b.frame(Input{})
	b.tap(KeyEnter)
	b.frame(Input{})
	b.tap(KeyEscape)
	require.Equal(t, -1, answer, "Escape chooses nothing")
}

func TestDialogMainButtonHearsEnterInAField(t *testing.T) {
	name, made := "", ""
	b := newBench(800, 600, func(u *UI) {
		if made != "" {
			return
		}
		d := u.BeginDialog("new", "New show", 400, 200)
		if e := u.TextField("name", d.Body.Inset(20), name, TextSpec{}); e.Changed || e.Committed {
			name = e.Text
		}
		if d.Buttons(Choice{Label: "Cancel"}, Choice{Label: "Make", Main: true}) == 1 {
			made = name
		}
		d.End()
	})
	b.frame(Input{})
	b.frame(Input{Text: []rune("tour"), Keys: []Press{{Key: KeyEnter}}})
	require.Equal(t, "tour", made)
}

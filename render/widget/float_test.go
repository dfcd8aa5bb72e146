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

// dialogBench is a window with a button that opens a question.
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
	require.Equal(t, 1, answer, "Escape is the last choice that is not the main one")
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

func TestPalette(t *testing.T) {
	p, got, done, closed := &Palette{}, "", false, false
	reopen := func(b *bench) {
		closed = true
		b.frame(Input{})
		*p, done, closed = Palette{}, false, false
		b.frame(Input{})
		b.frame(Input{})
	}
	b := newBench(800, 600, func(u *UI) {
		if !done && !closed {
			got, done = u.Palette("p", p, "Commands", galleryCommands)
		}
	})
	b.frame(Input{})
	b.frame(Input{Text: []rune("ex cue")})
	b.tap(KeyEnter)
	require.True(t, done)
	require.Equal(t, "export", got)

	reopen(b)
	b.frame(Input{Text: []rune("qu")})
	b.tap(KeyEnter)
	require.False(t, done, "an unusable command does nothing")
	require.Contains(t, b.scene.Dump(), "no cue is selected")
	b.tap(KeyEscape, KeyEscape)
	require.True(t, done)
	require.Equal(t, "", got)

	reopen(b)
	b.tap(KeyDown, KeyEnter)
	require.Equal(t, "next", got)
}

func TestMatch(t *testing.T) {
	texts := []string{"Next cue", "Export cue list", "Exclude cues", "Écoute"}
	best := func(query string) string {
		name, top := "", -1
		for _, text := range texts {
			if s, ok := Match(query, text); ok && s > top {
				name, top = text, s
			}
		}
		return name
	}
	for query, want := range map[string]string{"ecl": "Export cue list", "ex cue": "Export cue list", "nc": "Next cue", "excl": "Exclude cues", "éc": "Écoute", "zz": "", "CUES": "Exclude cues"} {
		require.Equal(t, want, best(query), query)
	}
	_, ok := Match("", "anything")
	require.True(t, ok)
	_, ok = Match("a", "")
	require.False(t, ok)
}

func TestBrowser(t *testing.T) {
	br, got, done := &Browser{Title: "Open", Verb: "Open", Folder: "/shows"}, "", false
	b := newBench(800, 600, func(u *UI) {
		if !done {
			got, done = u.Browse("b", br, sampleFiles{})
		}
	})
	b.frame(Input{})
	b.tap(KeyDown, KeyEnter)
	require.True(t, done)
	require.Equal(t, "/shows/harbour-tour", got)

	b.frame(Input{})
	done = false
	b.frame(Input{})
	b.frame(Input{})
	b.typing("n") // notes.txt
	b.tap(KeyEnter)
	require.False(t, done, "what is no show cannot be opened")
	b.frame(Input{Keys: []Press{{Key: KeyBackspace}}})
	b.frame(Input{})
	require.Equal(t, "/", br.Folder)
	b.tap(KeyEnter)
	b.frame(Input{})
	require.Equal(t, "/shows", br.Folder, "a plain folder is gone into")
	b.tap(KeyEscape)
	require.True(t, done)
	require.Equal(t, "", got)

	b.frame(Input{})
	br, done = &Browser{Title: "New", Verb: "Make", Folder: "/shows", Save: true}, false
	b.frame(Input{})
	b.frame(Input{})
	b.tap(KeyEnter)
	require.False(t, done, "a name is needed")
	b.frame(Input{Text: []rune("spring")})
	b.tap(KeyEnter)
	require.Equal(t, "/shows/spring", got)
}

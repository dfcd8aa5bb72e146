package widget

import (
	"errors"
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
)

// fieldBench is a window with one field over a value, and a button beside it.
type fieldBench struct {
	*bench
	value  string
	spec   TextSpec
	events []TextEvent
}

func newFieldBench(value string) *fieldBench {
	f := &fieldBench{value: value}
	f.bench = newBench(400, 100, func(u *UI) {
		e := u.TextField("f", image.Rect(10, 10, 210, 38), f.value, f.spec)
		if e != (TextEvent{}) {
			f.events = append(f.events, e)
		}
		if e.Committed {
			f.value = e.Text
		}
		u.Button("b", image.Rect(220, 10, 320, 38), "Other")
	})
	return f
}

// text gives what stands in the field.
func (f *fieldBench) text() string { return f.ui.texts[f.ui.id("f")].String() }

func (f *fieldBench) enter() {
	f.ui.Focus("f")
	f.frame(Input{})
}

func TestTextFieldCommits(t *testing.T) {
	f := newFieldBench("Ember")
	f.enter()
	f.typing("Ash")
	require.Equal(t, "Ash", f.text(), "coming by key selects all")
	require.Equal(t, "Ember", f.value, "a draft is no value")
	f.tap(KeyEnter)
	require.Equal(t, "Ash", f.value)
	require.Empty(t, f.ui.Left())

	f.typing("Soot")
	f.tap(KeyTab)
	f.frame(Input{})
	require.Equal(t, "Soot", f.value, "leaving commits")

	f.enter()
	f.typing("x")
	f.tap(KeyEscape)
	require.Equal(t, "Soot", f.text(), "Escape brings the value back")
	require.True(t, f.events[len(f.events)-1].Cancelled)
	require.Empty(t, f.ui.Left())
	f.tap(KeyEscape)
	require.Equal(t, []Press{{Key: KeyEscape}}, f.ui.Left(), "a second Escape is for the panel")

	f.typing("Coal")
	f.press(300, 90, 0)
	f.release()
	require.Equal(t, "Coal", f.value, "a press beside it commits")

	f.enter()
	f.frame(Input{Keys: []Press{{Key: KeyEnter}}, Text: []rune("Tar")})
	require.Equal(t, "Tar", f.value, "letters count before an Enter of the same frame")
}

func TestTextFieldHandsOverBeforeACommand(t *testing.T) {
	f := newFieldBench("Ember")
	f.enter()
	f.frame(Input{Text: []rune("Ash"), Keys: []Press{{Key: KeyS, Mods: Ctrl}}})
	require.Empty(t, f.ui.Left(), "the command waits")
	f.frame(Input{})
	require.Equal(t, "Ash", f.value)
	require.Equal(t, []Press{{Key: KeyS, Mods: Ctrl}}, f.ui.Left())
	require.True(t, f.ui.Typing(), "the focus stays")
	f.frame(Input{})
	require.Empty(t, f.ui.Left())

	f.typing("Soot")
	f.clickOn(t, "button", "b")
	require.Equal(t, "AshSoot", f.value, "a press on a button comes after it too")
}

func TestTextFieldRefuses(t *testing.T) {
	f := newFieldBench("Ember")
	f.spec.Check = func(s string) error {
		if s == "" {
			return errors.New("a title has one letter or more")
		}
		return nil
	}
	f.enter()
	f.tap(KeyBackspace, KeyEnter)
	require.Equal(t, "Ember", f.value)
	require.Contains(t, f.scene.Dump(), "a title has one letter or more", "it says what would be valid")
	f.tap(KeyTab)
	f.frame(Input{})
	require.Equal(t, "", f.text(), "what was typed is not lost")
	f.enter()
	f.tap(KeyEscape)
	require.Equal(t, "Ember", f.text())
}

func TestTextFieldFollowsItsValue(t *testing.T) {
	f := newFieldBench("Ember")
	f.enter()
	f.value = "Flint"
	f.frame(Input{})
	require.Equal(t, "Flint", f.text(), "nothing was typed: the new value stands")
	f.typing("x")
	f.value = "Ash"
	f.frame(Input{})
	require.Equal(t, "x", f.text(), "a draft stands")
}

func TestTextFieldKeys(t *testing.T) {
	f := newFieldBench("one two")
	f.enter()
	f.key(Press{Key: KeyC, Mods: Ctrl})
	require.Equal(t, "one two", f.ui.Clip.Read())
	f.tap(KeyEnd)
	f.key(Press{Key: KeyLeft, Mods: Ctrl}, Press{Key: KeyEnd, Mods: Shift}, Press{Key: KeyX, Mods: Ctrl})
	require.Equal(t, "one ", f.text())
	f.key(Press{Key: KeyV, Mods: Ctrl}, Press{Key: KeyV, Mods: Ctrl})
	require.Equal(t, "one twotwo", f.text())
	f.key(Press{Key: KeyZ, Mods: Ctrl})
	require.Equal(t, "one two", f.text())
	f.key(Press{Key: KeyZ, Mods: Ctrl | Shift})
	require.Equal(t, "one twotwo", f.text())
	f.key(Press{Key: KeyBackspace, Mods: Ctrl})
	require.Equal(t, "one ", f.text())
	f.frame(Input{Keys: []Press{{Key: KeyE}, {Key: KeySpace}, {Key: KeyS, Mods: Ctrl}}, Text: []rune("é ß")})
	require.Equal(t, "one é ß", f.text())
	f.frame(Input{})
	require.Equal(t, []Press{{Key: KeyS, Mods: Ctrl}}, f.ui.Left(), "only what does not type is left")
	f.spec.Limit = 8
	f.typing("123")
	require.Equal(t, "one é ß1", f.text())
}

// x gives the pixel at which the letter n of the field stands.
func (f *fieldBench) x(n int) int {
	face := faces.Face(render.TypeLabel, f.scale)
	return 18 + f.ui.texts[f.ui.id("f")].width(face, n)
}

func TestTextFieldPointer(t *testing.T) {
	f := newFieldBench("gerb comet mine")
	f.click(f.x(4), 20)
	require.Equal(t, "gerb| comet mine", show(&f.ui.texts[f.ui.id("f")].Editor))
	f.wait(clickTime * 2)
	f.press(f.x(5), 20, 0)
	f.move(f.x(10), 20)
	require.Equal(t, "gerb [comet|] mine", show(&f.ui.texts[f.ui.id("f")].Editor), "dragging selects")
	f.release()
	f.wait(clickTime * 2)
	f.click(f.x(7), 20)
	f.click(f.x(7), 20)
	require.Equal(t, "gerb [comet|] mine", show(&f.ui.texts[f.ui.id("f")].Editor), "a double click takes a word")
	f.click(f.x(7), 20)
	require.Equal(t, "[gerb comet mine|]", show(&f.ui.texts[f.ui.id("f")].Editor), "a third takes all")
	f.wait(clickTime * 2)
	f.click(f.x(1), 20)
	f.press(f.x(1), 20, 0)
	f.move(f.x(7), 20)
	require.Equal(t, "[gerb comet|] mine", show(&f.ui.texts[f.ui.id("f")].Editor), "dragging a word goes by words")
	f.release()
	f.wait(clickTime * 2)
	f.click(f.x(2), 20)
	f.press(f.x(6), 20, Shift)
	f.release()
	require.Equal(t, "ge[rb c|]omet mine", show(&f.ui.texts[f.ui.id("f")].Editor), "Shift extends")
}

func TestCaretBlinks(t *testing.T) {
	f := newFieldBench("a")
	f.enter()
	f.tap(KeyEnd)
	f.frame(Input{})
	seen := f.scene.Dump()
	at, ok := f.ui.Wake()
	require.True(t, ok)
	f.now = at - frameTime
	f.frame(Input{})
	hidden := f.scene.Dump()
	require.NotEqual(t, seen, hidden)
	at, ok = f.ui.Wake()
	require.True(t, ok)
	f.now = at - frameTime
	f.frame(Input{})
	require.Equal(t, seen, f.scene.Dump())
}

func TestLongTextFollowsTheCaret(t *testing.T) {
	f := newFieldBench("a comet is a shell without a shell, which burns on its way up and leaves a tail")
	f.enter()
	f.tap(KeyEnd)
	st := f.ui.texts[f.ui.id("f")]
	require.Positive(t, st.scroll)
	f.tap(KeyHome)
	require.Zero(t, st.scroll)
}

func TestNumberField(t *testing.T) {
	value, changes := int64(flick/2), 0
	b := newBench(400, 100, func(u *UI) {
		if e := u.Number("n", image.Rect(10, 10, 110, 38), value, &openTime); e.Changed {
			value = e.Value
			changes++
		}
		u.Button("b", image.Rect(220, 10, 320, 38), "Other")
	})
	b.ui.Focus("n")
	b.frame(Input{})
	b.tap(KeyUp)
	require.EqualValues(t, flick/2+frame25, value)
	b.key(Press{Key: KeyDown, Mods: Shift})
	require.EqualValues(t, flick/2+frame25-frame25/10, value)
	b.tap(KeyPageDown, KeyPageDown, KeyPageDown)
	require.Zero(t, value, "it stops at the bound")
	b.tap(KeyPageUp)
	require.EqualValues(t, 10*frame25, value)

	changes = 0
	b.typing("+2f")
	b.tap(KeyEnter)
	require.EqualValues(t, 12*frame25, value)
	b.frame(Input{})
	require.Contains(t, b.scene.Dump(), `"0.48"`)
	b.typing("1/8")
	b.tap(KeyUp)
	require.EqualValues(t, flick/8+frame25, value, "a step starts from what is typed")
	b.tap(KeyTab)
	b.frame(Input{})
	require.Equal(t, 2, changes, "leaving an unchanged field changes nothing")

	b.move(60, 20)
	b.frame(Input{Wheel: image.Pt(0, -1)})
	require.EqualValues(t, flick/8+frame25, value, "the wheel is for scrolling until the field has the focus")
	b.click(60, 20)
	b.frame(Input{Wheel: image.Pt(0, -1)})
	require.EqualValues(t, flick/8+2*frame25, value)

	b.key(Press{Key: KeyA, Mods: Ctrl})
	b.typing("99")
	b.tap(KeyEnter)
	require.EqualValues(t, flick/8+2*frame25, value)
	require.Contains(t, b.scene.Dump(), "must be from 0 s to 60 s")
	b.tap(KeyEscape)
	b.frame(Input{})
	require.Contains(t, b.scene.Dump(), `"0.205"`)
}

package widget

import (
	"image"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
)

func TestScroll(t *testing.T) {
	used := 0
	var content image.Rectangle
	b := newBench(200, 300, func(u *UI) {
		content = u.BeginScroll("s", image.Rect(0, 0, 200, 100), 400)
		stack := u.Stack(content, 0)
		for i := range 10 {
			u.PushRow(i)
			if u.Button("b", stack.Top(40), "Button") {
				used = i
			}
			u.Pop()
		}
		u.EndScroll()
	})
	b.move(50, 50)
	b.frame(Input{Wheel: image.Pt(0, 1)})
	b.frame(Input{})
	require.Equal(t, -wheelStep, content.Min.Y)
	b.click(50, 10)
	require.Equal(t, (wheelStep+10)/40, used)
	b.frame(Input{Wheel: image.Pt(0, 99)})
	b.frame(Input{})
	require.Equal(t, -300, content.Min.Y, "it stops at the end")
	b.frame(Input{Wheel: image.Pt(0, -99)})
	b.frame(Input{})

	b.press(195, 5, 0)
	b.move(195, 80)
	b.release()
	require.Equal(t, -300, content.Min.Y, "the bar can be dragged")

	b.ui.Focus("s")
	b.frame(Input{})
	b.tap(KeyHome)
	require.Zero(t, content.Min.Y)
	b.tap(KeyTab, KeyTab, KeyTab, KeyTab)
	b.frame(Input{})
	b.frame(Input{})
	require.Equal(t, 100-160-Gap, content.Min.Y, "what Tab comes to is shown")
}

func TestSplit(t *testing.T) {
	spec := SplitSpec{At: 100, MinA: 50, MinB: 60, Home: 120}
	var a, z image.Rectangle
	b := newBench(300, 100, func(u *UI) { a, z, spec.At = u.Split("s", u.Bounds(), spec) })
	require.Equal(t, 100, a.Dx())
	require.Equal(t, 300-100-splitBar, z.Dx())
	b.press(102, 50, 0)
	b.move(150, 50)
	b.release()
	require.Equal(t, 150, spec.At)
	b.press(152, 50, 0)
	b.move(0, 50)
	b.release()
	require.Equal(t, 50, spec.At, "no smaller than it must be")
	b.wait(time.Second)
	b.click(52, 50)
	b.click(52, 50)
	require.Equal(t, 120, spec.At)
	b.ui.Focus("s")
	b.frame(Input{})
	b.tap(KeyLeft)
	require.Equal(t, 104, spec.At)
	spec.Last, spec.At = true, 80
	b.frame(Input{})
	require.Equal(t, 80, z.Dx())
	b.size.X = 500
	b.frame(Input{})
	require.Equal(t, 80, z.Dx(), "the last part keeps its size")
}

func TestTabs(t *testing.T) {
	at := 0
	b := newBench(300, 40, func(u *UI) { at = u.Tabs("t", u.Bounds(), []string{"Stage", "Inspector", "Findings"}, at) })
	b.click(100, 20)
	require.Equal(t, 1, at)
	b.ui.Focus("t")
	b.frame(Input{})
	b.tap(KeyRight, KeyRight)
	require.Equal(t, 0, at)
}

func TestCanvasOwnsThePointer(t *testing.T) {
	var v Canvas
	b := newBench(300, 200, func(u *UI) {
		v = u.Canvas("lanes", image.Rect(0, 0, 200, 200))
		u.Button("on it", image.Rect(10, 10, 80, 38), "Zoom")
		u.TextField("beside", image.Rect(210, 10, 290, 38), "", TextSpec{})
	})
	b.press(20, 20, 0)
	require.Zero(t, v.Pressed, "a button stands on it")
	b.release()
	b.press(100, 100, 0)
	require.Equal(t, Primary, v.Pressed)
	b.move(280, 100)
	require.True(t, v.Held, "it keeps the pointer wherever that goes")
	require.True(t, v.Focus)
	b.release()
	require.Equal(t, Primary, v.Released)
	b.move(100, 100)
	b.frame(Input{Wheel: image.Pt(0, 1)})
	require.Equal(t, image.Pt(0, 1), v.Wheel)
	b.tap(KeyTab)
	require.Equal(t, []Press{{Key: KeyTab}}, b.ui.Left(), "Tab is its own")
	require.False(t, b.ui.Typing())
	b.click(250, 20)
	require.True(t, b.ui.Typing())
	require.False(t, v.Focus)
}

func TestProgress(t *testing.T) {
	cancelled := false
	done, total := int64(1), int64(3)
	b := newBench(300, 60, func(u *UI) {
		cancelled = u.Progress("p", image.Rect(10, 10, 290, 44), "Listening", done, total, "Cancel") || cancelled
	})
	require.Contains(t, b.scene.Dump(), `"33 %"`)
	_, wakes := b.ui.Wake()
	require.False(t, wakes, "nothing moves by itself")
	b.clickOn(t, "button", "p")
	require.True(t, cancelled)
	done, total = 0, 0
	b.frame(Input{})
	_, wakes = b.ui.Wake()
	require.True(t, wakes)
}

func TestReadingOnly(t *testing.T) {
	why := "open for reading only"
	used := 0
	b := newBench(300, 200, func(u *UI) {
		u.PushOff(why)
		u.PushOff("")
		if u.Button("a", image.Rect(10, 10, 100, 38), "Save") {
			used++
		}
		u.PopOff()
		u.PopOff()
		u.TextField("b", image.Rect(10, 50, 100, 78), "x", TextSpec{})
	})
	b.clickOn(t, "button", "a")
	require.Zero(t, used)
	why = ""
	b.frame(Input{})
	b.clickOn(t, "button", "a")
	require.Equal(t, 1, used)
}

// TestWrapLosesNothing breaks random text and puts it together again.
func TestWrapLosesNothing(t *testing.T) {
	face := faces.Face(render.TypeLabel, render.Unit)
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.StringMatching(`[a-zä]{1,12}`), 1, 30).Draw(t, "words"), " ")
		width := rapid.IntRange(1, 400).Draw(t, "width")
		var lines []string
		for rest, more := text, true; more; {
			var line string
			line, rest, more = nextLine(face, width, rest)
			if strings.Contains(line, " ") && face.Measure(line) > width {
				t.Fatalf("%q is wider than %d", line, width)
			}
			lines = append(lines, line)
		}
		if got := strings.Join(lines, " "); got != text {
			t.Fatalf("%q became %q", text, got)
		}
	})
}

// TestLabelsMayGrow sets labels 40 % longer: nothing may stand on anything else.
func TestLabelsMayGrow(t *testing.T) {
	for _, label := range []string{"Take the last edit back", "Take the very last edit back again"} {
		b := newBench(600, 60, func(u *UI) {
			row := u.Stack(u.Inset(u.Bounds(), 10), Gap)
			u.Button("a", row.Left(u.ButtonWidth(label)), label)
			u.Button("b", row.Left(u.ButtonWidth(label)), label)
		})
		require.Equal(t, 2, strings.Count(b.scene.Dump(), `"`+label+`"`), "both are whole")
	}
}

func TestKeyNames(t *testing.T) {
	seen := map[string]bool{}
	for k := KeyNone + 1; k < keyCount; k++ {
		name := k.String()
		require.NotEmpty(t, name)
		require.False(t, seen[name], name)
		seen[name] = true
		got, ok := KeyNamed(strings.ToLower(name))
		require.True(t, ok, name)
		require.Equal(t, k, got)
	}
	_, ok := KeyNamed("Any")
	require.False(t, ok)
	require.Equal(t, "Ctrl+Alt+Shift+Z", Press{Key: KeyZ, Mods: Shift | Ctrl | Alt}.String())
}

func TestClicker(t *testing.T) {
	var c Clicker
	ms := time.Millisecond
	for _, x := range []struct {
		at   time.Duration
		p    image.Point
		want int
	}{{0, image.Pt(5, 5), 1}, {200 * ms, image.Pt(6, 5), 2}, {400 * ms, image.Pt(6, 6), 3}, {500 * ms, image.Pt(40, 6), 1}, {1500 * ms, image.Pt(40, 6), 1}} {
		require.Equal(t, x.want, c.Count(x.at, x.p, ClickReach()), "at %v", x.at)
	}
}

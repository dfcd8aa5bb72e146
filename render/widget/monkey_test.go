package widget

import (
	"image"
	"testing"

	"pgregory.net/rapid"

	"emberbeat/render"
	_ "emberbeat/timeline/testtool" // the seed of random walks
)

// TestAnything does random things to the gallery. After each frame the clip is whole again, what has the focus exists and can be reached,
// and nothing holds the pointer that no button holds.
func TestAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := NewGallery()
		switch rapid.IntRange(0, 4).Draw(t, "open") { // rarely found by chance
		case 1:
			g.ask = true
		case 2:
			g.help = true
		case 3:
			g.palette = &Palette{}
		case 4:
			g.browser = &Browser{Title: "Open", Verb: "Open", Folder: "/shows", Save: rapid.Bool().Draw(t, "save")}
		}
		w, h := rapid.IntRange(1, 1400).Draw(t, "w"), rapid.IntRange(1, 900).Draw(t, "h")
		b := newBench(w, h, func(u *UI) { g.Frame(u, u.Bounds()) })
		b.scale = rapid.SampledFrom([]render.Scale{80, 100, 150, 250}).Draw(t, "scale")
		key := rapid.SampledFrom([]Key{KeyTab, KeyEnter, KeyEscape, KeyUp, KeyDown, KeyLeft, KeyRight, KeyHome, KeyEnd, KeyPageDown, KeyF6, KeyF10,
			KeyBackspace, KeyDelete, KeyA, KeyZ, KeyV, KeyX, KeyC})
		for range rapid.IntRange(1, 60).Draw(t, "frames") {
			in := Input{}
			switch rapid.IntRange(0, 6).Draw(t, "what") {
			case 0:
				b.at = image.Pt(rapid.IntRange(-5, w+5).Draw(t, "x"), rapid.IntRange(-5, h+5).Draw(t, "y"))
			case 1:
				in.Pressed = rapid.SampledFrom([]Buttons{Primary, Secondary, Wheel}).Draw(t, "press")
				in.Clicks = rapid.IntRange(1, 4).Draw(t, "clicks")
				b.down |= in.Pressed
			case 2:
				in.Released, b.down = b.down, 0
			case 3:
				in.Wheel = image.Pt(0, rapid.IntRange(-3, 3).Draw(t, "wheel"))
			case 4:
				in.Mods = rapid.SampledFrom([]Mods{0, 0, Shift, Ctrl, Ctrl | Shift}).Draw(t, "mods")
				for _, k := range rapid.SliceOfN(key, 1, 3).Draw(t, "keys") {
					in.Keys = append(in.Keys, Press{Key: k, Mods: in.Mods})
				}
			case 6: // the same on something that is there
				hit := rapid.SampledFrom(b.scene.Hits).Draw(t, "hit")
				b.at = hit.Area.Min.Add(hit.Area.Size().Div(2))
				b.frame(Input{})
				in.Pressed, in.Clicks = Primary, 1
				b.down = Primary
				b.frame(in)
				in = Input{Released: Primary}
				b.down = 0
			case 5:
				in.Text = []rune(rapid.StringOfN(rapid.SampledFrom([]rune("a+/1.fqü\u0301 ")), 1, 4, -1).Draw(t, "text"))
			}
			b.frame(in)
			legal(t, b)
		}
	})
}

// legal says what holds after every frame.
func legal(t *rapid.T, b *bench) {
	u := b.ui
	if b.scene.Clip() != b.scene.Bounds() {
		t.Fatalf("clip %v is left", b.scene.Clip())
	}
	if len(u.scopes)+len(u.offs)+len(u.around) != 0 || u.layer != layerBase {
		t.Fatal("something was opened and not closed")
	}
	if u.active != 0 && b.down == 0 {
		t.Fatal("something holds the pointer, but no button is held")
	}
	if u.focus == 0 {
		return
	}
	z := u.zoneNow(u.focus)
	if z == nil && u.focusAt != b.now {
		t.Fatal("what has the focus is not there")
	}
	if n := len(u.dialogs); n > 0 && z != nil && z.group != u.dialogs[n-1].id && !u.dialogs[n-1].fresh {
		t.Fatalf("the focus is on %s, below a dialog", z.key)
	}
}

package widget

import (
	"image/color"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/paper"
)

func galleryBench() (*bench, *Gallery) {
	g := NewGallery()
	return newBench(1280, 800, func(u *UI) { g.Frame(u, u.Bounds()) }), g
}

// TestGalleryPicture writes pictures to the folder named by EMBERBEAT_PICTURES, to be looked at.
func TestGalleryPicture(t *testing.T) {
	dir := os.Getenv("EMBERBEAT_PICTURES")
	if dir == "" {
		t.Skip("set EMBERBEAT_PICTURES to a folder to get pictures of the gallery")
	}
	for name, act := range galleryScenes(t) {
		for _, th := range render.Themes() {
			b, _ := galleryBench()
			b.theme = th
			act(b)
			b.frame(Input{})
			f, err := os.Create(dir + "/" + name + "-" + th.Name + ".png")
			require.NoError(t, err)
			require.NoError(t, paper.WritePNG(f, b.scene, &th))
			require.NoError(t, f.Close())
		}
	}
}

// galleryScenes are ways to bring the gallery into a state worth seeing.
func galleryScenes(t *testing.T) map[string]func(*bench) {
	return map[string]func(*bench){
		"rest": func(*bench) {},
		"typing": func(b *bench) {
			b.clickOn(t, "button", "plain")
			b.clickOn(t, "field", "title")
			b.key(Press{Key: KeyLeft, Mods: Shift | Ctrl})
		},
		"wrong": func(b *bench) {
			b.clickOn(t, "number", "open")
			b.key(Press{Key: KeyA, Mods: Ctrl})
			b.typing("two")
		},
		"menu": func(b *bench) {
			b.clickOn(t, "button", "menu")
			b.tap(KeyDown, KeyDown, KeyDown, KeyRight)
			b.frame(Input{})
		},
		"dropdown": func(b *bench) { b.clickOn(t, "dropdown", "article") },
		"question": func(b *bench) { b.clickOn(t, "button", "ask"); b.frame(Input{}); b.frame(Input{}) },
		"browser":  func(b *bench) { b.clickOn(t, "button", "browse"); b.frame(Input{}); b.frame(Input{}) },
		"palette":  func(b *bench) { b.clickOn(t, "button", "palette"); b.frame(Input{}); b.typing("cu") },
		"help":     func(b *bench) { b.clickOn(t, "button", "help"); b.frame(Input{}); b.frame(Input{}) },
		"why": func(b *bench) {
			b.move(b.middle(t, "button", "unusable"))
			b.wait(tipDelay * 2)
		},
	}
}

func TestGallerySketches(t *testing.T) {
	for name, act := range galleryScenes(t) {
		t.Run(name, func(t *testing.T) {
			b, _ := galleryBench()
			act(b)
			b.frame(Input{})
			golden(t, name+".txt", sketch(b.scene))
		})
	}
}

// TestKeyboardReach walks with Tab once around: it must come to every control that a pointer can use, and each time the picture changes.
func TestKeyboardReach(t *testing.T) {
	for _, scale := range []render.Scale{80, 100, 125, 150, 200, 250, 300} {
		g := NewGallery()
		b := newBench(1280*int(scale)/100, 800*int(scale)/100, func(u *UI) { g.Frame(u, u.Bounds()) })
		b.scale = scale
		b.frame(Input{})
		before := b.scene.Dump()
		want := reachable(b.ui)
		b.ui.Focus("plain")
		b.frame(Input{})
		first := b.ui.focus
		got := map[ID]bool{}
		for range 2 * len(want) {
			require.NotZero(t, b.ui.focus)
			require.False(t, before == b.scene.Dump(), "the focus is not seen at %d%%", scale)
			got[b.ui.focus] = true
			b.tap(KeyTab)
			before = b.scene.Dump()
			b.frame(Input{}) // Tab moves the focus after the frame it was pressed in
			if b.ui.focus == first {
				break
			}
		}
		for id, name := range want {
			require.True(t, got[id], "Tab does not reach %s at %d%%", name, scale)
		}
		b.tap(KeyF6)
		b.frame(Input{})
		require.True(t, b.ui.Focused("canvas"), "F6 goes to the next panel")
		b.tap(KeyF6)
		b.frame(Input{})
		b.tap(KeyTab, KeyTab)
		at := b.ui.focus
		b.tap(KeyTab)
		b.key(Press{Key: KeyTab, Mods: Shift})
		require.Equal(t, at, b.ui.focus, "Shift+Tab is the way back")
	}
}

// TestKeysAreUnique: two controls with one key would share focus and drafts.
func TestKeysAreUnique(t *testing.T) {
	b, _ := galleryBench()
	seen := map[ID]string{}
	for _, z := range b.ui.zones {
		other, twice := seen[z.id]
		require.False(t, twice, "%q and %q", other, z.key)
		seen[z.id] = z.key
	}
}

// TestContrast holds every ink to the ground that controls set it on: 4.5 to 1 for text, 3 to 1 for edges and the focus (WCAG 2.2, 1.4.3
// and 1.4.11).
func TestContrast(t *testing.T) {
	for _, th := range render.Themes() {
		light := th.Light
		tint := func(on render.Ink, cover uint8) color.RGBA {
			return render.Over(light(render.InkText), light(on), cover)
		}
		grounds := map[string]color.RGBA{"panel": light(render.InkPanel), "lane": light(render.InkLane)}
		for name, ground := range grounds {
			for _, ink := range []render.Ink{render.InkText, render.InkSecondary, render.InkFaint} {
				require.GreaterOrEqual(t, render.Contrast(light(ink), ground), 4.5, "%s: %v on %s", th.Name, ink, name)
			}
			for _, ink := range []render.Ink{render.InkEdge, render.InkFocus} {
				require.GreaterOrEqual(t, render.Contrast(light(ink), ground), 3.0, "%s: %v on %s", th.Name, ink, name)
			}
		}
		for name, ground := range map[string]color.RGBA{
			"button": light(render.InkRaised), "chosen row": light(render.InkRaised), "pointed field": tint(render.InkLane, coverHot), "held field": tint(render.InkLane, coverHeld),
			"selected text": render.Over(light(render.InkFocus), light(render.InkLane), coverText),
		} {
			require.GreaterOrEqual(t, render.Contrast(light(render.InkText), ground), 4.5, "%s: text on %s", th.Name, name)
		}
		require.GreaterOrEqual(t, render.Contrast(light(render.InkSecondary), light(render.InkBeat)), 4.5, "%s: key cap", th.Name)
		require.GreaterOrEqual(t, render.Contrast(light(th.OnFill(render.InkText)), light(render.InkText)), 4.5, "%s: main button", th.Name)
	}
}

// reachable gives the controls of the last frame that a pointer can use and that have no other way in.
func reachable(u *UI) map[ID]string {
	list := map[ID]string{}
	for _, z := range u.zones {
		if z.reach != reachNone && z.reach != reachOwn {
			list[z.id] = z.key
		}
	}
	return list
}

// TestHitSize holds every control to the least size that a pointer can find, unless a neighbour is nearer.
func TestHitSize(t *testing.T) {
	for _, scale := range []render.Scale{80, 100, 200} {
		g := NewGallery()
		b := newBench(1280*int(scale)/100, 800*int(scale)/100, func(u *UI) { g.Frame(u, u.Bounds()) })
		b.scale = scale
		b.frame(Input{})
		least := scale.Px(render.Reach)
		for _, h := range b.scene.Hits {
			if h.Ground || h.Area.Empty() {
				continue
			}
			require.GreaterOrEqual(t, h.Grip.Dx(), least, "%s %s", h.Kind, h.ID)
			require.GreaterOrEqual(t, h.Grip.Dy(), least, "%s %s", h.Kind, h.ID)
		}
		for i := range b.scene.Shapes {
			if sh := &b.scene.Shapes[i]; sh.Kind == render.KindText {
				require.GreaterOrEqual(t, sh.Type.Size, render.TypeSmall.Size)
			}
		}
	}
}

func TestSteadyFramesMakeLittleGarbage(t *testing.T) {
	b, _ := galleryBench()
	for range 10 {
		b.frame(Input{})
	}
	got := testing.AllocsPerRun(50, func() { b.frame(Input{}) })
	require.LessOrEqual(t, got, 40.0, "allocations of a whole gallery")
	t.Logf("%v allocations a frame", got)
}

func BenchmarkGallery(bm *testing.B) {
	b, _ := galleryBench()
	bm.ReportAllocs()
	for bm.Loop() {
		b.frame(Input{})
	}
}

func BenchmarkTable10000(bm *testing.B) {
	g := NewGallery()
	spec := TableSpec{Columns: galleryColumns[:], Rows: GalleryRows, Cell: g.cell, Multi: true}
	b := newBench(600, 800, func(u *UI) { u.Table("t", u.Bounds(), &g.rows, &spec) })
	b.ui.Focus("t")
	bm.ReportAllocs()
	for bm.Loop() {
		b.tap(KeyDown)
	}
}

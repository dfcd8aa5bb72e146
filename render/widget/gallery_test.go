package widget

import (
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
			act(b)
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
			b.clickOn(t, "field", "title")
			b.key(Press{Key: KeyRight, Mods: Shift | Ctrl})
			b.clickOn(t, "button", "plain")
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

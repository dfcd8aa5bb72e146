package desk

import (
	"os"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
)

// inGame runs the tests inside a running game: before it runs, no pixel can be read back.
type inGame struct {
	m    *testing.M
	code int
}

func (g *inGame) Update() error {
	g.code = g.m.Run()
	return ebiten.Termination
}

func (g *inGame) Draw(*ebiten.Image)         {}
func (g *inGame) Layout(w, h int) (int, int) { return 320, 240 }

func TestMain(m *testing.M) {
	g := &inGame{m: m}
	if err := ebiten.RunGame(g); err != nil {
		panic(err)
	}
	os.Exit(g.code)
}

package desk

import (
	"fmt"
	"os"
	"time"

	"github.com/hajimehoshi/ebiten/v2"

	"emberbeat/render/desk/app"
	_ "emberbeat/render/desk/screen" // ends the program in order where there is no screen
	"emberbeat/shows"
)

// DebugEnv is the environment variable that, set to 1, has the window write a line for each change of state to standard error.
const DebugEnv = "EMBERBEAT_DEBUG"

// Smallest size of the window, and the one it opens with, in logical pixels.
const (
	leastWide, leastHigh = 420, 300
	firstWide, firstHigh = 1440, 860
)

// Run opens the window, on the show in a folder or, with "", on its start page, and returns when it was closed.
func Run(dir string) error {
	state, err := shows.StateDir()
	if err != nil {
		state = ""
	}
	o := app.Options{Sound: openSound, Clip: &board{}, Wake: wake, State: state}
	if os.Getenv(DebugEnv) == "1" {
		o.Debug = os.Stderr
	}
	a := app.New(o)
	defer a.Close()
	if dir != "" {
		if err := a.Open(dir); err != nil {
			return err
		}
	}
	g := &game{app: a, painter: newPainter(), begun: time.Now(), fresh: true}
	ebiten.SetWindowTitle("emberbeat")
	ebiten.SetWindowSize(firstSize())
	ebiten.SetWindowSizeLimits(leastWide, leastHigh, -1, -1)
	ebiten.SetWindowResizingMode(ebiten.WindowResizingModeEnabled)
	ebiten.SetWindowClosingHandled(true)
	ebiten.SetScreenClearedEveryFrame(false)
	ebiten.SetRunnableOnUnfocused(true)
	ebiten.SetTPS(ebiten.SyncWithFPS) // a frame that was asked for is one in which something is done
	if err := ebiten.RunGameWithOptions(g, &ebiten.RunGameOptions{SingleThread: false, X11ClassName: "emberbeat", X11InstanceName: "emberbeat"}); err != nil {
		return fmt.Errorf("the window cannot go on: %w", err)
	}
	return nil
}

// firstSize fits the window into the monitor.
func firstSize() (w, h int) {
	w, h = firstWide, firstHigh
	if m := ebiten.Monitor(); m != nil {
		if mw, mh := m.Size(); mw > 0 && mh > 0 {
			w, h = min(w, mw), min(h, mh)
		}
	}
	return w, h
}

// Package screen ends the program with a clear sentence where there is no screen to open a window on.
//
// Its one rule: it imports nothing but the standard library, so that it is initialised before the window's engine. The engine looks for a
// display while it is initialised and ends with a trace where there is none.
package screen

import (
	"os"
	"runtime"
	"strings"
)

// ExitNoScreen is the program's exit code where there is no screen: what is needed is missing.
const ExitNoScreen = 4

func init() {
	if Here() {
		return
	}
	if underTest() {
		os.Stderr.WriteString("skipped: no screen; run the tests under xvfb-run\n")
		if os.Getenv("EMBERBEAT_REQUIRE_TOOLS") == "1" {
			os.Exit(ExitNoScreen)
		}
		os.Exit(0)
	}
	os.Stderr.WriteString("emberbeat-desk: there is no screen to open a window on\n" +
		"hint: set DISPLAY to one that answers, or use emberbeat, which does everything without a window\n")
	os.Exit(ExitNoScreen)
}

// Here reports whether a window could open: always on Windows, macOS and in a browser, elsewhere where an X11 display answers. A Wayland
// desktop answers through its X11 server; the engine speaks nothing else.
func Here() bool {
	switch runtime.GOOS {
	case "windows", "darwin", "js":
		return true
	}
	return answers(os.Getenv("DISPLAY"))
}

// underTest reports whether the program is a test binary.
func underTest() bool {
	name := strings.TrimSuffix(os.Args[0], ".exe")
	return strings.HasSuffix(name, ".test")
}

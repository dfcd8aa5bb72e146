package main

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows"
	"emberbeat/shows/example"
)

// missing skips the test, or fails it where all tools are required.
func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("EMBERBEAT_REQUIRE_TOOLS") == "1" {
		require.Fail(t, what+" is missing")
	}
	t.Skip(what + " is missing: the real window is not tested")
}

var (
	build   sync.Once
	program string
	failed  error
)

// window is the window under test: the program, and a home of its own.
type window struct {
	t    *testing.T
	home string
	env  []string
}

func newDesk(t *testing.T) *window {
	t.Helper()
	if testing.Short() {
		t.Skip("the real window takes long")
	}
	for _, tool := range []string{"Xvfb", "xdotool", "xprop"} {
		if _, err := exec.LookPath(tool); err != nil {
			missing(t, tool)
		}
	}
	build.Do(func() {
		// Whoever runs these tests many times has linked the program once.
		if program = os.Getenv("EMBERBEAT_DESK"); program != "" {
			return
		}
		dir, err := os.MkdirTemp("", "desk")
		if err != nil {
			failed = err
			return
		}
		program = filepath.Join(dir, "emberbeat-desk")
		out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput()
		if err != nil {
			failed = fmt.Errorf("%w: %s", err, out)
		}
	})
	require.NoError(t, failed)
	home := t.TempDir()
	return &window{t: t, home: home, env: []string{
		"HOME=" + home, shows.StateEnv + "=" + filepath.Join(home, "state"), "EMBERBEAT_CACHE=" + filepath.Join(home, "cache"), "EMBERBEAT_DEBUG=1",
		"ALSA_CONFIG_PATH=/dev/null", // no sound device, on any machine
	}}
}

func TestMain(m *testing.M) {
	code := m.Run()
	if program != "" && os.Getenv("EMBERBEAT_DESK") == "" {
		os.RemoveAll(filepath.Dir(program))
	}
	os.Exit(code)
}

// run takes the program through steps, one a line, on a screen of its own, and
// gives what it wrote. HOME in a step is the window's home.
func (d *window) run(steps string, args ...string) string {
	d.t.Helper()
	s := startScreen(d.t, d.env, args...)
	defer s.stop()
	for _, line := range strings.Split(steps, "\n") {
		if line = strings.TrimSpace(line); line != "" {
			s.do(strings.ReplaceAll(line, "HOME", d.home))
		}
	}
	return s.log.String()
}

// show copies the example show.
func (d *window) show() string {
	dir := filepath.Join(d.home, "show")
	require.NoError(d.t, example.CopyTo(dir))
	return dir
}

// From the start page to an exported cue list, with clicks and keys alone.
func TestFirstRun(t *testing.T) {
	d := newDesk(t)
	d.run(`
		log size
		click 500 290
		log opened.Copper.Weather.Tour
		log sound.ready
		dblclick placed 850 511
		key space
		log playing
		log heard
		key space
		log paused
		key F8
		log finding
		key ctrl+e
		key Return
		log exported
		file HOME/cue-list.csv
		key ctrl+s
		log saved
		quit ctrl+q
	`, program)
	csv, err := os.ReadFile(filepath.Join(d.home, "cue-list.csv"))
	require.NoError(t, err)
	require.Contains(t, string(csv), "01:00:")
	cues, err := os.ReadFile(filepath.Join(d.home, "emberbeat example", "songs", "slow-matches", "cues.toml"))
	require.NoError(t, err)
	was, err := os.ReadFile("../../shows/example/show/songs/slow-matches/cues.toml")
	require.NoError(t, err)
	require.Equal(t, strings.Count(string(was), "id=")+strings.Count(string(was), "id ="), strings.Count(string(cues), "id=")+strings.Count(string(cues), "id =")-1)
}

// Edits survive a kill; what was saved and undone is as it was.
func TestDragUndoSaveKillRecover(t *testing.T) {
	d := newDesk(t)
	dir := d.show()
	log := d.run(`
		log sound.ready
		drag 719 587 788 587
		log did.move.1.cue
		key ctrl+z
		log undid
		key ctrl+y
		log redid
		key ctrl+s
		log saved
		key alt+Right
		log did.move
		kill
	`, program, dir)
	require.NotContains(t, log, "panic")
	log = d.run(`
		log recovered.edits=1
		log checked
		key ctrl+q
		log asked.about.unsaved
		key Escape
		alive
		key ctrl+shift+p
		type undo
		key Return
		log undid.move.1.cue
		quit ctrl+q
	`, program, dir)
	require.NotContains(t, log, "panic")
}

// Without a sound device the playhead runs all the same, in real time.
func TestNoSoundDevice(t *testing.T) {
	d := newDesk(t)
	log := d.run(`
		log sound.ready
		key space
		log playing.*silent=true
		log heard.at=2
		key space
		log paused
		alive
	`, program, d.show())
	list := drawnIn(t, log)
	require.Greater(t, len(list), 3, "it is drawn while it runs")
	late := func(list []drawn) float64 { // a busy machine draws late now and then, never early
		least := math.Inf(1)
		for _, d := range list {
			least = min(least, d.clock-d.song)
		}
		return least
	}
	require.InDelta(t, late(list[:len(list)/2]), late(list[len(list)/2:]), 0.2, "it is neither faster nor slower than the clock")
}

// Any size can be worked in, from a corner of the screen to more than all of it.
func TestResize(t *testing.T) {
	d := newDesk(t)
	log := d.run(`
		log sound.ready
		size 420 300
		key ctrl+shift+p
		key Escape
		size 1366 768
		size 2600 1500
		alive
	`, program, d.show())
	require.NotContains(t, log, "panic")
}

// On a display of twice the density everything is twice as large and as sharp.
func TestFactorTwo(t *testing.T) {
	d := newDesk(t)
	dir := d.show()
	log := d.run(`
		log size.*scale=200
		log sound.ready
		alive
	`, "sh", "-c", `xprop -root -f RESOURCE_MANAGER 8s -set RESOURCE_MANAGER "Xft.dpi: 192"; exec "$0" "$1"`, program, dir)
	require.NotContains(t, log, "panic")
}

// Without a screen the program says so, and how to go on.
func TestNoScreen(t *testing.T) {
	newDesk(t)
	for _, display := range []string{"", ":4711"} {
		cmd := exec.Command(program)
		cmd.Env = append(os.Environ(), "DISPLAY="+display)
		out, err := cmd.CombinedOutput()
		var ended *exec.ExitError
		require.ErrorAs(t, err, &ended)
		require.Equal(t, 4, ended.ExitCode())
		require.Contains(t, string(out), "there is no screen to open a window on")
		require.NotContains(t, string(out), "panic")
	}
}

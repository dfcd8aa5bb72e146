package app

import (
	"bytes"
	"image"
	"io/fs"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/desk/keymap"
	"emberbeat/render/desk/play"
	"emberbeat/render/widget"
	"emberbeat/shows"
	"emberbeat/shows/example"
	"emberbeat/timeline"
)

// hand uses an App as a person would: it looks at the scenes to find things, and presses keys and buttons.
type hand struct {
	t     teller
	a     *App
	in    widget.Input
	now   time.Duration // of its own clock, which frames move on, so that no test depends on how fast they are
	clock atomic.Int64  // the same for other goroutines
	size  image.Point
	scale render.Scale
	mail  chan struct{}
	log   *logBook
	frame Frame
	click widget.Clicker
	dir   string
}

// teller is a test, or one try of a property.
type teller interface {
	require.TestingT
	Helper()
}

// logBook gathers the lines that the App says.
type logBook struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (l *logBook) Write(b []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(b)
}

func (l *logBook) has(line string) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return strings.Contains(l.text.String(), line)
}

// newHand starts an App whose state, cache and home are the test's own.
func newHand(t *testing.T) *hand {
	t.Helper()
	h := newHandOf(t, t, time.Now())
	t.Cleanup(h.a.Close)
	return h
}

// newHandOf does the same for one try of a property, at a moment. Whoever asks closes the App.
func newHandOf(t *testing.T, try teller, begin time.Time) *hand {
	return newHandHearing(t, try, begin, nil)
}

// newHandHearing does the same with a sound device.
func newHandHearing(t *testing.T, try teller, begin time.Time, sound play.OpenDevice) *hand {
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv(shows.StateEnv, filepath.Join(home, "state"))
	t.Setenv("EMBERBEAT_CACHE", filepath.Join(home, "cache"))
	h := &hand{t: try, mail: make(chan struct{}, 1), log: &logBook{}, size: image.Pt(1440, 900), scale: render.Unit}
	clock := func() time.Time { return begin.Add(time.Duration(h.clock.Load())) }
	h.a = New(Options{Sound: sound, State: filepath.Join(home, "state"), Debug: h.log, Now: clock, Wake: func() {
		select {
		case h.mail <- struct{}{}:
		default:
		}
	}})
	h.step()
	return h
}

// withExample starts an App on a copy of the light example and waits until it is checked and can be heard.
func withExample(t *testing.T) *hand {
	t.Helper()
	h := newHand(t)
	h.dir = filepath.Join(t.TempDir(), "show")
	copyLight(t, h.dir, true)
	require.NoError(t, h.a.Open(h.dir))
	h.settle()
	return h
}

func (h *hand) sound() *play.Sound { return h.a.work.Sounds[h.a.work.Song] }

// step runs one frame with what the input holds.
func (h *hand) step() {
	h.now += 20 * time.Millisecond
	h.clock.Store(int64(h.now))
	h.in.Time = h.now
	h.frame = h.a.Frame(h.in, h.size, h.scale)
	h.in = widget.Input{Pointer: h.in.Pointer, Down: h.in.Down, Mods: h.in.Mods}
}

// hang is longer than anything takes on the slowest machine: it ends a test that waits for what will never be.
const hang = 5 * time.Minute

// until runs frames until something holds.
func (h *hand) until(holds func() bool) {
	h.t.Helper()
	for end := time.Now().Add(hang); !holds(); {
		require.True(h.t, time.Now().Before(end), "it did not happen in time")
		select {
		case <-h.mail:
		case <-time.After(20 * time.Millisecond):
		}
		h.step()
	}
}

// settle runs frames until nothing goes on beside the window, so that what is done next meets the same state on a fast machine and a slow one.
func (h *hand) settle() {
	h.t.Helper()
	end := time.NewTimer(hang)
	defer end.Stop()
	for {
		if h.a.work != nil {
			h.a.work.Wait()
		}
		switch {
		case h.a.Waiting():
			h.step()
		case len(h.a.jobs) == 0 && h.allRead():
			return
		default: // a job or a recording: it wakes the window when it ends
			select {
			case <-h.mail:
			case <-end.C:
				require.FailNow(h.t, "what goes on beside the window does not end")
			}
		}
	}
}

// allRead reports whether all recordings that were asked for are read, or have turned out not to be there.
func (h *hand) allRead() bool {
	if h.a.work == nil {
		return true
	}
	for _, s := range h.a.work.Sounds {
		if !s.Ready {
			return false
		}
	}
	return !h.a.work.Listening()
}

// key presses keys, as in "Ctrl+Z".
func (h *hand) key(keys ...string) {
	h.t.Helper()
	for _, k := range keys {
		p, ok := keymap.ParsePress(k)
		require.True(h.t, ok, k)
		h.in.Mods = p.Mods
		h.in.Keys = []widget.Press{p}
		h.step()
		h.in.Mods = 0
		h.step()
	}
}

// typed types text.
func (h *hand) typed(text string) {
	h.in.Text = []rune(text)
	h.step()
	h.step()
}

func (h *hand) move(p image.Point) {
	h.in.Pointer = p
	h.step()
}

func (h *hand) down(b widget.Buttons) {
	h.in.Pressed, h.in.Down = b, b
	h.in.Clicks = h.click.Count(h.now, h.in.Pointer, 5)
	h.step()
}

func (h *hand) up() {
	h.in.Released, h.in.Down = h.in.Down, 0
	h.step()
	h.step()
}

// tap clicks at a place.
func (h *hand) tap(p image.Point) {
	h.move(p)
	h.down(widget.Primary)
	h.up()
}

// drag drags from one place to another with modifiers held.
func (h *hand) drag(from, to image.Point, mods widget.Mods) {
	h.move(from)
	h.down(widget.Primary)
	for i := 1; i <= 8; i++ {
		h.in.Mods = mods
		h.move(from.Add(to.Sub(from).Mul(i).Div(8)))
	}
	h.in.Mods = mods
	h.up()
	h.in.Mods = 0
	h.step()
}

// later lets time pass, so that two clicks are two.
func (h *hand) later() { h.now += time.Second }

// button clicks the control with a key.
func (h *hand) button(key string) {
	h.t.Helper()
	for _, hit := range h.frame.Panels.Hits {
		if hit.ID == key && !hit.Ground {
			h.tap(middle(hit.Area))
			return
		}
	}
	require.Fail(h.t, "there is no control "+key)
}

func middle(r image.Rectangle) image.Point { return r.Min.Add(r.Max).Div(2) }

// cue gives where a cue is drawn.
func (h *hand) cue(id timeline.ID) image.Rectangle {
	h.t.Helper()
	for _, hit := range h.a.song.Scene().Hits {
		if hit.Kind == render.HitCue && hit.ID == string(id) {
			return hit.Area
		}
	}
	require.Fail(h.t, "cue is not drawn", "%s", id)
	return image.Rectangle{}
}

// lane gives the area of a lane with a name.
func (h *hand) lane(name string) (timeline.ID, image.Rectangle) {
	h.t.Helper()
	for _, l := range h.a.work.Data.Lanes {
		if l.Name != name {
			continue
		}
		for _, hit := range h.a.song.Scene().Hits {
			if hit.Kind == render.HitLane && hit.ID == string(l.Lane.ID) {
				return l.Lane.ID, hit.Area
			}
		}
	}
	require.Fail(h.t, "lane is not drawn", name)
	return "", image.Rectangle{}
}

// cues gives the cues of a lane by time.
func (h *hand) cues(name string) []render.CueData {
	for _, l := range h.a.work.Data.Lanes {
		if l.Name == name {
			return l.Cues
		}
	}
	return nil
}

// at gives the column of a bar.
func (h *hand) at(bar string) int {
	h.t.Helper()
	p, err := timeline.ParseBarBeat(bar)
	require.NoError(h.t, err)
	return h.a.song.Drawn().X(h.a.work.InView().Beats.At(p))
}

// exampleFiles gives the example show's folder.
func exampleFiles() fs.FS { return example.FS() }

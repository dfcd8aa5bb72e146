package app

import (
	"image"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// aside is where the pointer is on nothing.
var aside = image.Pt(-1, -1)

// pagesKeepApart looks at every page in windows of several sizes and finds no text over another.
func (h *hand) pagesKeepApart(t *testing.T, of string, factors ...int) {
	t.Helper()
	h.move(aside)
	ids := []string{""}
	for i := range h.a.pages {
		ids = append(ids, h.a.pages[i].ID)
	}
	for _, id := range ids {
		h.a.turn(id)
		for _, screen := range screens {
			h.size, h.scale = screen.size, screen.scale
			for _, factor := range factors {
				h.a.prefs.Factor = factor
				h.step()
				h.step()
				if over := overlaps(h.seenTexts()); over != "" {
					t.Errorf("%s, page %q, %v at %d, factor %d: %s", of, id, screen.size, screen.scale, factor, over)
				}
			}
		}
	}
}

// No text lies over another on any page, whatever the size of window and letters and whatever the show holds.
func TestNoTextLiesOverAnotherOnAnyPage(t *testing.T) {
	t.Run("example", func(t *testing.T) {
		h := withExample(t)
		h.a.goNight(h.a.work.Show.Nights[0].ID)
		h.settle()
		h.pagesKeepApart(t, "a night of the example", 100, 175, 250)
	})
	t.Run("empty", func(t *testing.T) {
		h := newHand(t)
		h.a.prefs.Bare = true
		require.NoError(t, h.a.newShow(filepath.Join(t.TempDir(), "mine"), "Mine"))
		h.settle()
		h.pagesKeepApart(t, "an empty show", 100, 250)
	})
	t.Run("failed", func(t *testing.T) {
		h := newHand(t)
		h.dir = filepath.Join(t.TempDir(), "show")
		copyLight(t, h.dir, false) // without recordings
		require.NoError(t, h.a.Open(h.dir))
		h.settle()
		h.a.fail(errFailed)
		h.pagesKeepApart(t, "no recording is there", 100, 250)
	})
	t.Run("many", func(t *testing.T) {
		h := withMany(t)
		h.pagesKeepApart(t, "25 songs of 1,000 cues", 100, 200)
	})
	t.Run("loading", func(t *testing.T) {
		h := withExample(t)
		h.sound().Ready = false
		h.a.jobs = append(h.a.jobs, &job{name: "reading a recording with a long name", stop: func() {}})
		h.pagesKeepApart(t, "a recording is being read", 100, 250)
		h.a.jobs = nil
	})
}

// errFailed is a refusal with many words.
var errFailed = failed("notes.wav is no sound file that can be read: it begins neither as wav nor as flac, mp3 or ogg; the show is as it was before, and nothing is lost")

type failed string

func (f failed) Error() string { return string(f) }

// withMany opens the example's rig with 25 songs of 1,000 cues.
func withMany(t *testing.T) *hand {
	t.Helper()
	h := withExample(t)
	require.True(t, h.a.do(change{"many songs", []timeline.Edit{timeline.Toward(bigShow(t, h.a.work.Show))}}))
	h.a.song.GoSong("big3")
	h.settle()
	return h
}

// Where there is nothing yet, a button leads on: to the first song, and to the first night.
func TestEmptyStatesLeadOn(t *testing.T) {
	h := newHand(t)
	h.a.prefs.Bare = true
	require.NoError(t, h.a.newShow(filepath.Join(t.TempDir(), "mine"), "Mine"))
	h.settle()
	h.step()
	h.button("add-first")
	require.NotNil(t, h.a.dialog, "a recording is asked for")
	h.key("Esc")
	h.a.turn("tonight")
	h.settle()
	h.step()
	h.step()
	h.later()
	h.button("first-night")
	require.Len(t, h.a.work.Show.Nights, 1)
}

package app

import (
	"crypto/sha256"
	"image"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/render/callboard"
	"emberbeat/render/desk/page/calling"
	"emberbeat/render/widget"
	"emberbeat/shows/calls"
	"emberbeat/timeline"
)

// onCall opens the calling view of the example's first night.
func onCall(t *testing.T) (*hand, *calling.View) {
	t.Helper()
	h := withExample(t)
	h.a.ChooseNight(h.a.work.Show.NightsInOrder()[0].ID)
	h.a.song.GoSong(h.a.work.Plan.Songs[0].Song.ID)
	h.settle()
	h.key("C")
	require.Equal(t, calling.ID, h.a.book.at)
	return h, h.a.families[callFamily].State.(*calling.View)
}

// bytes is what of the show is on the disk.
func (h *hand) bytes() map[string][32]byte {
	h.t.Helper()
	all := map[string][32]byte{}
	err := filepath.WalkDir(h.dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".toml" {
			return err
		}
		b, err := os.ReadFile(path)
		all[path] = sha256.Sum256(b)
		return err
	})
	require.NoError(h.t, err)
	return all
}

// No key that there is changes the show while the calling view stands, on the disk
// or in the window, nor does Enter in what a key opens.
func TestNoKeyEditsInTheCallingView(t *testing.T) {
	h, _ := onCall(t)
	show, disk := h.a.work.Session.Show(), h.bytes()
	used := 0
	for mods := widget.Mods(0); mods < 8; mods++ {
		for k := range widget.Key(255) {
			if _, ok := widget.KeyNamed(k.String()); !ok {
				continue
			}
			h.in.Mods = mods
			h.in.Keys = []widget.Press{{Key: k, Mods: mods}}
			h.step()
			h.in.Mods = 0
			h.step()
			if h.a.dialog != nil {
				h.key("Enter")
			}
			for n := 0; h.a.dialog != nil && n < 3; n++ {
				h.key("Esc")
			}
			require.Nil(t, h.a.dialog)
			require.Same(t, show, h.a.work.Session.Show(), "%s edits", widget.Press{Key: k, Mods: mods})
			require.False(t, h.a.Quit())
			h.a.turn(calling.ID)
			h.step()
			used++
		}
	}
	require.Greater(t, used, 400)
	require.Equal(t, disk, h.bytes())
	require.False(t, h.a.work.Session.Dirty())
	for i := range h.a.table {
		c := &h.a.table[i]
		if own, ok := h.a.actOf(c); ok && c.group == "Edit" && c.id != "find" {
			require.NotEmpty(t, own.Off(), c.id)
		}
	}
}

// The view fills the window by night, whatever theme the window has; the theme key
// steps on there and leaves that of the window.
func TestCallingViewFillsTheWindowByNight(t *testing.T) {
	h, _ := onCall(t)
	require.Equal(t, render.Night.Name, h.frame.Theme.Name)
	require.Contains(t, h.said(), callboard.Standing)
	require.Nil(t, h.frame.Song)
	h.key("F9")
	require.Equal(t, render.Day.Name, h.frame.Theme.Name)
	h.key("Esc")
	require.Equal(t, render.Dark.Name, h.frame.Theme.Name)
	require.Empty(t, h.a.book.at)
	h.key("C", "F9", "F9", "Ctrl+Shift+Down")
	require.Equal(t, render.Night.Name, h.frame.Theme.Name)
	require.Equal(t, 95, h.a.prefs.Dim)
}

// It runs from a typed timecode by a clock of its own, counts down to the commands
// of the plan, and stops again; without a clock it counts nothing.
func TestCallingViewRunsFromATypedTimecode(t *testing.T) {
	h, v := onCall(t)
	c := v.Board.Cues[3]
	require.NoError(t, h.a.song.GoTo(v.Board.Song.Label(c.Command-2*timeline.Second)))
	h.step()
	require.False(t, h.a.Moving())
	require.Contains(t, h.said(), "–\n")
	h.key("T")
	require.True(t, h.a.Moving())
	at, runs, source := v.Clock()
	require.True(t, runs)
	require.Contains(t, source, "typed")
	require.NotContains(t, h.said(), "–\n")
	h.later()
	h.a.Move()
	h.step()
	later, _, _ := v.Clock()
	require.InDelta(t, 1.02, (later - at).Seconds(), 0.03)
	require.LessOrEqual(t, v.Moment.In, timeline.Second)
	h.key("T")
	require.False(t, h.a.Moving())
	require.Contains(t, h.said(), "playback stopped here")
}

// Holds and missed cues go to the log of the night, and the form after the show
// offers what would not have been fired.
func TestMarksAreLoggedAndOffered(t *testing.T) {
	h, v := onCall(t)
	shot := -1
	for i := range v.Board.Cues {
		if len(v.Board.Cues[i].Loads) > 0 {
			shot = i
			break
		}
	}
	for n := 1; shot < 0 && n < len(h.a.work.Plan.Songs); n++ {
		h.a.song.GoSong(h.a.work.Plan.Songs[n].Song.ID)
		h.step()
		h.step()
		for i := range v.Board.Cues {
			if len(v.Board.Cues[i].Loads) > 0 {
				shot = i
				break
			}
		}
	}
	require.GreaterOrEqual(t, shot, 0, "the example fires something that is used up")
	c := v.Board.Cues[shot]
	h.a.song.Seek(c.Command - timeline.Second/2)
	h.key("T", "H")
	require.Contains(t, h.said(), "HELD since")
	h.later()
	h.step()
	require.Contains(t, h.said(), "marked missed in this song")
	h.key("H", "T")
	list, err := h.a.Calls()
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(list), 3)
	require.Equal(t, calls.Hold, list[0].Kind)
	require.Equal(t, calls.Release, list[1].Kind)
	require.Equal(t, calls.Missed, list[2].Kind)
	h.key("Backspace")
	again, err := h.a.Calls()
	require.NoError(t, err)
	require.Equal(t, calls.Back, again[len(again)-1].Kind)
	h.key("M")
	h.key("Esc")
	h.a.Use("aftershow")
	h.step()
	require.NotNil(t, h.form())
	text := ""
	for _, r := range h.form().rows {
		if r.arg.Name == "unfired" {
			text = r.value.text
		}
	}
	require.Contains(t, text, c.Loads[0].String())
	require.NoFileExists(t, filepath.Join(h.dir, "calls", "tour.log"))
}

// Pictures of the calling view and the stage in the window, by EMBERBEAT_PICTURES.
func TestCallingPictures(t *testing.T) {
	dir := os.Getenv("EMBERBEAT_PICTURES")
	take := func(h *hand, name string) {
		h.step()
		img := h.picture()
		require.Equal(t, h.size, img.Rect.Size())
		if dir == "" {
			return
		}
		f, err := os.Create(filepath.Join(dir, name+".png"))
		require.NoError(t, err)
		defer f.Close()
		require.NoError(t, png.Encode(f, img))
	}
	h := withExample(t)
	require.NoError(t, h.a.song.GoTo("19.1"))
	h.move(image.Pt(-1, -1))
	take(h, "desk-stage")
	h.key("Shift+F5")
	take(h, "desk-stage-large")
	h, v := onCall(t)
	h.a.song.Seek(v.Board.Cues[6].Command - timeline.Second)
	h.key("T")
	h.size = image.Pt(1366, 768)
	take(h, "desk-calling")
}

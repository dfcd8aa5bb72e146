package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// What would double cues of the same lane at the same place is asked before it is pasted; elsewhere nothing is asked.
func TestPasteAsksWhereItWouldDouble(t *testing.T) {
	h := withExample(t)
	cues := h.cues("Sparks")
	require.NotEmpty(t, cues)
	h.a.work.View().Choose(cues[0].Cue.ID)
	h.key("Ctrl+C")
	before := len(h.a.work.InView().Cues)
	h.key("Ctrl+Shift+V")
	require.NotNil(t, h.a.dialog)
	require.Len(t, h.a.work.InView().Cues, before)
	h.key("Enter")
	require.Nil(t, h.a.dialog, "Enter takes what does no harm")
	require.Len(t, h.a.work.InView().Cues, before)
	h.key("Ctrl+Shift+V", "Esc")
	require.Nil(t, h.a.dialog)
	require.Len(t, h.a.work.InView().Cues, before, "so does Esc")
	h.key("Ctrl+Shift+V")
	h.button("Paste all the same")
	require.Len(t, h.a.work.InView().Cues, before+1, "it is done where that is meant")
	h.key("Ctrl+Z")

	// Where one of two is there already, the other is pasted alone.
	other := h.cues("Jets, lip")[0].Cue.ID
	h.a.work.View().Choose(cues[0].Cue.ID, other)
	h.key("Ctrl+C")
	h.a.work.View().Choose(other)
	h.key("Delete")
	h.key("Ctrl+Shift+V")
	require.NotNil(t, h.a.dialog)
	h.key("Enter")
	require.Len(t, h.a.work.InView().Cues, before)
	require.Nil(t, h.a.dialog)
}

// Quantising leaves arms and conditions where they are, unless nothing else is selected.
func TestQuantiseLeavesWindowsAlone(t *testing.T) {
	h := withExample(t)
	song := h.a.work.InView()
	var window, hit timeline.ID
	for _, c := range song.Cues {
		if l := song.Lane(c.Lane); l != nil && l.Window() {
			window = c.ID
		} else if l != nil {
			hit = c.ID
		}
	}
	require.NotEmpty(t, window)
	off := timeline.AtTime(10*timeline.Second + 137*timeline.Millisecond)
	move := func(d *timeline.Draft) error {
		for _, id := range []timeline.ID{window, hit} {
			c := *d.Show().Song(song.ID).Cue(id)
			c.At = off
			d.Put(song.ID, &c)
		}
		return nil
	}
	require.True(t, h.a.do(change{"off the beat", []timeline.Edit{move}}))
	h.a.work.View().Choose(window, hit)
	h.key("Q")
	require.Equal(t, off, h.a.work.InView().Cue(window).At)
	require.True(t, h.a.work.InView().Cue(hit).At.OnBeat)
	h.a.work.View().Choose(window)
	h.key("Q")
	require.True(t, h.a.work.InView().Cue(window).At.OnBeat, "it was asked for")
}

// A folder that is not there is said to be none, and is not taken for one in which nothing was found.
func TestRelinkSaysNoSuchFolder(t *testing.T) {
	_, err := findByHash(t.Context(), filepath.Join(t.TempDir(), "gone"), map[string]*timeline.Song{})
	require.ErrorContains(t, err, "no such folder")
	_, err = findByHash(t.Context(), t.TempDir(), map[string]*timeline.Song{})
	require.NoError(t, err)
}

// Of a show that another program has open, a second window offers to edit a copy.
func TestSecondWindowEditsACopy(t *testing.T) {
	h := newHand(t)
	dir := filepath.Join(t.TempDir(), "show")
	copyLight(t, dir, false)
	other, err := session.Open(dir, session.Options{})
	require.NoError(t, err)
	defer other.Close()
	require.NoError(t, h.a.Open(dir))
	h.settle()
	h.step()
	require.True(t, h.a.work.Session.ReadOnly())
	h.button("Edit a copy")
	h.settle()
	require.Equal(t, dir+" copy", h.a.work.Session.Dir())
	require.False(t, h.a.work.Session.ReadOnly())
	require.NotEmpty(t, h.a.why(h.a.byID("edit-copy")), "it is edited here")
	require.Equal(t, other.Show().Head.Title, h.a.work.Show.Head.Title)
}

// A button that does harm never has the focus when it is asked: Enter and Esc leave what is there as it is.
func TestDangerousButtonsNeverHaveTheFocus(t *testing.T) {
	h := withExample(t)
	file := filepath.Join(h.dir, "show.toml")
	b, err := os.ReadFile(file)
	require.NoError(t, err)
	other := strings.Replace(string(b), "Copper Weather Tour", "Iron Weather Tour", 1)
	require.NoError(t, os.WriteFile(file, []byte(other), 0o600))
	h.now += 3 * time.Second
	h.step()
	h.step()
	h.a.Use("set")
	for _, key := range []string{"Enter", "Esc"} {
		h.key("Ctrl+S")
		require.IsType(t, &overDialog{}, h.a.dialog)
		h.key(key)
		require.Nil(t, h.a.dialog)
		b, err = os.ReadFile(file)
		require.NoError(t, err)
		require.Equal(t, other, string(b), "%s does not save over it", key)
		require.True(t, h.a.work.Session.Dirty())
	}
	for _, key := range []string{"Enter", "Esc"} {
		h.goes("13.1")
		h.key("I")
		h.goes("15.1")
		h.key("O")
		cues := len(h.a.work.InView().Cues)
		h.key("Shift+Delete")
		require.NotNil(t, h.a.dialog)
		h.key(key)
		require.Nil(t, h.a.dialog)
		require.Len(t, h.a.work.InView().Cues, cues)
	}
}

// The loop shades the columns from its start to its end and no others.
func TestLoopShadesOnlyItsTime(t *testing.T) {
	h := withExample(t)
	tints := func() (list []render.Shape) {
		for _, s := range h.frame.Moving.Shapes {
			if s.Kind == render.KindRect && s.Ink == render.InkFocus && s.Cover < 255 {
				list = append(list, s)
			}
		}
		return list
	}
	require.Empty(t, tints())
	h.goes("13.1")
	h.key("I")
	h.goes("15.1")
	h.key("O")
	for range 2 {
		got := tints()
		require.Len(t, got, 1)
		require.Equal(t, []int{h.at("13.1"), h.at("15.1")}, []int{got[0].Box.Min.X, got[0].Box.Max.X})
		h.key("Z")
		h.key("-")
	}
	h.key("L")
	require.Empty(t, tints(), "one that is off shades nothing")
}

// With the beat strip open, F8 goes from doubt to doubt; with it closed, from finding to finding.
func TestNextFindingGoesToDoubtsOfTheGrid(t *testing.T) {
	h := withExample(t)
	h.key("B")
	require.True(t, h.a.song.Strip().Open())
	h.settle() // what the ear says of it is there, and nothing takes the place of what is set here
	sec := timeline.Second
	h.strip().Doubts = []render.BeatDoubt{{Span: render.Span{From: 5 * sec, To: 8 * sec}, Share: 0.9}, {Span: render.Span{From: 12 * sec, To: 14 * sec}, Share: 0.2}, {Span: render.Span{From: 20 * sec, To: 22 * sec}, Share: 0.6}}
	for _, c := range []struct {
		key string
		at  timeline.Time
	}{{"F8", 5 * sec}, {"F8", 20 * sec}, {"F8", 5 * sec}, {"Shift+F8", 20 * sec}, {"Shift+F8", 5 * sec}} {
		h.key(c.key)
		require.Equal(t, c.at, h.view().Playhead)
		require.Contains(t, h.a.note.text, "beats in doubt")
		require.Nil(t, h.a.chosenFinding())
	}
	h.key("B", "F8")
	require.NotNil(t, h.a.chosenFinding())
}

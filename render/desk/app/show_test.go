package app

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

func TestStartPageOpensTheExample(t *testing.T) {
	h := newHand(t)
	h.button("example")
	h.until(func() bool { return h.a.work != nil && h.a.work.Marks != nil })
	require.Len(t, h.a.work.Setlist(), 4)
	require.Equal(t, []string{h.a.work.Session.Dir()}, h.a.prefs.Recent)
	require.Contains(t, h.a.Title(), "Copper Weather Tour")
}

func TestNewShowThenDropAudio(t *testing.T) {
	h := newHand(t)
	require.NoError(t, h.a.newShow(filepath.Join(t.TempDir(), "mine"), "Mine"))
	h.step()
	require.Nil(t, h.a.work.Data, "a show without songs has a page of its own")
	h.a.Drop([]string{"../../../shows/example/show/audio/slow-matches.ogg"})
	require.Len(t, h.a.jobs, 1)
	h.until(func() bool { return h.a.work.Data != nil && len(h.a.jobs) == 0 })
	require.False(t, h.a.work.InView().Beats.Empty())
	h.key("Ctrl+Z")
	require.Empty(t, h.a.work.Show.Songs)
}

func TestAddingASongCanBeCancelled(t *testing.T) {
	h := newHand(t)
	require.NoError(t, h.a.newShow(filepath.Join(t.TempDir(), "mine"), "Mine"))
	h.a.Drop([]string{"../../../shows/example/show/audio/slow-matches.ogg"})
	h.step()
	h.button("job")
	h.until(func() bool { return len(h.a.jobs) == 0 })
	require.Empty(t, h.a.work.Show.Songs)
}

func TestFileThatIsNoAudioIsRefused(t *testing.T) {
	h := newHand(t)
	require.NoError(t, h.a.newShow(filepath.Join(t.TempDir(), "mine"), "Mine"))
	bad := filepath.Join(t.TempDir(), "notes.wav")
	require.NoError(t, os.WriteFile(bad, []byte("this is text"), 0o600))
	h.a.Drop([]string{bad})
	h.until(func() bool { return len(h.a.jobs) == 0 })
	require.True(t, h.a.note.bad)
	require.Contains(t, h.a.note.text, "notes.wav")
}

func TestQuitAsksAboutUnsavedEdits(t *testing.T) {
	h := withExample(t)
	h.key("Ctrl+Q")
	require.True(t, h.a.Quit(), "nothing to ask about")
	h.a.quit = false
	h.key("M", "Ctrl+Q")
	require.False(t, h.a.Quit())
	h.key("Esc")
	require.Nil(t, h.a.dialog)
	require.False(t, h.a.Quit())
	h.key("Ctrl+Q", "Enter")
	require.True(t, h.a.Quit())
	require.False(t, h.a.work.Session.Dirty(), "Enter saves")
}

func TestUnsavedEditsComeBack(t *testing.T) {
	h := withExample(t)
	h.key("M", "M")
	require.True(t, h.a.work.Session.Dirty())
	h.a.leave() // as after a crash: the journal stays
	require.NoError(t, h.a.Open(h.dir))
	h.step()
	require.NotNil(t, h.a.work.Session.Recovered())
	require.True(t, h.a.work.Session.Dirty())
	h.button("Keep")
	require.Nil(t, h.a.work.Session.Recovered())
	h.key("Ctrl+Z")
	require.True(t, h.log.has("undid add marker"))
}

func TestShowChangedOnDisk(t *testing.T) {
	h := withExample(t)
	h.step()
	file := filepath.Join(h.dir, "show.toml")
	b, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, []byte(strings.Replace(string(b), "Copper Weather Tour", "Iron Weather Tour", 1)), 0o600))
	h.now += 3 * time.Second
	h.step()
	h.step()
	h.settle()
	require.True(t, h.a.work.ChangedOnDisk)
	h.key("M", "Ctrl+S")
	require.False(t, h.a.work.Session.Dirty(), "a song's files can be saved beside a show file that was changed")
	require.True(t, h.a.work.ChangedOnDisk)
	h.a.Use("set")
	h.key("Ctrl+S")
	require.IsType(t, &overDialog{}, h.a.dialog, "what another program wrote is not overwritten unasked")
	h.key("Esc", "Ctrl+Z", "M")
	h.button("Read it again")
	h.until(func() bool { return h.a.work.Marks != nil })
	require.Equal(t, "Iron Weather Tour", h.a.work.Show.Head.Title)
	require.True(t, h.a.work.Session.Dirty(), "the edit was made again on top")
}

func TestMissingAudioIsFoundByContent(t *testing.T) {
	h := withExample(t)
	audio := h.a.work.Session.Recording(&h.a.work.InView().SongHead)
	song := h.a.work.Song
	h.a.leave()
	elsewhere := filepath.Join(t.TempDir(), "renamed by somebody.ogg")
	b, err := os.ReadFile(audio)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(elsewhere, b, 0o600))
	require.NoError(t, os.Remove(audio))
	require.NoError(t, h.a.Open(h.dir))
	h.a.song.GoSong(song)
	h.until(func() bool {
		return h.sound() != nil && h.sound().Err != nil && h.a.work.Marks != nil && h.a.work.Checked()
	})
	require.Contains(t, h.a.song.SoundState(), "the show is safe")
	missing := false
	for _, f := range h.a.work.Findings {
		missing = missing || f.Rule == "audio-missing" || strings.Contains(f.Rule, "audio")
	}
	require.True(t, missing)
	h.a.relink(filepath.Dir(elsewhere))
	h.until(func() bool { return h.sound() != nil && h.sound().Ready && h.sound().Err == nil })
	require.FileExists(t, audio)
}

func TestSecondOpenerLooksOnly(t *testing.T) {
	h := withExample(t)
	other := New(Options{})
	defer other.Close()
	require.NoError(t, other.Open(h.dir))
	require.True(t, other.work.Session.ReadOnly())
	require.Contains(t, needEdit(other), "read-only")
}

func TestFindingsAreGoneToAndFixed(t *testing.T) {
	h := withExample(t)
	fixed := false
	for range h.a.work.Findings {
		h.key("F8")
		f := h.a.chosenFinding()
		require.NotNil(t, f)
		if f.Song != "" {
			require.Equal(t, f.Song, h.a.work.Song)
		}
		if f.Fix != nil && !fixed {
			n := len(h.a.work.Findings)
			rule := f.Rule
			h.key("Ctrl+F8")
			h.until(func() bool { return h.a.work.Checked() })
			require.Less(t, len(h.a.work.Findings), n, rule)
			fixed = true
		}
	}
	require.True(t, fixed, "the example has a finding with a fix")
}

func TestSongsSetsAndNights(t *testing.T) {
	h := withExample(t)
	first := h.a.work.Song
	h.key("Ctrl+PgDn")
	require.NotEqual(t, first, h.a.work.Song)
	h.key("Ctrl+Home")
	require.Equal(t, first, h.a.work.Song)
	require.NotEmpty(t, h.a.work.Show.Nights)
	h.a.Use("night")
	h.step()
	require.NotNil(t, h.a.work.Plan.Night)
	h.a.Use("night")
	h.step()
	require.Nil(t, h.a.work.Plan.Night)
	set := h.a.work.Plan.Set.ID
	h.a.Use("set")
	h.step()
	require.NotEqual(t, set, h.a.work.Plan.Set.ID)
}

func TestInspectorChangesFieldsAndSaysWhatIsValid(t *testing.T) {
	h := withExample(t)
	id := h.cues("Jets, lip")[0].Cue.ID
	h.tap(middle(h.cue(id)))
	h.key("Ctrl+Enter")
	require.True(t, h.a.ui.HasFocus())
	kind := timeline.KindOf("cue")
	refs := h.a.inspected()
	h.a.inspector.Assign(kind.Field("open"), refs, "0.75")
	require.Equal(t, 750*timeline.Millisecond, h.a.work.Session.Show().Song(h.a.work.Song).Cue(id).Open)
	h.a.inspector.Assign(kind.Field("level"), refs, "700")
	require.NotEmpty(t, h.a.inspector.Wrong(kind.Field("level"), refs))
	require.ErrorContains(t, h.a.inspector.Check(kind.Field("at"), refs)("soon"), "soon")
}

// Every kind of record can be listed and every record's fields shown.
func TestEveryRecordCanBeInspected(t *testing.T) {
	h := withExample(t)
	for _, k := range timeline.Kinds() {
		for _, r := range k.List(h.a.work.Show, h.a.work.Song) {
			ref := timeline.Ref{Kind: k.Name, ID: r.RecordID()}
			if k.InSong {
				ref.Song = h.a.work.Song
			}
			h.a.inspector.Open(ref)
			h.step()
			require.Equal(t, ref, h.a.inspected()[0])
		}
	}
}

// A fault in work beside the window is told, and the window goes on.
func TestFaultInAJobIsToldAndSurvived(t *testing.T) {
	h := newHand(t)
	h.a.run("work", func(context.Context, func(float64)) (func(), error) { panic("a bad file") })
	h.until(func() bool { return len(h.a.jobs) == 0 })
	require.Contains(t, h.a.note.text, "a bad file")
}

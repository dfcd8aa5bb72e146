package app

import (
	"context"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
	"emberbeat/shows/example"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// A new recording is compared, what it comes to is shown before anything is done, and
// carrying over is one step; what was set aside comes back by a form.
func TestCarryOverInTheWindow(t *testing.T) {
	h := newHand(t)
	h.dir = filepath.Join(t.TempDir(), "show")
	require.NoError(t, example.CopyTo(h.dir)) // with the music itself
	require.NoError(t, h.a.Open(h.dir))
	in := h.a.work.InView()
	require.NoError(t, h.a.work.Session.Do("one recording alone", func(d *timeline.Draft) error {
		for _, g := range d.Show().Songs {
			if g.ID != in.ID { // they need not be listened to
				head := g.SongHead
				head.Audio = timeline.Audio{}
				d.Put("", &head)
			}
		}
		return nil
	}))
	h.a.work.Refresh()
	pcm, err := audio.Decode(context.Background(), h.a.work.Session.Recording(&in.SongHead), nil)
	require.NoError(t, err)
	var mono []int16
	for i := 0; i < len(pcm.Samples); i += pcm.Channels {
		mono = append(mono, int16(max(-1, min(pcm.Samples[i], 1))*32767))
	}
	edit := filepath.Join(t.TempDir(), "edit.wav")
	require.NoError(t, testsound.WriteWAV16(edit, pcm.Rate, 1, slices.Concat(mono[:20*pcm.Rate], mono[30*pcm.Rate:])))
	was := h.a.work.Session.Show()

	h.a.compareRecording(edit)
	h.until(func() bool { return len(h.a.jobs) == 0 })
	require.IsType(t, &carryDialog{}, h.a.dialog, h.a.note.text)
	d := h.a.dialog.(*carryDialog)
	require.Contains(t, d.lines[0], "edit.wav: \""+in.Title+"\"")
	require.True(t, slices.ContainsFunc(d.lines, func(l string) bool { return strings.HasPrefix(l, "lost") }), d.lines)
	require.Same(t, was, h.a.work.Session.Show(), "nothing is done before somebody says so")
	h.a.carryOver(d)
	h.a.dialog = nil
	h.until(func() bool { return h.a.work.Session.Show() != was && len(h.a.jobs) == 0 })
	song := h.a.work.Session.Show().Song(in.ID)
	require.Equal(t, "audio/edit.wav", song.Audio.Path)
	require.NotEmpty(t, song.Asides)
	require.Len(t, song.Cues, len(in.Cues)-lostCues(song))

	require.Empty(t, needAsides(h.a))
	o := operation.Find("bring-back", "")
	h.a.askBringBack(o)
	h.step()
	var aside *timeline.Aside
	for _, a := range song.Asides {
		if a.Kind == "cue" {
			aside = a
		}
	}
	h.give("aside", string(song.ID)+"/"+string(aside.ID))
	h.button("at")
	h.typed("0:10.0000")
	h.step()
	require.Empty(t, h.form().why())
	h.key("Enter")
	back := h.a.work.Session.Show().Song(in.ID).Cue(aside.Was)
	require.NotNil(t, back)
	require.Equal(t, "0:10.0000", back.At.String())
	require.True(t, h.a.work.Session.Dirty())
	h.a.work.Session.Undo()
	h.a.work.Session.Undo()
	require.Empty(t, timeline.Diff(was, h.a.work.Session.Show()), "carrying over was one step")
}

func lostCues(g *timeline.Song) int {
	n := 0
	for _, a := range g.Asides {
		if a.Kind == "cue" {
			n++
		}
	}
	return n
}

package app

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// A song without a recording plays silently with the clock, and says so.
func TestSongWithoutSoundPlaysWithTheClock(t *testing.T) {
	h := withExample(t)
	a := h.a
	song := timeline.KindOf("song").New(a.work.NewIDs()("song", "")).(*timeline.SongHead)
	song.Title, song.Slug, song.Length = "Quiet", "quiet", 20*timeline.Second
	song.Start = timeline.Timecode{H: 20}
	song.Beats = timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 10)
	require.True(t, a.do(change{"add", []timeline.Edit{func(d *timeline.Draft) error { d.Put("", song); return nil }}}))
	a.song.GoSong(song.ID)
	h.settle()
	a.song.Seek(2 * timeline.Second)
	h.key("Space")
	require.True(t, a.song.Plays())
	require.Contains(t, a.note.text, "no recording")
	h.until(func() bool { return a.song.Heard() > 2*timeline.Second+300*timeline.Millisecond })
	h.key("Space")
	require.False(t, a.song.Plays())
	require.Greater(t, a.work.View().Playhead, 2*timeline.Second)

	// a bar is counted in before it: the playhead waits, and a tap has no place yet
	h.key("Alt+K")
	require.True(t, a.isOn("count-in"))
	at := a.work.View().Playhead
	h.key("Space")
	h.step()
	require.True(t, a.song.Plays())
	require.Equal(t, at, a.song.Heard())
	before := len(a.work.InView().Cues)
	a.Use("tap")
	require.Len(t, a.work.InView().Cues, before)
	h.until(func() bool { return a.song.Heard() > at })
	h.key("Space")
	h.key("Alt+K")
	h.key("Shift+J") // once, for tapping
	require.True(t, a.song.Plays())
	require.False(t, a.isOn("count-in"))
	h.key("Space")
}

// Slower speeds exclude each other, each by its key, and the playhead goes as slowly as the sound.
func TestSlowSpeedsByKey(t *testing.T) {
	h := withExample(t)
	a := h.a
	on := func() []bool { return []bool{a.isOn("half-speed"), a.isOn("three-quarter-speed")} }
	require.Equal(t, []bool{false, false}, on())
	h.key("Ctrl+K")
	require.Equal(t, []bool{false, true}, on())
	h.key("Shift+K")
	require.Equal(t, []bool{true, false}, on())
	h.key("Shift+K")
	require.Equal(t, []bool{false, false}, on())
	h.key("Ctrl+K")
	h.key("Alt+Shift+K")
	require.True(t, a.isOn("cue-ticks"))
	a.song.Seek(10 * timeline.Second)
	begun := time.Now()
	h.key("Space")
	h.until(func() bool { return a.song.Heard() > 10*timeline.Second+600*timeline.Millisecond })
	require.GreaterOrEqual(t, time.Since(begun), 790*time.Millisecond, "0.6 s of it take 0.8 s at the least")
	h.key("Space")
}

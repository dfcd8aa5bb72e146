package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// No edit takes a song's timecode across midnight, wherever it is made; the
// error says from when to when the song can start.
func TestMidnightRefused(t *testing.T) {
	s, err := withNight(t).Edit(ShiftTonight("n1", Shift{Song: "tide", By: 10 * Second}))
	require.NoError(t, err)
	for _, c := range []struct {
		name string
		edit Edit
		want string
	}{
		{"start", set("song", "", "ember", "start", "23:59:30:00"), `song start: "23:59:30:00": crosses midnight: with its pre-roll and length the song can start from 00:00:05:00 to 23:59:00:00`},
		{"start too early", set("song", "", "ember", "start", "00:00:04:24"), `song start: "00:00:04:24": crosses midnight`},
		{"pre-roll", set("song", "", "ember", "pre-roll", "3601"), `song pre-roll: "3601.0000": crosses midnight: with its pre-roll and length the song can start from 01:00:01:00`},
		{"length", set("song", "", "ember", "length", "82801"), `song length: "82801.0000": crosses midnight: with its pre-roll and length the song can start from 00:00:05:00 to 00:59:59:00`},
		{"recording", func(d *Draft) error {
			h := d.show.Song("ember").SongHead
			h.Audio = Audio{Path: "x.wav", Rate: 1000, Frames: 82_801_000}
			d.Put("", &h)
			return nil
		}, `song frames: "82801000": crosses midnight`},
		{"longer than a day", set("song", "", "ember", "length", "90000"), `wherever it starts: pre-roll and length are more than a day`},
		{"a new song", func(d *Draft) error {
			d.Put("", &SongHead{Base: Base{ID: "late"}, Title: "Late", Slug: "late", Start: Timecode{H: 23, M: 59}, Length: 61 * Second})
			return nil
		}, `song start: "23:59:00:00": crosses midnight`},
		{"show pre-roll", set("show", "", "show1", "pre-roll", "7201"), `show pre-roll: "7201.0000": song "Tide" crosses midnight`},
		{"a night's shift", ShiftTonight("n1", Shift{Song: "ember", By: -Hour}), `night shifts: "song=ember by=-3600.0000": crosses midnight: with its pre-roll and length the song can start from 01:00:05:00`},
		{"written by hand", func(d *Draft) error {
			return d.Set(Ref{Kind: "night", ID: "n1"}, "shifts", Value{Items: []string{"song=ember start=23:59:30:00"}})
		}, `night shifts: "song=ember start=23:59:30:00": crosses midnight`},
		{"under a night's shift", set("song", "", "tide", "start", "23:59:25:00"), `song start: "23:59:25:00": crosses midnight on the night "first night", which shifts the song`},
	} {
		next, err := s.Edit(c.edit)
		require.ErrorContains(t, err, c.want, c.name)
		require.Nil(t, next, c.name)
	}
	for name, edit := range map[string]Edit{
		"earliest start": set("song", "", "ember", "start", "00:00:05:00"), "latest start": set("song", "", "ember", "start", "23:59:00:00"),
		"latest under a shift": set("song", "", "tide", "start", "23:59:20:00"), "show pre-roll": set("show", "", "show1", "pre-roll", "7200"),
	} {
		_, err := s.Edit(edit)
		require.NoError(t, err, name)
	}
}

// A show that was loaded with a song across midnight stays editable, as long as
// nothing takes it further across.
func TestMidnightLoaded(t *testing.T) {
	d := NewDraft(withNight(t))
	h := d.show.Song("ember").SongHead
	h.Start = Timecode{H: 23, M: 59, S: 30}
	d.Put("", &h)
	s := d.Show()
	for name, edit := range map[string]Edit{
		"title": set("song", "", "ember", "title", "Embers"), "shorter": set("song", "", "ember", "length", "45"), "mended": set("song", "", "ember", "start", "22:00:00:00"),
		"show title": set("show", "", "show1", "title", "x"), "another song": set("song", "", "tide", "start", "05:00:00:00"), "a cut": CutTonight("n1", Cut{Selector: choice("song", "ember")}),
	} {
		_, err := s.Edit(edit)
		require.NoError(t, err, name)
	}
	_, err := s.Edit(set("song", "", "ember", "length", "61"))
	require.ErrorContains(t, err, `song length: "61.0000": crosses midnight`)
	_, err = s.Edit(set("song", "", "ember", "start", "23:59:31:00"))
	require.ErrorContains(t, err, `song start`)
}

// At every rate, what an edit takes is what the plan says: it claims no frame
// of another day; and one frame beyond what the error names is refused.
func TestMidnightIsThePlansMidnight(t *testing.T) {
	for _, rate := range Rates() {
		base, err := small(t).Edit(set("show", "", "show1", "rate", rate.String()))
		require.NoError(t, err)
		rapid.Check(t, func(rt *rapid.T) {
			h := base.Song("ember").SongHead
			h.PreRoll = Time(rapid.Int64Range(0, 30_0000).Draw(rt, "pre-roll")) * EntryStep
			h.Length = Time(rapid.Int64Range(0, 90_0000).Draw(rt, "length")) * EntryStep
			frame := rapid.OneOf(rapid.Int64Range(0, 1000), rapid.Int64Range(rate.DayFrames()-3000, rate.DayFrames()-1)).Draw(rt, "frame")
			h.Start, _ = rate.Timecode(frame)
			put := func(d *Draft) error { d.Put("", &h); return nil }
			loose := NewDraft(base)
			loose.Put("", &h)
			p := NewCompiler().CompileSong(loose.Show(), "ember", nil).Songs[0]
			_, err := base.Edit(put)
			require.Equal(rt, p.First() >= 0 && p.Last() <= rate.DayFrames(), err == nil, "%v", err)
		})
	}
}

package grid

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// showOf makes a show of one song with a grid and some cues: on lane "a" those that may move, on lane "b" of a lane that is locked.
func showOf(t require.TestingT, m *timeline.BeatMap, places ...string) *timeline.Show {
	head := *timeline.KindOf("song").New("song").(*timeline.SongHead)
	head.Title, head.Slug, head.Length, head.Beats = "Kettle", "kettle", timeline.Minute, m
	recs := []timeline.Record{&timeline.Lane{Base: timeline.Base{ID: "a"}, Target: "jet", Role: timeline.EffectSlot},
		&timeline.Lane{Base: timeline.Base{ID: "b"}, Target: "jet", Role: timeline.EffectSlot, Locked: true}}
	for i, p := range places {
		at, err := timeline.ParseMoment(p)
		require.NoError(t, err)
		recs = append(recs, &timeline.Cue{Base: timeline.Base{ID: timeline.ID(rune('k' + i))}, Lane: "a", At: at})
	}
	recs = append(recs,
		&timeline.Cue{Base: timeline.Base{ID: "locked"}, Lane: "a", At: bar(t, "3.2"), Locked: true},
		&timeline.Cue{Base: timeline.Base{ID: "locked-lane"}, Lane: "b", At: bar(t, "3.3")},
		&timeline.Section{Base: timeline.Base{ID: "verse"}, Name: "Verse", At: bar(t, "5.1"), To: bar(t, "9.1")},
		&timeline.Marker{Base: timeline.Base{ID: "mark"}, Name: "stop", At: bar(t, "7.1")},
		&timeline.Phrase{Base: timeline.Base{ID: "run"}, Lane: "a", Group: "jet", Shape: timeline.Chase, Order: timeline.OrderAll, At: bar(t, "5.1"), Until: bar(t, "6.1"), Every: timeline.Stride{Beats: timeline.NewRat(1, 2)}})
	show, err := timeline.NewShow("s", "Show", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", timeline.KindOf("placed").New("jet"), &head)
		d.Put("song", recs...)
		return nil
	})
	require.NoError(t, err)
	return show
}

func bar(t require.TestingT, text string) timeline.Moment {
	at, err := timeline.ParseMoment(text)
	require.NoError(t, err)
	return at
}

func TestWhatMovesAndWhatStays(t *testing.T) {
	show := showOf(t, mapOf(t, even), "1.1", "2.3+1/2", "4.1", "0:12.5", "0:20.0")
	for _, c := range []struct {
		c                 Correction
		moving, remaining string
		at                map[timeline.ID]string
	}{
		{Correction{Kind: Shift, Beats: timeline.NewRat(1, 2)}, "3 cues move by 250 ms", "4 stay: 2 are pinned to time, 2 are locked",
			map[timeline.ID]string{"k": "1.1", "l": "2.3+1/2", "n": "0:12.5000", "locked": "3.1+1/2", "locked-lane": "3.2+1/2"}},
		{Correction{Kind: Double}, "no cue moves", "7 stay: 3 keep their sound, 2 are pinned to time, 2 are locked",
			map[timeline.ID]string{"k": "1.1", "l": "4.2", "m": "7.1", "locked": "5.3"}},
		{Correction{Kind: Double, Cues: WithBeats}, "2 cues move by 1625 to 3000 ms", "5 stay: 2 are pinned to time, 2 are locked, 1 is on a beat that stays",
			map[timeline.ID]string{"l": "2.3+1/2", "m": "4.1", "locked": "5.3"}},
		{Correction{Kind: Line, Bar: 4, At: seconds(7.2), Reach: After}, "1 cue moves by 200 ms", "6 stay: 2 are pinned to time, 2 are locked, 2 are on beats that stay",
			map[timeline.ID]string{"m": "4.1", "locked": "3.1+2909/3200"}},
		{Correction{Kind: Metre, Metre: timeline.Metre{Num: 3, Den: 4}}, "no cue moves", "7 stay: 3 keep their sound, 2 are pinned to time, 2 are locked",
			map[timeline.ID]string{"m": "5.1", "locked": "4.1"}},
	} {
		x, err := Correct(show, "song", c.c)
		require.NoError(t, err, c.c.String())
		require.Equal(t, c.moving, x.Moving(), c.c.String())
		require.Equal(t, c.remaining, x.Remaining(), c.c.String())
		after, err := show.Edit(x.Edit())
		require.NoError(t, err)
		for id, want := range c.at {
			require.Equal(t, want, after.Song("song").Cue(id).At.String(), "%s: %s", &c.c, id)
		}
	}
}

// Sections, markers and phrases go as cues do, and the steps of a phrase count the new beats.
func TestWhatElseStandsOnBeats(t *testing.T) {
	show := showOf(t, mapOf(t, even))
	x, err := Correct(show, "song", Correction{Kind: Double})
	require.NoError(t, err)
	after, err := show.Edit(x.Edit())
	require.NoError(t, err)
	g := after.Song("song")
	require.Equal(t, "9.1", g.Sections[0].At.String())
	require.Equal(t, "17.1", g.Sections[0].To.String())
	require.Equal(t, "13.1", g.Markers[0].At.String())
	require.Equal(t, "9.1", g.Phrases[0].At.String())
	require.Equal(t, "11.1", g.Phrases[0].Until.String())
	require.Equal(t, timeline.NewRat(1, 1), g.Phrases[0].Every.Beats)
}

// Whatever is corrected: what is locked, pinned or only counted anew keeps its instant to a twentieth of a millisecond, and taking back the
// edit gives the show as it was.
func TestInstantsThatAreSaidToStayDo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMap(t)
		if m.Anchors()[0].Bar > 1 {
			t.Skip("no bar 1")
		}
		show := showOf(t, m, "1.1", "2.2", "6.1+1/3", "0:12.5")
		list := []Correction{
			{Kind: Double}, {Kind: Half}, {Kind: ThreeTwo}, {Kind: TwoThree}, {Kind: Shift, Beats: timeline.NewRat(1, 1)}, {Kind: Shift, Beats: timeline.NewRat(-1, 2)},
			{Kind: BarOne, At: seconds(4)}, {Kind: Line, Bar: 3, At: m.BarStart(3) + timeline.Second/50, Reach: After}, {Kind: Split, At: seconds(6)},
			{Kind: Metre, Metre: timeline.Metre{Num: 3, Den: 4}},
		}
		var some []Correction
		for range rapid.IntRange(1, 3).Draw(t, "how many") {
			some = append(some, rapid.SampledFrom(list).Draw(t, "correction"))
		}
		x, err := Correct(show, "song", some...)
		if err != nil {
			t.Skip(err)
		}
		counts := true
		for i := range some {
			counts = counts && some[i].Counts()
		}
		after, err := show.Edit(x.Edit())
		require.NoError(t, err)
		for _, v := range x.Moves {
			got, ok := after.Song("song").Cue(v.Cue.ID).At.In(after.Song("song").Beats)
			require.True(t, ok)
			require.Equal(t, v.Is, got)
			if counts || v.Stays == Locked || v.Stays == Pinned || v.Cue.Locked {
				require.Less(t, max(v.By(), -v.By()), timeline.EntryStep, "%s: cue at %s\n%s\n%s", Said(some), v.Cue.At, written(m), written(x.Beats))
			}
		}
	})
}

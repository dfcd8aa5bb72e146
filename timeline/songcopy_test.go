package timeline

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseBars(t *testing.T) {
	for text, want := range map[string]Bars{"9..16": {9, 16}, "9-16": {9, 16}, " 9 .. 16 ": {9, 16}, "9": {9, 9}, "-1..2": {-1, 2}, "-1-2": {-1, 2}} {
		got, err := ParseBars(text)
		require.NoError(t, err, text)
		require.Equal(t, want, got, text)
		again, err := ParseBars(got.String())
		require.NoError(t, err)
		require.Equal(t, got, again)
	}
	for _, text := range []string{"", "a", "9..", "..9", "9..4", "9.5", "99999999999"} {
		_, err := ParseBars(text)
		require.ErrorContains(t, err, "write the first and the last, such as 9..16", text)
	}
}

// copying is the small show with beats and sections in both songs: "Tide" at 96 a
// minute with its bar 5 in three, its chorus of two bars.
func copying(t testing.TB) *Show {
	t.Helper()
	beats, err := NewBeatMap([]Anchor{{Bar: 1, At: 0, Metre: Metre{4, 4}}, {Bar: 5, At: 10 * Second, Metre: Metre{3, 4}}, {Bar: 6, At: FromMillis(11875), Metre: Metre{4, 4}}, {Bar: 13, At: FromMillis(29375)}})
	require.NoError(t, err)
	s, err := small(t).Edit(func(d *Draft) error {
		h := d.Show().Song("tide").SongHead
		h.Beats = beats
		d.Put("", &h)
		d.Put("ember", &Section{Base: Base{ID: "s1"}, Name: "Chorus", At: AtBar(BarBeat{Bar: 9})}, &Section{Base: Base{ID: "s2"}, Name: "Verse", At: AtBar(BarBeat{Bar: 13})})
		d.Put("tide", &Section{Base: Base{ID: "s1"}, Name: "chorus", At: AtBar(BarBeat{Bar: 8}), To: AtBar(BarBeat{Bar: 10})},
			&Section{Base: Base{ID: "s2"}, Name: "chorus", At: AtBar(BarBeat{Bar: 10})})
		return nil
	})
	require.NoError(t, err)
	return s
}

// told writes what a copy comes to, a line for each cue.
func told(x *SongCopied) []string {
	var list []string
	for _, c := range x.Cues {
		list = append(list, fmt.Sprintf("%s %s > %s open %s", c.From.ID, c.Was, c.Cue.At, c.Cue.Open))
	}
	for _, n := range x.Not {
		list = append(list, fmt.Sprintf("%s: %s", n.Cue.ID, n.Why))
	}
	return append(list, x.Notes...)
}

func TestCopyCuesByBars(t *testing.T) {
	s := copying(t)
	x, err := s.CopyOf(SongCopy{From: "ember", To: "tide", Bars: &Bars{3, 11}})
	require.NoError(t, err)
	require.Equal(t, []string{
		"q1 3.1 > 3.1 open 0.0000",
		"q4 0:18.0100 > 0:21.8875 open 4.9875", // the arm window, on the beats of the other song, to the end of the bars
		"q3 0:20.0000 > 0:24.3750 open 0.8000",
		"q2: bar 5 is in 4/4, and bar 5 there in 3/4",
	}, told(x))
	require.Len(t, x.Lanes, 2, "flames and their arm")

	next, err := s.Edit(s.CopyCues(SongCopy{From: "ember", To: "tide", Bars: &Bars{3, 11}}, counted()))
	require.NoError(t, err)
	require.Len(t, next.Song("tide").Cues, 4)
	require.Contains(t, hitsIn(Compile(next, nil), "tide"), "24.3750 f2 flame open 0.8000")
	require.Contains(t, hitsIn(Compile(next, nil), "tide"), "arm 21.8875..26.8750")
	require.Same(t, s.Song("ember"), next.Song("ember"))

	again, err := next.CopyOf(SongCopy{From: "ember", To: "tide", Bars: &Bars{3, 11}})
	require.NoError(t, err)
	require.Empty(t, again.Cues, "nothing is placed twice")
	require.Equal(t, "a cue stands there already", again.Not[0].Why)
	_, err = next.Edit(next.CopyCues(SongCopy{From: "ember", To: "tide", Bars: &Bars{3, 11}}, counted()))
	require.ErrorContains(t, err, `no cue of "Ember" can be copied: a cue stands there already`)
}

func TestCopyCuesBySection(t *testing.T) {
	s := copying(t)
	x, err := s.CopyOf(SongCopy{From: "ember", To: "tide", Section: "Chorus"})
	require.NoError(t, err)
	require.Equal(t, []string{
		"q4 0:18.0100 > 0:19.3875 open 2.4875", // ends with the section, which is shorter
		`q3: section "Chorus" has only 2 bars there`,
		`1 of 2 sections "Chorus" of "Tide" get nothing: "Ember" has 1`,
	}, told(x))
	x, err = s.CopyOf(SongCopy{From: "ember", To: "ember", Section: "Chorus", ToSection: "verse"})
	require.NoError(t, err)
	require.Equal(t, []string{"q4 0:18.0100 > 0:26.0100 open 4.0000", "q3 0:20.0000 > 0:28.0000 open 0.8000"}, told(x), "elsewhere in the same song")
}

func TestCopyCuesRefused(t *testing.T) {
	s := copying(t)
	for want, c := range map[string]SongCopy{
		"{bars}, or those of a {section}": {From: "ember", To: "tide"},
		"goes with {section}":             {From: "ember", To: "tide", Bars: &Bars{1, 2}, ToSection: "x"},
		"{at} goes with {bars}":           {From: "ember", To: "tide", Section: "Chorus", At: 4},
		"onto themselves":                 {From: "ember", To: "ember", Bars: &Bars{1, 2}},
		"onto itself":                     {From: "ember", To: "ember", Section: "Chorus"},
		`song "Tide" has no section "Verse" (it has "chorus")`: {From: "ember", To: "tide", Section: "Verse"},
		`has no lane "nine"`: {From: "ember", To: "tide", Bars: &Bars{1, 2}, Lanes: []ID{"nine"}},
	} {
		_, err := s.CopyOf(c)
		require.ErrorContains(t, err, want)
	}
	_, err := small(t).CopyOf(SongCopy{From: "ember", To: "tide", Bars: &Bars{1, 2}})
	require.ErrorContains(t, err, `song "Tide" has no beat map`)
}

// TestCopiesKeepTheirBeat copies any bars anywhere: what is placed stands on the same
// beat of the same bar of the run, inside the song, and every cue of the run is either
// placed or told.
func TestCopiesKeepTheirBeat(t *testing.T) {
	s := copying(t)
	from, to := s.Song("ember"), s.Song("tide")
	rapid.Check(t, func(t *rapid.T) {
		b := Bars{First: rapid.IntRange(-2, 31).Draw(t, "first")}
		b.Last = b.First + rapid.IntRange(0, 20).Draw(t, "bars")
		c := SongCopy{From: "ember", To: "tide", Bars: &b, At: rapid.IntRange(1, 14).Draw(t, "at")}
		x, err := s.CopyOf(c)
		require.NoError(t, err)
		seen := map[ID]bool{}
		for _, q := range x.Cues {
			seen[q.From.ID] = true
			hit, ok := q.Cue.At.In(to.Beats)
			require.True(t, ok && hit >= 0 && hit < to.Duration())
			was, _ := q.From.At.In(from.Beats)
			p, o := from.Beats.Locate(was), to.Beats.Locate(hit)
			if p.Bar < b.First {
				continue // a window that was up before
			}
			require.Equal(t, p.Bar-b.First, o.Bar-c.At)
			require.InDelta(t, float64(p.Beat.num)/float64(p.Beat.Den()), float64(o.Beat.num)/float64(o.Beat.Den()), 0.002)
		}
		for _, n := range x.Not {
			require.False(t, seen[n.Cue.ID])
			seen[n.Cue.ID] = true
			require.NotEmpty(t, n.Why)
		}
		for _, q := range from.Cues {
			if at, _ := q.At.In(from.Beats); at >= from.Beats.BarStart(b.First) && at < from.Beats.BarStart(b.Last+1) {
				require.True(t, seen[q.ID], q.ID)
			}
		}
	})
}

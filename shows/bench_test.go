package shows_test

import (
	"fmt"
	"testing"

	"emberbeat/shows"
	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

// bigShow is a tour of so many songs with so many cues each, on 20 lanes.
func bigShow(tb testing.TB, songs, cues int) *timeline.Show {
	tb.Helper()
	s := timeline.NewShow("big", "Gravel and Tin", timeline.Rate25)
	d := timeline.NewDraft(s)
	d.Put("", &timeline.Article{Base: timeline.Base{ID: "jet"}, Name: "CO2 jet", Family: timeline.CO2Jet, HitPoint: timeline.FullEffect, Control: timeline.SlotControl})
	beats := timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 128)
	for i := range songs {
		id := timeline.ID(fmt.Sprintf("song-%02d", i))
		head := timeline.KindOf("song").New(id).(*timeline.SongHead)
		head.Title, head.Slug, head.Beats = fmt.Sprintf("Song %d", i), string(id), beats
		head.Length, head.Start = 4*timeline.Minute, timeline.Timecode{H: uint8(i % 24)}
		d.Put("", head)
		recs := make([]timeline.Record, 0, cues+20)
		for l := range 20 {
			lane := timeline.KindOf("lane").New(timeline.ID(fmt.Sprintf("lane-%02d", l))).(*timeline.Lane)
			lane.Name = fmt.Sprintf("Lane %d", l)
			recs = append(recs, lane)
		}
		for c := range cues {
			recs = append(recs, &timeline.Cue{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("c%05d", c))},
				Lane: timeline.ID(fmt.Sprintf("lane-%02d", c%20)), Open: timeline.Second / 2,
				At: timeline.AtBar(timeline.BarBeat{Bar: 1 + c/8, Beat: timeline.NewRat(int64(c%8), 2)})})
		}
		d.Put(id, recs...)
	}
	return d.Show()
}

func BenchmarkLoad25SongsOf1000Cues(b *testing.B) {
	dir := b.TempDir()
	require.NoError(b, shows.Create(dir, bigShow(b, 25, 1000)))
	b.ResetTimer()
	for range b.N {
		_, err := shows.Load(dir)
		require.NoError(b, err)
	}
}

func BenchmarkSave25SongsOf1000CuesFromNothing(b *testing.B) {
	show := bigShow(b, 25, 1000)
	for range b.N {
		require.NoError(b, shows.Create(b.TempDir(), show))
	}
}

func BenchmarkSaveAfterOneEdit(b *testing.B) {
	dir := b.TempDir()
	b.Setenv(shows.StateEnv, b.TempDir())
	show := bigShow(b, 25, 1000)
	require.NoError(b, shows.Create(dir, show))
	b.ResetTimer()
	for i := range b.N {
		next, err := show.Edit(func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "cue", Song: "song-07", ID: "c00500"}, "note", timeline.Value{Text: fmt.Sprint(i)})
		})
		require.NoError(b, err)
		require.NoError(b, shows.Save(dir, next, show))
		show = next
	}
}

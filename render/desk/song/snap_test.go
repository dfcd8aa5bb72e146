package song

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// Pasting keeps distances in beats from song to song, whatever the tempo.
func TestPasteInAnotherTempo(t *testing.T) {
	make := func(id timeline.ID, beat timeline.Time) *timeline.Song {
		return &timeline.Song{SongHead: timeline.SongHead{Base: timeline.Base{ID: id}, Slug: string(id),
			Beats: timeline.SteadyBeatMap(0, beat, timeline.Metre{Num: 4, Den: 4}, 100)}, Lanes: []*timeline.Lane{{Base: timeline.Base{ID: "l"}, Target: "t", Role: timeline.EffectSlot}}}
	}
	from, to := make("a", timeline.Second/2), make("b", timeline.Second/3)
	at := func(s string) timeline.Moment {
		m, err := timeline.ParseMoment(s)
		require.NoError(t, err)
		return m
	}
	cues := []*timeline.Cue{{Base: timeline.Base{ID: "1"}, Lane: "l", At: at("3.1"), Locked: true}, {Base: timeline.Base{ID: "2"}, Lane: "l", At: at("4.2+1/2")}}
	n := 0
	ids := func(string, timeline.ID) timeline.ID { n++; return timeline.ID(rune('a' + n)) }
	c := newClip(from, cues)
	require.Equal(t, "11.3", c.moved(cues[0], to, to.Beats.At(at("11.3").Bar)).String())
	require.Equal(t, "12.4+1/2", c.moved(cues[1], to, to.Beats.At(at("11.3").Bar)).String())
	made, new, err := c.paste(to, 0, ids)
	require.NoError(t, err)
	require.Len(t, new, 2)
	show, err := timeline.NewShow("s", "s", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", timeline.KindOf("placed").New("t"), &to.SongHead)
		d.Put("b", to.Lanes[0])
		return nil
	})
	require.NoError(t, err)
	show, err = show.Edit(made.edits...)
	require.NoError(t, err)
	for _, id := range new {
		require.False(t, show.Song("b").Cue(id).Locked, "a copy may be moved to where it belongs")
	}
}

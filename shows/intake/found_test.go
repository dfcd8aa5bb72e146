package intake_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/intake"
	"emberbeat/timeline"
)

// empty is a show with one song that has a section and a marker.
func empty(t testing.TB) *timeline.Show {
	t.Helper()
	s, err := timeline.NewShow("show1", "Tour", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.SongHead{Base: timeline.Base{ID: "ember"}, Title: "Ember", Slug: "ember", Length: timeline.Minute})
		d.Put("ember", &timeline.Section{Base: timeline.Base{ID: "old"}, Name: "old", At: timeline.AtTime(0)},
			&timeline.Marker{Base: timeline.Base{ID: "mark"}, Name: "mark", At: timeline.AtTime(timeline.Second)})
		return nil
	})
	require.NoError(t, err)
	return s
}

func putInto(t testing.TB, f *intake.Found) *timeline.Song {
	t.Helper()
	s, n := empty(t), 0
	s, err := s.Edit(f.Edit(s.Song("ember"), func(kind string) timeline.ID {
		n++
		return timeline.ID(fmt.Sprintf("%s%d", kind[:1], n))
	}))
	require.NoError(t, err)
	return s.Song("ember")
}

// Beat map, start and sections replace the song's; markers come to those that
// are there; what is there already comes once.
func TestEdit(t *testing.T) {
	start := timeline.Timecode{H: 2}
	f := &intake.Found{Beats: timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{}, 8), Start: &start,
		Sections: []intake.Named{{Name: "Verse", At: timeline.AtTime(0)}, {Name: "Verse", At: timeline.AtTime(0)}},
		Markers:  []intake.Named{{Name: "mark", At: timeline.AtTime(timeline.Second)}, {Name: "go", At: timeline.AtTime(timeline.Second)}}}
	require.False(t, f.Empty())
	g := putInto(t, f)
	require.True(t, g.Beats.Equal(f.Beats))
	require.Equal(t, start, g.Start)
	require.Len(t, g.Sections, 1)
	require.Equal(t, "Verse", g.Sections[0].Name)
	require.Len(t, g.Markers, 2)

	// Without sections the song keeps its own.
	g = putInto(t, &intake.Found{})
	require.Equal(t, "old", g.Sections[0].Name)
	require.True(t, (&intake.Found{}).Empty())
}

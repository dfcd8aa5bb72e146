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

// Names in other files may hold what no show keeps: they come in clean, and the
// file is not refused for them.
func TestNamesComeInClean(t *testing.T) {
	// A MIDI file of one track: tempo, then a marker whose text is Windows-1252,
	// where 0x85 stands for three dots, and one that turns the writing around.
	track := "\x00\xff\x51\x03\x07\xa1\x21\x00\xff\x06\x05wait\x85\x60\xff\x06\x06go\xe2\x80\xaeX\x00\xff\x2f\x00"
	file := "MThd\x00\x00\x00\x06\x00\x00\x00\x01\x00\x60MTrk\x00\x00\x00" + string(rune(len(track))) + track
	m, err := intake.ReadMIDI([]byte(file))
	require.NoError(t, err)
	f, err := m.Found()
	require.NoError(t, err)
	g := putInto(t, f)
	var names []string
	for _, s := range g.Sections {
		names = append(names, s.Name)
	}
	for _, s := range g.Markers {
		names = append(names, s.Name)
	}
	require.Subset(t, names, []string{"wait", "goX"})

	mode := &intake.GDTFMode{Name: "One", Channels: []intake.GDTFChannel{{Break: 1, Addresses: []int{1}, Attribute: "Dim\u202emer", Instance: 1}}}
	typ, notes, err := (&intake.GDTF{Maker: "M", Name: "Head\u0085", Modes: []intake.GDTFMode{*mode}}).DeviceType(mode, nil)
	require.NoError(t, err)
	require.Equal(t, "M Head", typ.Name)
	require.Equal(t, "Dimmer", typ.Slots[0].Name)
	require.Contains(t, notes, "Names were cleaned of characters that no show keeps.")
}

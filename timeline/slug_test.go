package timeline

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestSlugOf(t *testing.T) {
	for _, c := range [][2]string{
		{"Ember", "ember"}, {"First Song", "first-song"}, {"  What?! (live)  ", "what-live"}, {"Nuit d'été", "nuit-dete"}, {"Straße Nr. 7", "strasse-nr-7"},
		{"", ""}, {"火", ""}, {"-", ""}, {strings.Repeat("ab ", 30), "ab-ab-ab-ab-ab-ab-ab-ab-ab-ab-ab-ab-ab-a"},
	} {
		require.Equal(t, c[1], SlugOf(c[0]))
	}
}

// Any text gives a slug that can be stored and that no other song has.
func TestFreeSlug(t *testing.T) {
	s := small(t)
	k := KindOf("song")
	require.Equal(t, "ember-2", s.FreeSlug(k, "Ember"))
	require.Equal(t, "song", s.FreeSlug(k, "火"))
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		show := s
		for range 3 {
			slug := show.FreeSlug(k, text)
			require.True(t, ID(slug).Valid(), slug)
			next, err := show.Edit(func(d *Draft) error {
				d.Put("", &SongHead{Base: Base{ID: ID(slug + "x")[:min(len(slug)+1, 40)]}, Slug: slug})
				return nil
			})
			require.NoError(t, err)
			show = next
		}
	})
}

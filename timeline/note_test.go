package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A version that plays the cues of another song has notes of its own, and not that
// one's; notes are neither played nor do they change what is.
func TestNotesOfAVersion(t *testing.T) {
	s, err := NewShow("s", "S", Rate25).Edit(func(d *Draft) error {
		d.Put("", &SongHead{Base: Base{ID: "base"}, Title: "Ember", Slug: "ember", Length: Minute},
			&SongHead{Base: Base{ID: "edit"}, Title: "Ember", Version: "edit", Slug: "ember-edit", VersionOf: "base", Shares: true, Length: Minute},
			&Set{Base: Base{ID: "set"}, Name: "set", Entries: []Entry{{Song: "edit"}}})
		return nil
	})
	require.NoError(t, err)
	before := Compile(s, nil).Text()
	s, err = s.Edit(func(d *Draft) error {
		d.Put("base", &Note{Base: Base{ID: "n1"}, Text: "of the song", At: AtTime(Second)})
		d.Put("edit", &Note{Base: Base{ID: "n2"}, Text: "of the version", At: AtTime(Second)})
		return nil
	})
	require.NoError(t, err)
	p := Compile(s, nil)
	require.Len(t, p.Songs[0].Song.Notes, 1)
	require.Equal(t, "open: of the version", p.Songs[0].Song.Notes[0].Said())
	require.Equal(t, before, p.Text())
}

package testshow

import (
	"strconv"
	"strings"
	"unicode"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// Renamed gives the records of a show other names: each its own, one for several,
// or none.
func Renamed(t *rapid.T, s *timeline.Show) *timeline.Show {
	out, err := s.Edit(func(d *timeline.Draft) error {
		rename := func(song timeline.ID, k *timeline.Kind) {
			if k.Field("name") == nil {
				return
			}
			for i, r := range k.List(s, song) {
				name := rapid.SampledFrom([]string{"", "Twin", "Nr " + strconv.Itoa(i+1)}).Draw(t, k.Name)
				require.NoError(t, d.Set(timeline.Ref{Kind: k.Name, Song: song, ID: r.RecordID()}, "name", timeline.Value{Text: name}))
			}
		}
		for _, k := range timeline.Kinds() {
			switch {
			case k.Name == "ruleset":
			case !k.InSong:
				rename("", k)
			default:
				for _, g := range s.Songs {
					rename(g.ID, k)
				}
			}
		}
		return nil
	})
	require.NoError(t, err)
	return out
}

// Known are ids of records that are no words by themselves.
type Known map[string]bool

// In gives the first id that stands in a text as a word, or "".
func (ids Known) In(text string) string {
	for _, word := range strings.FieldsFunc(text, func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) && c != '-' }) {
		if ids[word] {
			return word
		}
	}
	return ""
}

// IDs gives the ids of a show's records that are no words by themselves.
func IDs(s *timeline.Show) Known {
	ids := Known{}
	add := func(k *timeline.Kind, song timeline.ID) {
		for _, r := range k.List(s, song) {
			if id := string(r.RecordID()); strings.ContainsAny(id, "0123456789") && id != "show1" || strings.HasPrefix(id, "l") {
				ids[id] = true
			}
		}
	}
	for _, k := range timeline.Kinds() {
		switch {
		case k.Name == "setting" || k.Name == "position":
		case !k.InSong:
			add(k, "")
		default:
			for _, g := range s.Songs {
				add(k, g.ID)
			}
		}
	}
	return ids
}

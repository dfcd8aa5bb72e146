package page

import (
	"slices"
	"strings"

	"emberbeat/timeline"
)

// Choices gives the records that a field can name, by id and by name; the first is none.
func Choices(s *timeline.Show, f *timeline.Field, song timeline.ID) (ids, names []string) {
	ids, names = []string{""}, []string{"none"}
	called := s.Names()
	for _, name := range f.Ref {
		k := timeline.KindOf(name)
		if k == nil || k.InSong && song == "" {
			continue
		}
		type entry struct{ id, name string }
		var list []entry
		for _, r := range k.List(s, song) {
			text := called.Called(song, r)
			if len(f.Ref) > 1 {
				text += "  (" + k.Name + ")"
			}
			list = append(list, entry{string(r.RecordID()), text})
		}
		slices.SortFunc(list, func(a, b entry) int { return strings.Compare(a.name, b.name) })
		for _, e := range list {
			ids, names = append(ids, e.id), append(names, e.name)
		}
	}
	return ids, names
}

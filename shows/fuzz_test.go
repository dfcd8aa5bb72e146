package shows_test

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"emberbeat/shows"
	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

// fuzzFiles are the files of a show that a fuzzed text may stand for.
var fuzzFiles = []string{"show.toml", "stock.toml", "rig.toml", "rules.toml", "venues/boatshed-hall.toml", "nights/fennmoor.toml",
	"songs/ember/song.toml", "songs/ember/cues.toml", ".saving"}

// FuzzLoad loads a show with any text in one of its files. It must not panic;
// what loads must survive saving and loading, and the second save must change
// no byte.
func FuzzLoad(f *testing.F) {
	base := map[string]string{}
	for _, name := range fuzzFiles[:8] {
		for _, dir := range []string{"untidy", "tidy"} {
			b, err := os.ReadFile(filepath.Join("testdata", dir, name))
			require.NoError(f, err)
			base[name] = string(b)
			f.Add(uint(slices.Index(fuzzFiles, name)), string(b))
		}
	}
	f.Add(uint(8), "emberbeat save 1\nput show.toml\nsum \n")
	f.Fuzz(func(t *testing.T, file uint, text string) {
		m := memoryOf(base)
		m.files[fuzzFiles[file%uint(len(fuzzFiles))]] = []byte(text)
		l, err := shows.LoadFrom(m)
		if err != nil {
			var bad *shows.UnreadableError
			if errors.As(err, &bad) {
				require.NotEmpty(t, bad.Problems)
				for _, p := range bad.Problems {
					require.NotEmpty(t, p.File)
					require.NotEmpty(t, p.What)
				}
			}
			return
		}
		if _, err := shows.SaveTo(m, l.Show, nil, shows.SaveOptions{}); err != nil {
			require.ErrorContains(t, err, "cannot be stored")
			return
		}
		again, err := shows.LoadFrom(m)
		require.NoError(t, err, "what was saved does not load:\n%s", m.dump())
		saved, err := shows.SaveTo(m, again.Show, nil, shows.SaveOptions{})
		require.NoError(t, err)
		require.Empty(t, saved.Written, "a second save changes bytes:\n%s", m.dump())
		if diff := sameModel(l.Show, again.Show); len(diff) > 0 {
			t.Fatalf("%v\n%s", diff[0], m.dump())
		}
	})
}

// sameModel compares two shows without what their files say beyond the model:
// comments may move from a place where the canonical form has no room.
func sameModel(a, b *timeline.Show) timeline.Changes {
	return timeline.Diff(bare(a), bare(b))
}

func bare(s *timeline.Show) *timeline.Show {
	d := timeline.NewDraft(s)
	for _, k := range timeline.Kinds() {
		songs := []timeline.ID{""}
		if k.InSong {
			songs = nil
			for _, g := range s.Songs {
				songs = append(songs, g.ID)
			}
		}
		for _, song := range songs {
			for _, r := range k.List(s, song) {
				c := k.Clone(r)
				timeline.SetKept(c, nil)
				d.Put(song, c)
			}
		}
	}
	return d.Show()
}

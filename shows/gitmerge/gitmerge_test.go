package gitmerge_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows"
	"emberbeat/shows/gitmerge"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/merge"
	"emberbeat/timeline/testtool"
)

// files writes a show and gives its files by name.
func files(t require.TestingT, dir string, s *timeline.Show) map[string][]byte {
	require.NoError(t, os.MkdirAll(dir, 0o755))
	_, err := shows.SaveTo(shows.OS(dir), s, nil, shows.SaveOptions{})
	require.NoError(t, err)
	all := map[string][]byte{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(path, ".toml") {
			name, _ := filepath.Rel(dir, path)
			all[filepath.ToSlash(name)], err = os.ReadFile(path)
		}
		return err
	}))
	return all
}

// three writes the three versions of a file for a driver.
func three(t require.TestingT, dir string, base, ours, theirs []byte) (b, o, th string) {
	b, o, th = filepath.Join(dir, ".base"), filepath.Join(dir, ".ours"), filepath.Join(dir, ".theirs")
	for name, data := range map[string][]byte{b: base, o: ours, th: theirs} {
		require.NoError(t, os.WriteFile(name, data, 0o644))
	}
	return b, o, th
}

// Random edits of two, file by file, as git's own merge of lines has them and as
// the driver: where git is clean the driver is, and the whole show then holds what a
// merge of whole shows gives; where git has a conflict the driver mostly has none, and
// each that it has is about a value that both changed.
func TestNeverWorseThanLines(t *testing.T) {
	testtool.Need(t, "git")
	base := testshow.Staged(t)
	count, draws := map[string]int{}, 0
	dir := t.TempDir()
	was := files(t, filepath.Join(dir, "was"), base)
	rapid.Check(t, func(rt *rapid.T) {
		if draws++; draws > 30 {
			return // each starts git for every file
		}
		a, b := walked(rt, base, "a"), walked(rt, base, "b")
		dir := filepath.Join(dir, fmt.Sprint(draws))
		ours, theirs := files(rt, filepath.Join(dir, "ours"), a), files(rt, filepath.Join(dir, "theirs"), b)
		out := filepath.Join(dir, "out")
		conflicts := 0
		for name := range names(was, ours, theirs) {
			x, y, z := was[name], ours[name], theirs[name]
			result := y
			switch {
			case bytes.Equal(y, z), bytes.Equal(x, z):
			case bytes.Equal(x, y):
				result = z
			case y == nil || z == nil:
				return // removed against changed: git asks no driver
			default:
				at, o, th := three(rt, dir, x, y, z)
				lines, lineErr := exec.Command("git", "merge-file", "-p", o, at, th).Output()
				song := ours[strings.TrimSuffix(name, "cues.toml")+"song.toml"]
				require.NoError(rt, os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755))
				if song != nil && strings.HasSuffix(name, "cues.toml") {
					require.NoError(rt, os.WriteFile(filepath.Join(dir, strings.TrimSuffix(name, "cues.toml")+"song.toml"), song, 0o644))
				}
				m, err := gitmerge.File(at, o, th, filepath.ToSlash(filepath.Join(dir, name)))
				require.NoError(rt, err)
				require.NoError(rt, m.Plain, name)
				result, err = os.ReadFile(o)
				require.NoError(rt, err)
				count[fmt.Sprintf("git clean %v, driver clean %v", lineErr == nil, m.Clean)]++
				if lineErr == nil && !m.Clean {
					for i := range m.Conflicts {
						require.True(rt, byValue(&m.Conflicts[i]), "%s: %s\n%s", name, m.Conflicts[i].Key(), lines)
					}
				}
				conflicts += len(m.Conflicts)
			}
			if result != nil {
				require.NoError(rt, os.MkdirAll(filepath.Dir(filepath.Join(out, name)), 0o755))
				require.NoError(rt, os.WriteFile(filepath.Join(out, name), result, 0o644))
			}
		}
		l, err := shows.Load(out)
		require.NoError(rt, err)
		open, err := merge.Open(l.Show)
		require.NoError(rt, err)
		require.Len(rt, open, conflicts)
		whole, err := merge.Shows(base, a, b)
		require.NoError(rt, err)
		if len(whole.Conflicts) == 0 && len(whole.Notes) == 0 && conflicts == 0 {
			require.Empty(rt, timeline.Diff(whole.Show, l.Show))
		}
	})
	t.Log(count)
	require.Positive(t, count["git clean false, driver clean true"])
}

func byValue(c *merge.Conflict) bool {
	return c.Why == merge.Value || c.Why == merge.Removed || c.Why == merge.Used || c.Why == merge.Item || c.Why == merge.Added
}

func names(of ...map[string][]byte) map[string]bool {
	all := map[string]bool{}
	for _, m := range of {
		for name := range m {
			all[name] = true
		}
	}
	return all
}

// walked draws the edits of one: fields of records, new cues, removed ones.
func walked(t *rapid.T, s *timeline.Show, who string) *timeline.Show {
	for step := range rapid.IntRange(1, 5).Draw(t, who) {
		var edit timeline.Edit
		switch rapid.IntRange(0, 3).Draw(t, "do") {
		case 0:
			edit = func(d *timeline.Draft) error {
				d.Put("ember", &timeline.Cue{Base: timeline.Base{ID: timeline.ID(fmt.Sprint(who, step))}, Lane: rapid.SampledFrom([]timeline.ID{"ljet", "lcom"}).Draw(t, "lane"),
					At: timeline.AtTime(timeline.Time(rapid.IntRange(0, 59).Draw(t, "at")) * timeline.Second)})
				return nil
			}
		case 1:
			cues := s.Song("ember").Cues
			id := cues[rapid.IntRange(0, len(cues)-1).Draw(t, "cue")].ID
			edit = func(d *timeline.Draft) error { return d.Remove(timeline.Ref{Kind: "cue", Song: "ember", ID: id}) }
		default:
			k := timeline.KindOf(rapid.SampledFrom([]string{"article", "placed", "bank", "cue", "lane", "venue", "night", "show", "song", "wire"}).Draw(t, "kind"))
			song := timeline.ID("")
			if k.InSong {
				song = "ember"
			}
			list := k.List(s, song)
			r := list[rapid.IntRange(0, len(list)-1).Draw(t, "record")]
			f := &k.Fields[rapid.IntRange(0, len(k.Fields)-1).Draw(t, "field")]
			if f.Type == timeline.ListField || f.Name == "slug" || len(f.Ref) > 0 {
				continue
			}
			v := timeline.Value{Text: rapid.SampledFrom(slices.Concat([]string{"1", "2", "0.5", "true", "2031-05-10", "hello", "3.1"}, f.Choices)).Draw(t, "value")}
			edit = func(d *timeline.Draft) error {
				return d.Set(timeline.Ref{Kind: k.Name, Song: song, ID: r.RecordID()}, f.Name, v)
			}
		}
		if next, err := s.Edit(edit); err == nil {
			s = next
		}
	}
	return s
}

// What cannot be read is left to git's own merge, clean or not.
func TestUnreadableIsLeftToGit(t *testing.T) {
	testtool.Need(t, "git")
	dir := t.TempDir()
	b, o, th := three(t, dir, []byte("schema = 9\na\nb\nc\n"), []byte("schema = 9\nA\nb\nc\n"), []byte("schema = 9\na\nb\nC\n"))
	m, err := gitmerge.File(b, o, th, "stock.toml")
	require.NoError(t, err)
	require.Error(t, m.Plain)
	require.True(t, m.Clean)
	got, err := os.ReadFile(o)
	require.NoError(t, err)
	require.Equal(t, "schema = 9\nA\nb\nC\n", string(got))
	b, o, th = three(t, dir, []byte("a\n"), []byte("b\n"), []byte("c\n"))
	m, err = gitmerge.File(b, o, th, "notes.txt")
	require.NoError(t, err)
	require.ErrorContains(t, m.Plain, "notes.txt is no file of a show")
	require.False(t, m.Clean)
}

// Two songs that both added under one name: ours stays, theirs can be put beside.
func TestTwoSongsOfOneName(t *testing.T) {
	base := testshow.Small(t)
	add := func(id timeline.ID, title string) *timeline.Show {
		s, err := base.Edit(func(d *timeline.Draft) error {
			d.Put("", &timeline.SongHead{Base: timeline.Base{ID: id}, Title: title, Slug: "new", Length: timeline.Minute})
			d.Put(id, &timeline.Lane{Base: timeline.Base{ID: "l"}, Name: title, Target: "j1", Role: timeline.EffectSlot})
			return nil
		})
		require.NoError(t, err)
		return s
	}
	dir := t.TempDir()
	ours, theirs := files(t, filepath.Join(dir, "ours"), add("k1", "Alder")), files(t, filepath.Join(dir, "theirs"), add("k2", "Birch"))
	b, o, th := three(t, dir, nil, ours["songs/new/song.toml"], theirs["songs/new/song.toml"])
	m, err := gitmerge.File(b, o, th, "songs/new/song.toml")
	require.NoError(t, err)
	require.NoError(t, m.Plain)
	require.Len(t, m.Conflicts, 1)
	got, err := os.ReadFile(o)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ours", "songs", "new", "song.toml"), got, 0o644))
	l, err := shows.Load(filepath.Join(dir, "ours"))
	require.NoError(t, err)
	open, err := merge.Open(l.Show)
	require.NoError(t, err)
	require.Len(t, open, 1)
	edit, err := open[0].Settle(merge.Both)
	require.NoError(t, err)
	s, err := l.Show.Edit(edit)
	require.NoError(t, err)
	require.Equal(t, "Alder", s.Song("k1").Title)
	require.Equal(t, "Birch", s.Song("k2").Title)
	require.Equal(t, "new-2", s.Song("k2").Slug)
	require.Equal(t, "Birch", s.Song("k2").Lane("l").Name)
}

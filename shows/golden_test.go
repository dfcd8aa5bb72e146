package shows_test

import (
	"bytes"
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"emberbeat/shows"
	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite testdata/tidy from testdata/untidy")

// copyOf copies a folder of testdata, so that a test may write to it.
func copyOf(t testing.TB, name string) string {
	t.Helper()
	t.Setenv(shows.StateEnv, t.TempDir())
	dir := filepath.Join(t.TempDir(), "tour")
	require.NoError(t, os.CopyFS(dir, os.DirFS(filepath.Join("testdata", name))))
	return dir
}

// filesIn reads all files below a folder.
func filesIn(t testing.TB, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	require.NoError(t, fs.WalkDir(os.DirFS(dir), ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		b, err := os.ReadFile(filepath.Join(dir, path))
		files[path] = string(b)
		return err
	}))
	return files
}

// testdata/untidy is a show as people write it by hand, testdata/tidy the same
// in canonical form, to be read and compared.
func TestFormatTidiesUp(t *testing.T) {
	dir := copyOf(t, "untidy")
	untidy := filesIn(t, dir)
	would, err := shows.Format(dir, true)
	require.NoError(t, err)
	require.Equal(t, untidy, filesIn(t, dir), "a check changes nothing")
	changed, err := shows.Format(dir, false)
	require.NoError(t, err)
	require.Equal(t, would, changed)
	require.Equal(t, []string{"nights/fennmoor.toml", "rig.toml", "show.toml", "songs/ember/cues.toml",
		"songs/ember/song.toml", "songs/tin-weather/song.toml", "stock.toml", "venues/boatshed-hall.toml"}, changed)
	if *update {
		require.NoError(t, os.RemoveAll("testdata/tidy"))
		require.NoError(t, os.CopyFS("testdata/tidy", os.DirFS(dir)))
	}
	require.Equal(t, filesIn(t, filepath.Join("testdata", "tidy")), filesIn(t, dir))
	again, err := shows.Format(dir, true)
	require.NoError(t, err)
	require.Empty(t, again)
}

func TestFormatChangesNoMeaning(t *testing.T) {
	a, err := shows.Load(filepath.Join("testdata", "untidy"))
	require.NoError(t, err)
	b, err := shows.Load(filepath.Join("testdata", "tidy"))
	require.NoError(t, err)
	require.Empty(t, timeline.Diff(a.Show, b.Show))
}

func TestLoadedTidyShow(t *testing.T) {
	l, err := shows.Load(filepath.Join("testdata", "tidy"))
	require.NoError(t, err)
	s := l.Show
	require.Equal(t, "Gravel and Tin", s.Head.Title)
	require.Equal(t, timeline.Rate2997DF, s.Head.Rate)
	require.Equal(t, 5*timeline.Second, s.Head.PreRoll)
	require.Equal(t, []timeline.Entry{{Song: "ember", Gap: 20 * timeline.Second, Talk: "good evening"}, {Song: "tin-weather", Encore: true}}, s.Set("main").Entries)
	ember := s.Song("ember")
	require.Equal(t, "ember", ember.Slug)
	require.Len(t, ember.Cues, 4)
	require.Equal(t, timeline.ID("gone"), ember.Cue("z1").Lane, "a cue on a lane that is gone stays")
	require.Equal(t, 80, ember.Cue("a7b1").Level)
	plan := timeline.Compile(s, nil)
	require.Equal(t, timeline.LostLane, plan.Songs[0].Lost[0].Reason)
	require.Equal(t, 200*timeline.Second+timeline.Second/2, s.Song("tin-weather").Duration(), "a song without audio has its typed length")
	var notes []string
	for _, n := range l.Notes {
		notes = append(notes, n.String())
	}
	require.Equal(t, []string{
		"show.toml:10: the key colour-of-the-bus of show is not known; it is kept as it is",
		"show.toml:21: the table [insurance] is not known; it is kept as it is",
		"show.toml:25: the table [insurance.contact] is not known; it is kept as it is",
		"songs/ember/cues.toml:6: the key colour of cue is not known; it is kept as it is",
	}, notes)
}

func TestPlaces(t *testing.T) {
	l, err := shows.Load(filepath.Join("testdata", "tidy"))
	require.NoError(t, err)
	for _, c := range []struct {
		ref  timeline.Ref
		file string
		line int
	}{
		{timeline.Ref{Kind: "show", ID: "gravel01"}, "show.toml", 4},
		{timeline.Ref{Kind: "set", ID: "main"}, "show.toml", 12},
		{timeline.Ref{Kind: "article", ID: "spark-4"}, "stock.toml", 19},
		{timeline.Ref{Kind: "night", ID: "fennmoor"}, "nights/fennmoor.toml", 2},
		{timeline.Ref{Kind: "song", ID: "ember"}, "songs/ember/song.toml", 2},
		{timeline.Ref{Kind: "lane", Song: "ember", ID: "k3v9q2ma"}, "songs/ember/song.toml", 24},
		{timeline.Ref{Kind: "cue", Song: "ember", ID: "a7b1"}, "songs/ember/cues.toml", 6},
		{timeline.Ref{Kind: "cue", Song: "ember", ID: "b9"}, "songs/ember/cues.toml", 8},
		{timeline.Ref{Kind: "cue", Song: "ember", ID: "none"}, "", 0},
	} {
		file, line := l.Places.Place(c.ref)
		require.Equal(t, c.file, file, c.ref)
		require.Equal(t, c.line, line, c.ref)
		if c.file != "" {
			require.Equal(t, c.file, shows.FileOf(l.Show, c.ref))
		}
	}
	var none shows.Places
	file, line := none.Place(timeline.Ref{Kind: "show"})
	require.Zero(t, file)
	require.Zero(t, line)
}

// Places after a save must be those that a new load would find.
func TestPlacesAfterSave(t *testing.T) {
	dir := copyOf(t, "untidy")
	l, err := shows.Load(dir)
	require.NoError(t, err)
	next, err := l.Show.Edit(func(d *timeline.Draft) error {
		d.Put("ember", &timeline.Cue{Base: timeline.Base{ID: "new"}, Lane: "a0000001", At: timeline.AtTime(timeline.Second)})
		return d.Set(timeline.Ref{Kind: "show", ID: "gravel01"}, "note", timeline.Value{Text: "x"})
	})
	require.NoError(t, err)
	saved, err := shows.SaveTo(shows.OS(dir), next, l.Show, shows.SaveOptions{Prints: l.Prints, Places: l.Places})
	require.NoError(t, err)
	require.Equal(t, []string{"show.toml", "songs/ember/cues.toml", "songs/ember/song.toml"}, saved.Written)
	again, err := shows.Load(dir)
	require.NoError(t, err)
	require.Equal(t, again.Places, saved.Places)
	require.Equal(t, again.Prints, saved.Prints)
	require.Equal(t, again.Prints.Digest(), saved.Prints.Digest())
	require.NotEqual(t, l.Prints.Digest(), saved.Prints.Digest())
}

func TestLineEndsOfWindowsAreRead(t *testing.T) {
	m := newMemory()
	for name, text := range filesIn(t, filepath.Join("testdata", "untidy")) {
		m.files[name] = bytes.ReplaceAll([]byte(text), []byte("\n"), []byte("\r\n"))
	}
	l, err := shows.LoadFrom(m)
	require.NoError(t, err)
	plain, err := shows.Load(filepath.Join("testdata", "untidy"))
	require.NoError(t, err)
	require.Empty(t, timeline.Diff(plain.Show, l.Show))
	_, err = shows.SaveTo(m, l.Show, nil, shows.SaveOptions{})
	require.NoError(t, err)
	for name, b := range m.files {
		require.NotContains(t, string(b), "\r", name)
	}
}

func TestLoadFromAnEmbeddedFolder(t *testing.T) {
	st := shows.FS(os.DirFS(filepath.Join("testdata", "tidy")))
	l, err := shows.LoadFrom(st)
	require.NoError(t, err)
	next, err := l.Show.Edit(func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "show", ID: "gravel01"}, "note", timeline.Value{Text: "x"})
	})
	require.NoError(t, err)
	_, err = shows.SaveTo(st, next, l.Show, shows.SaveOptions{})
	require.ErrorIs(t, err, fs.ErrPermission)
	require.ErrorContains(t, err, "read-only")
}

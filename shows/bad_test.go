package shows_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"emberbeat/shows"

	"github.com/stretchr/testify/require"
)

// goodShow is the smallest show with a song.
func goodShow() map[string]string {
	return map[string]string{
		"show.toml":             "schema = 1\nid = \"s\"\n",
		"songs/ember/song.toml": "schema = 1\nid = \"ember\"\n\n[[lane]]\nid = \"l\"\n",
	}
}

func TestProblemsAreNamed(t *testing.T) {
	cases := map[string]struct {
		file, text string
		want       []string // problems, in order
	}{
		"byte order mark":     {"stock.toml", "\ufeffschema = 1\n", []string{"stock.toml:1: starts with a byte order mark; save it as UTF-8 without one"}},
		"no UTF-8":            {"stock.toml", "schema = 1\n# \xff\n", []string{"stock.toml:2: holds a byte that is no UTF-8 text; save the file as UTF-8"}},
		"empty file":          {"stock.toml", "", []string{"stock.toml:1: the file gives no schema; write schema = 1 in the first line"}},
		"schema of no number": {"stock.toml", "schema = \"1\"\n", []string{`stock.toml:1: schema is "1", not a whole number from 1; write schema = 1 in the first line`}},
		"schema of 0":         {"stock.toml", "schema = 0\n", []string{`stock.toml:1: schema is 0, not a whole number from 1; write schema = 1 in the first line`}},
		"no TOML": {"rig.toml", "schema = 1\n[[bank]]\nid = \"b\nname = 1\n", []string{
			"rig.toml:3: is not written as TOML: *"}},
		"cut off": {"rig.toml", "schema = 1\n[[group]]\nid = \"g\"\nmembers = [\n", []string{
			"rig.toml:4: is not written as TOML: array is incomplete*"}},
		"merge marks": {"songs/ember/cues.toml", "schema = 1\n[[lane]]\nid = \"l\"\ncues = [\n<<<<<<< HEAD\n  { id = \"a\", at = \"1.1\" },\n=======\n  { id = \"a\", at = \"2.1\" },\n>>>>>>> other\n]\n", []string{
			"songs/ember/cues.toml:5: a mark of an unfinished merge, <<<<<<<; keep one of the two versions and delete the marks",
			"songs/ember/cues.toml:7: a mark of an unfinished merge, =======; keep one of the two versions and delete the marks",
			"songs/ember/cues.toml:9: a mark of an unfinished merge, >>>>>>>; keep one of the two versions and delete the marks"}},
		"wrong types": {"stock.toml", "schema = 1\n[[article]]\nid = \"a\"\nname = 4\nlead = 0.3\nheight = \"8\"\nlevel = 1.5\nsingle-use = 1\nmarks = \"S\"\nsource = true\nnote = 2030-01-01\n", []string{
			`stock.toml:4: article name is a whole number, not a text; write text in quotes, such as name = "4"`,
			`stock.toml:5: article lead is a number, not a text; write text in quotes, such as lead = "0.3"`,
			`stock.toml:6: article height is text, not a number; write a number without quotes, such as height = 0`,
			`stock.toml:7: article level is a number, not a whole number; write a whole number without quotes, such as level = 0`,
			`stock.toml:8: article single-use is a whole number, not a yes or no; write single-use = true or single-use = false`,
			`stock.toml:9: article marks is text, not a list; write a list of texts, such as marks = ["…"]`,
			`stock.toml:10: article source is yes or no, not a text; write text in quotes, such as source = "true"`,
			`stock.toml:11: article note is a date, not a text; write text in quotes, such as note = "2030-01-01"`}},
		"values out of range": {"stock.toml", "schema = 1\n[[article]]\nid = \"a\"\nlead = \"-1\"\nheight = 1e9\nlevel = 0x10\nfamily = \"fire\"\n", []string{
			`stock.toml:4: article lead = "-1": *`,
			`stock.toml:5: article height = 1e9: must be a number from 0 to 1000 m`,
			`stock.toml:6: article level = 0x10: must be a whole number from 0 to 100`,
			`stock.toml:7: article family = "fire": is not one of: fountain-long*`}},
		"infinite": {"stock.toml", "schema = 1\n[[article]]\nid = \"a\"\nheight = inf\nfallout = nan\n", []string{
			`stock.toml:4: article height = inf: must be a number*`, `stock.toml:5: article fallout = nan: must be a number*`}},
		"list item": {"songs/ember/song.toml", "schema = 1\nid = \"ember\"\nbeats = [\n  \"1.1 at=0\",\n  \"2.1 at=x\",\n]\n", []string{
			`songs/ember/song.toml:5: song beats: item 2, *`}},
		"list item of another type": {"rig.toml", "schema = 1\n[[group]]\nid = \"g\"\nmembers = [\n\"a\",\n  1,\n]\n", []string{
			`rig.toml:6: item 2 of members is a whole number, not text; write each item as text in quotes`}},
		"beat map that runs backwards": {"songs/ember/song.toml", "schema = 1\nid = \"ember\"\nbeats = [\"1.1 at=2\", \"2.1 at=1\"]\n", []string{
			`songs/ember/song.toml:3: song beats: *`}},
		"cue at a number": {"songs/ember/cues.toml", "schema = 1\n[[lane]]\nid = \"l\"\ncues = [\n{ id = \"a\", at = 17.1 },\n]\n", []string{
			`songs/ember/cues.toml:5: cue at is a number, not a text; write text in quotes, such as at = "17.1"`}},
		"cue at a timecode": {"songs/ember/cues.toml", "schema = 1\n[[lane]]\nid = \"l\"\ncues = [\n{ id = \"a\", at = \"01:00:00:00\" },\n]\n", []string{
			`songs/ember/cues.toml:5: cue at = "01:00:00:00": is a timecode*`}},
		"cue without id":    {"songs/ember/cues.toml", "schema = 1\n[[lane]]\nid = \"l\"\ncues = [\n{ at = \"1.1\" },\n]\n", []string{`songs/ember/cues.toml:5: the cue has no id; write an id*`}},
		"cue of no table":   {"songs/ember/cues.toml", "schema = 1\n[[lane]]\nid = \"l\"\ncues = [\n\"1.1\",\n]\n", []string{`songs/ember/cues.toml:5: the cue is text, not a table; write cues = *`}},
		"cues of no list":   {"songs/ember/cues.toml", "schema = 1\n[[lane]]\nid = \"l\"\ncues = 1\n", []string{`songs/ember/cues.toml:4: cues is a whole number, not a list; *`}},
		"cue of two lanes":  {"songs/ember/cues.toml", "schema = 1\n[[lane]]\nid = \"l\"\ncues = [\n{ id = \"a\", lane = \"m\" },\n]\n", []string{`songs/ember/cues.toml:5: the cue stands on lane "l", but says lane = "m"; *`}},
		"lane without id":   {"songs/ember/cues.toml", "schema = 1\n[[lane]]\ncues = []\n", []string{`songs/ember/cues.toml:2: the lane has no id; *`}},
		"lane of bad id":    {"songs/ember/cues.toml", "schema = 1\n[[lane]]\nid = \"No\"\n", []string{`songs/ember/cues.toml:3: lane "No" is no id; *`}},
		"cues in tables":    {"songs/ember/cues.toml", "schema = 1\n[[cue]]\nid = \"a\"\n", []string{`songs/ember/cues.toml:2: [[cue]] is not how cues are written; *`}},
		"id twice":          {"rig.toml", "schema = 1\n[[bank]]\nid = \"b\"\n[[bank]]\nid = \"b\"\n", []string{`rig.toml:4: the bank "b" stands at rig.toml:2 already; give one of them another id`}},
		"song id twice":     {"songs/copy/song.toml", "schema = 1\nid = \"ember\"\n", []string{`songs/ember/song.toml:2: the song "ember" stands at songs/copy/song.toml:2 already; *`}},
		"cue id twice":      {"songs/ember/cues.toml", "schema = 1\n[[lane]]\nid = \"l\"\ncues = [{ id = \"a\" }]\n[[lane]]\nid = \"m\"\ncues = [{ id = \"a\" }]\n", []string{`songs/ember/cues.toml:7: the cue "a" stands at songs/ember/cues.toml:4 already; *`}},
		"key twice":         {"rig.toml", "schema = 1\n[[bank]]\nid = \"b\"\nname = \"x\"\nname = \"y\"\n", []string{`rig.toml:5: the key name is given twice; keep one of them`}},
		"no id":             {"rig.toml", "schema = 1\n[[bank]]\nname = \"x\"\n", []string{`rig.toml:2: the bank has no id; *`}},
		"bad id":            {"rig.toml", "schema = 1\n[[bank]]\nid = \"Ä\"\n", []string{`rig.toml:3: "Ä" is no id; *`}},
		"wrong file":        {"stock.toml", "schema = 1\n[[wire]]\nid = \"w\"\n", []string{`stock.toml:2: [[wire]] does not belong in this file; move it to rig.toml`}},
		"one table":         {"stock.toml", "schema = 1\n[article]\nid = \"w\"\n", []string{`stock.toml:2: [article] is one table, and there may be many; write [[article]]`}},
		"list of records":   {"stock.toml", "schema = 1\narticle = []\n", []string{`stock.toml:2: article is a kind of record; write one [[article]] for each of them`}},
		"song with no id":   {"songs/ember/song.toml", "schema = 1\n", []string{`songs/ember/song.toml:1: the song has no id; *`}},
		"folder name":       {"songs/Big Song/song.toml", "schema = 1\nid = \"big\"\n", []string{`songs/Big Song/song.toml:1: the name "Big Song" is none a show uses; rename it to *`}},
		"slug is the name":  {"venues/hall.toml", "schema = 1\nid = \"v\"\nslug = \"barn\"\n", []string{`venues/hall.toml:3: slug is "barn", but the name on disk is "hall"; *`}},
		"cues without song": {"songs/gone/cues.toml", "schema = 1\n", []string{`songs/gone/cues.toml: there is no song.toml beside it; *`}},
		"control character": {"show.toml", "schema = 1\nid = \"s\"\ntitle = \"a\\nb\"\n", []string{`show.toml:3: show title = "a\nb": holds a control character*`}},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			files := goodShow()
			files[c.file] = c.text
			l, err := shows.LoadFrom(memoryOf(files))
			var bad *shows.UnreadableError
			require.ErrorAs(t, err, &bad)
			var got []string
			for _, p := range bad.Problems {
				got = append(got, p.String())
			}
			require.Len(t, got, len(c.want), "%s", strings.Join(got, "\n"))
			for i, want := range c.want {
				if start, ok := strings.CutSuffix(want, "*"); ok {
					require.True(t, strings.HasPrefix(got[i], start), "%s\nshould start with\n%s", got[i], start)
				} else {
					require.Equal(t, want, got[i])
				}
			}
			require.NotNil(t, l.Show, "what could be read can be looked at")
			require.NotNil(t, l.Show.Head)
		})
	}
}

func TestAllFilesAreLookedAt(t *testing.T) {
	files := goodShow()
	files["rig.toml"] = "schema = 1\n[[bank]]\nid = 1\n"
	files["stock.toml"] = "schema = 1\nx\n"
	files["songs/ember/song.toml"] = "schema = 1\nid = \"ember\"\nstart = \"25:00:00:00\"\n"
	l, err := shows.LoadFrom(memoryOf(files))
	var bad *shows.UnreadableError
	require.ErrorAs(t, err, &bad)
	require.Len(t, bad.Problems, 3)
	require.Equal(t, "rig.toml", bad.Problems[0].File)
	require.Equal(t, "songs/ember/song.toml", bad.Problems[1].File)
	require.Equal(t, "stock.toml", bad.Problems[2].File)
	require.NotNil(t, l.Show.Song("ember"))
}

func TestLongErrorIsShortened(t *testing.T) {
	files := goodShow()
	files["rig.toml"] = "schema = 1\n" + strings.Repeat("[[bank]]\n", 100)
	_, err := shows.LoadFrom(memoryOf(files))
	require.Equal(t, 21, len(strings.Split(err.Error(), "\n")))
	require.ErrorContains(t, err, "and 80 more problems")
}

func TestNewerShow(t *testing.T) {
	for _, file := range []string{"show.toml", "songs/ember/song.toml", "rig.toml"} {
		files := goodShow()
		newest := map[bool]int{true: 2, false: 1}[file == "show.toml"]
		files[file] = fmt.Sprintf("schema = %d\nwhatever = true\n", newest+1)
		_, err := shows.LoadFrom(memoryOf(files))
		var newer *shows.NewerError
		require.ErrorAs(t, err, &newer)
		require.Equal(t, shows.NewerError{File: file, Line: 1, Schema: newest + 1, Known: newest}, *newer)
		require.ErrorContains(t, err, "newer than this program knows")
	}
}

func TestNoShow(t *testing.T) {
	var none *shows.NoShowError
	_, err := shows.Load(t.TempDir())
	require.ErrorAs(t, err, &none)
	require.ErrorContains(t, err, "there is no show here")
	files := goodShow()
	delete(files, "show.toml")
	_, err = shows.LoadFrom(memoryOf(files))
	require.ErrorAs(t, err, &none)
}

// What is lost in references is for the rules to report: the show opens.
func TestLostReferencesLoad(t *testing.T) {
	files := goodShow()
	files["rig.toml"] = "schema = 1\n[[placed]]\nid = \"p\"\narticle = \"gone\"\nposition = \"gone\"\n"
	files["songs/ember/cues.toml"] = "schema = 1\n[[lane]]\nid = \"gone\"\ncues = [{ id = \"a\", at = \"1.1\" }]\n"
	files["songs/ember/song.toml"] += "target = \"gone\"\n"
	l, err := shows.LoadFrom(memoryOf(files))
	require.NoError(t, err)
	require.Len(t, l.Show.Song("ember").Cues, 1)
}

func TestForeignFilesAreLeftAlone(t *testing.T) {
	files := goodShow()
	for _, name := range []string{"README.txt", "venues/notes.txt", "venues/.hall.toml", "songs/list.txt", "songs/ember/lyrics.txt", "songs/.trash/song.toml", "audio/ember.ogg", ".git/config"} {
		files[name] = "not a show file"
	}
	m := memoryOf(files)
	l, err := shows.LoadFrom(m)
	require.NoError(t, err)
	_, err = shows.SaveTo(m, l.Show, nil, shows.SaveOptions{})
	require.NoError(t, err)
	require.Len(t, m.files, len(files))
}

func TestUnreadableFile(t *testing.T) {
	m := memoryOf(goodShow())
	m.fail = func(op, name string) error {
		if op == "read" && name == "songs/ember/song.toml" {
			return errors.New("broken sector")
		}
		return nil
	}
	_, err := shows.LoadFrom(m)
	var fe *shows.FileError
	require.ErrorAs(t, err, &fe)
	require.Equal(t, "songs/ember/song.toml", fe.File)
	require.EqualError(t, fe, "songs/ember/song.toml: cannot be read: broken sector")
}

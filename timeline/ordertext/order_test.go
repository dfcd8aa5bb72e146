package ordertext

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

func TestReadOrder(t *testing.T) {
	for text, want := range map[string]string{
		"Slow Matches":                     "Slow Matches",
		"1. Slow Matches":                  "Slow Matches",
		"01) Slow Matches  3:45":           "Slow Matches",
		"#3 - Slow Matches (4:02)":         "Slow Matches",
		"3 Slow Matches":                   "Slow Matches",
		"• Slow Matches — acoustic":        "Slow Matches/acoustic",
		"Slow Matches (acoustic)":          "Slow Matches/acoustic",
		"2\tSlow Matches [live]\t3:45\t96": "Slow Matches/live",
		"21:30 Slow Matches":               "Slow Matches",
		"3:45\tSlow Matches":               "Slow Matches",
		"Slow Matches 4 min":               "Slow Matches",
		"Slow Matches - 3'45\"":            "Slow Matches",
		"Encore: Slow Matches":             "Slow Matches*",
		"E N C O R E":                      "E N C O R E",
		"99 Fires":                         "Fires",
		"99ers":                            "99ers",
		"Encore of Sparks":                 "Encore of Sparks",
	} {
		list := Read(text)
		require.Len(t, list, 1, text)
		l := list[0]
		name, word, _ := strings.Cut(strings.TrimSuffix(want, "*"), "/")
		require.Contains(t, l.Names, name, text)
		require.Equal(t, word, l.Word, text)
		require.Equal(t, strings.HasSuffix(want, "*"), l.Encore, text)
	}
	require.Contains(t, Read("99 Fires")[0].Names, "99 Fires", "a title may begin with a number")

	list := Read("\ufeffSET LIST\r\n\r\n1. One\r\n2. Two\r\n-------\r\n*** ENCORE ***\r\n3. Three\r\nEncore 2:\r\n4. Four")
	var lines []string
	for _, l := range list {
		lines = append(lines, fmt.Sprintf("%d %s %v", l.N, l.Text, l.Encore))
	}
	require.Equal(t, []string{"1 SET LIST false", "3 1. One false", "4 2. Two false", "7 3. Three true", "9 4. Four true"}, lines)
	require.Empty(t, Read("\n --- \n\t\n"))
}

func FuzzOrder(f *testing.F) {
	for _, text := range []string{"1. Ember (live)\t3:45", "Encore:\nE", "\xff\x00(", "- - -", "#1 1 1:1 (1) [", "\"\"'", strings.Repeat("1:00 ", 100)} {
		f.Add(text)
	}
	s := orderShow(f)
	f.Fuzz(func(t *testing.T, text string) {
		lines := Read(text)
		n := 0
		for _, l := range lines {
			require.Greater(t, l.N, n)
			n = l.N
			require.NotEmpty(t, l.Names)
			for _, name := range l.Names {
				require.True(t, strings.ContainsFunc(name, isWordRune), "%q", name)
			}
		}
		if len(text) > 4096 {
			return // matching is quadratic in the length of a line
		}
		list, err := MatchLines(s, s.Set("main"), lines)
		require.NoError(t, err)
		for _, l := range list {
			require.Equal(t, l.Match == Doubt, l.Song == "", "a doubt is never a song")
		}
	})
}

// orderShow has songs that are alike, one in two parts, one in three versions, and a
// set of two.
func orderShow(t testing.TB) *timeline.Show {
	t.Helper()
	var recs []timeline.Record
	for i, title := range []string{"Slow Matches", "Tidewater Engine", "Lanterns Over the Weir", "Kettle Lightning", "Weather Part I", "Weather Part II", "Ça brûle", "Salt & Iron", "7 Lanterns", "The Quay"} {
		id := timeline.ID(fmt.Sprintf("s%02d", i))
		recs = append(recs, &timeline.SongHead{Base: timeline.Base{ID: id}, Title: title, Slug: string(id), Start: timeline.Timecode{H: uint8(i + 1)}, Length: 30 * timeline.Second})
	}
	recs = append(recs, &timeline.Supply{Base: timeline.Base{ID: "cyl"}, Name: "cylinder"}, &timeline.Set{Base: timeline.Base{ID: "main"}, Name: "main", Entries: []timeline.Entry{{Song: "s00"}, {Song: "s01"}}})
	s, err := timeline.NewShow("show", "Tour", timeline.Rate25).Edit(func(d *timeline.Draft) error { d.Put("", recs...); return nil },
		timeline.AddVersion(timeline.NewVersion{ID: "acoustic", Of: "s00", Name: "acoustic", Start: timeline.Timecode{H: 20}}),
		timeline.AddVersion(timeline.NewVersion{ID: "short", Of: "s00", Name: "festival edit", Start: timeline.Timecode{H: 21}}))
	require.NoError(t, err)
	return s
}

func TestMatchOrder(t *testing.T) {
	s := orderShow(t)
	for text, want := range map[string]string{
		"1. Slow Matches":                 "named s00",
		"SLOW MATCHES 3:45":               "named s00",
		"slow matches (acoustic)":         "named acoustic",
		"Slow Matches - Acoustic":         "named acoustic",
		"Slow Matches (acustic)":          "alike acoustic",
		"Slow Matches (piano)":            "doubt ",
		"Slow Maches":                     "alike s00",
		"Slwo Matches (festival edit)":    "alike short",
		"Tidewater":                       "doubt ",
		"Lanterns":                        "doubt ",
		"Lanterns over the weir":          "named s02",
		"Weather Part II":                 "named s05",
		"Weather Part III":                "doubt ", // another part, however alike
		"Weather Part 2":                  "doubt ",
		"Ca brule":                        "named s06",
		"Salt and Iron":                   "named s07",
		"7 Lanterns":                      "named s08",
		"7. 7 Lanterns":                   "named s08",
		"Quay":                            "named s09",
		"Band intro":                      "doubt ",
		"Ketle Lightnign":                 "alike s03",
		"Kettle":                          "doubt ",
		"kettle lightning / slow matches": "doubt ",
	} {
		list, err := MatchLines(s, s.Set("main"), Read(text))
		require.NoError(t, err)
		require.Len(t, list, 1)
		require.Equal(t, want, fmt.Sprintf("%s %s", list[0].Match, list[0].Song), text)
		if list[0].Match != Named {
			require.NotEmpty(t, list[0].Why, text)
		}
	}
	list, err := MatchLines(s, nil, Read("Weather Part 2"))
	require.NoError(t, err)
	require.Contains(t, list[0].Offers, timeline.ID("s05"))

	list, err = MatchLines(s, nil, Read("Slow Matches\nSlow Maches"))
	require.NoError(t, err)
	require.Equal(t, Doubt, list[1].Match, "two lines would be one song")
	_, err = MatchLines(s, nil, Read("Quay"), Choice{N: 4, Song: "s09"})
	require.ErrorContains(t, err, "line 4 is no line of the running order")
}

// TestMisspeltIsNeverAnotherSong misspells titles: what is read is the song itself, or a
// doubt.
func TestMisspeltIsNeverAnotherSong(t *testing.T) {
	s := orderShow(t)
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.SampledFrom(s.Songs).Draw(t, "song")
		name := []rune(g.Title)
		for range rapid.IntRange(0, 3).Draw(t, "slips") {
			i := rapid.IntRange(0, len(name)-2).Draw(t, "at")
			switch rapid.IntRange(0, 2).Draw(t, "slip") {
			case 0:
				name[i], name[i+1] = name[i+1], name[i]
			case 1:
				name = append(name[:i:i], name[i+1:]...)
			default:
				name = append(name[:i:i], append([]rune{'x'}, name[i:]...)...)
			}
		}
		list, err := MatchLines(s, nil, Read(string(name)))
		require.NoError(t, err)
		for _, l := range list {
			require.True(t, l.Song == "" || s.SameSong(l.Song, g.ID), "%q is read as %s", string(name), l.Song)
		}
	})
}

func TestPasteOrder(t *testing.T) {
	s, err := orderShow(t).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.Set{Base: timeline.Base{ID: "main"}, Name: "main", Refills: []timeline.Refill{{Supply: "cyl", After: "s00"}},
			Entries: []timeline.Entry{{Song: "s00", Gap: 8 * timeline.Second, Talk: "thanks"}, {Song: "s01", Encore: true}, {Song: "s02", Alt: "a"}, {Song: "s03", Alt: "a"}, {Song: "s04"}}})
		return nil
	})
	require.NoError(t, err)
	paste := func(text string, choices ...Choice) (*timeline.Show, error) {
		lines, err := MatchLines(s, s.Set("main"), Read(text), choices...)
		require.NoError(t, err)
		return s.Edit(Play("main", lines))
	}
	next, err := paste("1. Kettle Lightning\n2. Slow Matches (acoustic)\n3. Lanterns Over the Weir\nEncore\n4. Quay")
	require.NoError(t, err)
	var entries []string
	for _, e := range next.Set("main").Entries {
		entries = append(entries, e.String())
	}
	require.Equal(t, []string{"s03", "acoustic gap=8.0000 talk=thanks", "s02", "s09 encore", "s01 encore out", "s04 out"}, entries)
	require.Equal(t, timeline.ID("acoustic"), next.Set("main").Refills[0].After, "what follows the song follows its version")

	_, err = paste("Band intro\nKettle\nQuay")
	require.EqualError(t, err, "2 lines are in doubt; say with {choose} what they mean:\n"+
		"  line 1, \"Band intro\": no song of the show has such a name; 1=skip\n"+
		"  line 2, \"Kettle\": like \"Kettle Lightning\", and not its name; 2=s03 (Kettle Lightning), 2=skip")
	next, err = paste("Band intro\nKettle\nQuay", Choice{N: 1}, Choice{N: 2, Song: "s03"})
	require.NoError(t, err)
	require.Len(t, next.Set("main").Order(), 2)
	_, err = paste("Band intro", Choice{N: 1})
	require.ErrorContains(t, err, "the text names no song")
}

// TestPasteBack writes any order of a set as text and pastes it: the set plays it.
func TestPasteBack(t *testing.T) {
	s := orderShow(t)
	var all []timeline.ID
	for _, g := range s.Songs {
		if g.VersionOf == "" {
			all = append(all, g.ID)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		order := rapid.Permutation(all).Draw(t, "order")[:rapid.IntRange(1, len(all)).Draw(t, "songs")]
		form := rapid.SampledFrom([]string{"T\n", "N. T\n", "N\tT\t3:45\n", "- T (4:10)\n", "N) T\r\n\r\n", "#N T – 3'50\"\n"}).Draw(t, "form")
		text := ""
		for i, id := range order {
			text += strings.NewReplacer("N", fmt.Sprint(i+1), "T", s.Song(id).Title).Replace(form)
		}
		lines, err := MatchLines(s, s.Set("main"), Read(text))
		require.NoError(t, err)
		next, err := s.Edit(Play("main", lines))
		require.NoError(t, err, "%s", text)
		var got []timeline.ID
		for _, e := range next.Set("main").Order() {
			got = append(got, e.Song)
		}
		require.Equal(t, order, got, "%s", text)
	})
}

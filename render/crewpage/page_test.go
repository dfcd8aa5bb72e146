package crewpage

import (
	"bytes"
	"context"
	"errors"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/render/sheet"
	"emberbeat/shows/report/crew"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

func bytesOf(t testing.TB, a Ask) (*Page, string) {
	t.Helper()
	pg, err := New(t.Context(), a)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, pg.Write(&b))
	return pg, b.String()
}

// The same show gives the same bytes; when it was made and what is heard does not
// change the hash, and what is planned does.
func TestHash(t *testing.T) {
	a := exampleNight(t)
	one, first := bytesOf(t, a)
	two, second := bytesOf(t, a)
	require.Equal(t, first, second)
	require.Equal(t, one.Hash, two.Hash)
	a.Made = "another day"
	again, other := bytesOf(t, hummed(a))
	require.Equal(t, one.Hash, again.Hash)
	require.NotEqual(t, first, other)

	cue := a.Plan.Songs[0].Song.Cues[0]
	edited, err := a.Plan.Show.Edit(func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "cue", Song: a.Plan.Songs[0].Song.ID, ID: cue.ID}, "at", timeline.Value{Text: "9.1"})
	})
	require.NoError(t, err)
	moved, _ := bytesOf(t, AskOf(timeline.Compile(edited, edited.Nights[0])))
	require.NotEqual(t, one.Hash, moved.Hash)
}

// Every sheet that a role reads, and that is left out by nothing, is there.
func TestRolesReadSheetsThatExist(t *testing.T) {
	pg, _ := bytesOf(t, exampleNight(t))
	for _, r := range pg.Data.Roles {
		for _, name := range r.Sheets {
			_, ok := sheet.KindNamed(name)
			require.True(t, ok, "%s reads %s", r.Name, name)
		}
	}
	for _, k := range sheet.Kinds() {
		if k.Name == "permit-pack" || k.Name == "order-list" || k.Name == "misfire-log" || k.Name == "return-sheet" {
			require.NotEmpty(t, crew.Held(k.Name))
		}
	}
}

// Without being asked a page has no person, storage or permit in it; a page for
// spotters has no quantity of explosives either, whatever sheets it is asked for.
func TestWhatIsLeftOut(t *testing.T) {
	s := testshow.Edited(t, testshow.Staged(t), func(d *timeline.Draft) error {
		d.Put("", &timeline.Person{Base: timeline.Base{ID: "p1"}, Name: "Quillon Vantreske", Role: timeline.Operator, Licence: "XQ-5521-Z"})
		return d.Set(timeline.Ref{Kind: "night", ID: "n1"}, "crew", timeline.Value{Items: []string{"p1"}})
	})
	a := AskOf(timeline.Compile(s, s.Nights[0]))
	_, text := bytesOf(t, a)
	require.NotContains(t, text, "Vantreske")
	require.NotContains(t, text, "5521")
	require.Contains(t, text, "NEC", "the load plan has it")
	a.Sheets = []string{"permit-pack"}
	_, text = bytesOf(t, a)
	require.Contains(t, text, "Vantreske", "the permit pack has it")
	a.Reader = crew.Spotters
	for _, sheets := range [][]string{nil, {"all"}} {
		a.Sheets = sheets
		_, text = bytesOf(t, a)
		text = strings.ReplaceAll(text, script, "")
		require.NotContains(t, text, "NEC")
		require.NotContains(t, text, "Vantreske")
		for _, word := range []string{"permit pack", "Order list", "Return sheet"} {
			require.NotContains(t, strings.ToLower(text), strings.ToLower("<h3>"+word))
		}
	}
}

// The page's own words never read as clearance.
func TestWordsAreNoClearance(t *testing.T) {
	a := AskOf(timeline.Compile(testshow.Small(t), nil))
	_, text := bytesOf(t, a)
	own := text[:strings.Index(text, `<section id="sheets"`)] + text[strings.Index(text, `<section id="night"`):strings.Index(text, `<script type="application/json"`)]
	words := regexp.MustCompile(`<[^>]*>`).ReplaceAllString(own[strings.Index(own, "<body>"):], " ") + strings.Join(a.page(t).Talk, " ")
	for _, m := range regexp.MustCompile(`"([^"\n]{3,})"`).FindAllStringSubmatch(script, -1) {
		words += " " + m[1]
	}
	for _, word := range []string{"safe", "clear", "clearance", "good", "ready", "passed", "ok", "approved", "go ahead", "\u2713", "\u2714", "\u2705"} {
		require.NotRegexp(t, `(?i)(^|[^a-z])`+word+`([^a-z]|$)`, words)
	}
	require.Contains(t, words, "Next, planned")
	require.Contains(t, words, "planned open until")
}

func (a Ask) page(t testing.TB) *crew.Page {
	t.Helper()
	pg, err := New(t.Context(), a)
	require.NoError(t, err)
	return pg.Data
}

// long gives each song sound of a size, or refuses one.
type long struct {
	hum
	size    int
	refused timeline.ID
	asked   []timeline.ID
}

func (l *long) Handout(_ context.Context, song *timeline.SongHead) ([]byte, error) {
	l.asked = append(l.asked, song.ID)
	if song.ID == l.refused {
		return nil, errors.New("none of its channels may be heard")
	}
	return make([]byte, l.size), nil
}

// Sound is put in until the page has as much as it may; which songs are without is
// said, with the reason, in the page as well.
func TestSoundUntilThePageIsFull(t *testing.T) {
	a := exampleNight(t)
	songs := a.Plan.Songs
	l := &long{size: 10_000_000, refused: songs[0].Song.ID}
	a.Recordings, a.Sound = l, true
	pg, text := bytesOf(t, a)
	require.Len(t, l.asked, 3)
	require.Equal(t, []string{songs[0].Song.FullTitle() + " is without sound: none of its channels may be heard",
		songs[2].Song.FullTitle() + " is without sound: there is room for 25 MB of sound, and the songs before take it"}, pg.Silent())
	require.Equal(t, 1, strings.Count(text, `id="sound-`))
	require.Contains(t, text, `id="sound-1"`)
	require.Contains(t, text, "none of its channels may be heard")

	l.size = audio.SmallRate
	_, text = bytesOf(t, a)
	require.Equal(t, 2, strings.Count(text, `id="sound-`))
	a.Sound = false
	pg, text = bytesOf(t, a)
	require.Empty(t, pg.Silent())
	require.NotContains(t, text, `id="sound-`)

	over, end := context.WithCancel(context.Background())
	end()
	_, err := New(over, a)
	require.ErrorIs(t, err, context.Canceled)
}

// Names say what is in a file.
func TestFileName(t *testing.T) {
	n := &timeline.Night{Slug: "first"}
	for want, a := range map[string]Ask{"first-crew-page.html": {}, "first-crew-page-sound.html": {Sound: true},
		"first-crew-page-for-spotters-with-hold-sheet-cut-list-sound.html": {Reader: "spotters", Sheets: []string{"hold-sheet", "cut-list"}, Sound: true}} {
		require.Equal(t, want, FileName(n, a))
	}
	require.Equal(t, "crew-page.html", FileName(nil, Ask{}))
}

// The policy lets nothing in from outside, and holds the digests of what stands in the
// page.
func TestPolicy(t *testing.T) {
	_, text := bytesOf(t, AskOf(timeline.Compile(testshow.Small(t), nil)))
	policy := regexp.MustCompile(`http-equiv="Content-Security-Policy" content="([^"]*)"`).FindStringSubmatch(text)[1]
	require.Equal(t, "default-src 'none'; script-src '"+digest(script)+"'; style-src '"+digest(palette()+style)+"'; media-src blob:; base-uri 'none'; form-action 'none'", policy)
	require.NotRegexp(t, `(src|href)="(https?:)?//`, text)
	require.NotContains(t, text, "style=\"")
}

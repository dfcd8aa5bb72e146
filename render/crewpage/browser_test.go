package crewpage

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/shows"
	"emberbeat/shows/example"
	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/testtool"
)

// exampleNight gives what a page of the example's night is made of.
func exampleNight(t testing.TB) Ask {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "demo")
	require.NoError(t, example.CopyTo(dir))
	l, err := shows.Load(dir)
	require.NoError(t, err)
	return asked(timeline.Compile(l.Show, l.Show.Nights[0]))
}

func asked(p *timeline.Plan) Ask {
	a := AskOf(p)
	a.Made = "12 June 2031 14:10"
	return a
}

// hum is a low tone for each song, as long as the song.
type hum struct{}

func (hum) pcm(song *timeline.SongHead) *audio.PCM {
	p := &audio.PCM{Rate: audio.SmallRate, Channels: 1, Samples: make([]int16, song.Duration().Samples(audio.SmallRate))}
	for i := range p.Samples {
		p.Samples[i] = int16(4000 * math.Sin(float64(i)*2*math.Pi*110/audio.SmallRate))
	}
	return p
}

func (h hum) Peaks(_ context.Context, song *timeline.SongHead) (*audio.Pyramid, error) {
	return audio.PyramidOf(h.pcm(song)), nil
}

func (h hum) Handout(_ context.Context, song *timeline.SongHead) ([]byte, error) {
	return audio.SmallWAV(h.pcm(song)), nil
}

// hummed gives each song a sound.
func hummed(a Ask) Ask {
	a.Recordings, a.Sound = hum{}, true
	return a
}

// written makes a page and writes it into a file.
func written(t testing.TB, a Ask) (*Page, string) {
	t.Helper()
	pg, err := New(t.Context(), a)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, pg.Write(&b))
	path := filepath.Join(t.TempDir(), "show.html")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
	return pg, path
}

// calm asserts that the page has complained of nothing and asked for nothing.
func (b *chromium) calm() {
	b.t.Helper()
	console, requests := b.quiet()
	require.Empty(b.t, console, "what the page complains of")
	require.Empty(b.t, requests, "what it asks for from outside")
}

const (
	shown = "Array.from(document.querySelectorAll('section.tab')).filter((s) => !s.hidden).map((s) => s.id).join()"
	code  = "document.getElementById('code').textContent"
)

// seek types a timecode.
func (b *chromium) seek(text string) {
	b.t.Helper()
	b.eval("document.querySelector('#now details').open = true", nil)
	b.click("#typed")
	b.eval("document.getElementById('typed').select()", nil)
	b.typing(text)
	b.key("Enter", "Enter", "\r", 13)
}

// A crew member opens the page on a phone and on a laptop: chooses a song, runs it by
// the phone's clock, goes on by bars, by the picture, by timecode; nothing lies
// outside of the screen, and what is pressed is large enough for a thumb.
func TestPageOnAPhoneAndALaptop(t *testing.T) {
	_, path := written(t, exampleNight(t))
	for _, screen := range []struct {
		name       string
		wide, high int
		phone      bool
	}{{"phone", 360, 640, true}, {"laptop", 1440, 900, false}} {
		t.Run(screen.name, func(t *testing.T) {
			b := startChromium(t)
			b.screen(screen.wide, screen.high, screen.phone)
			b.open(path)
			var tab string
			b.eval(shown, &tab)
			require.Equal(t, "songs", tab)
			require.Contains(t, b.text(".caution"), report.CautionLine[:40])
			b.shot(screen.name + "-songs")
			b.click("button.song[data-song='1']")
			b.until(code + " === '01:00:00:00'")
			require.Contains(t, b.text(".caution"), "not permission to fire")
			b.shot(screen.name + "-now")

			b.seek("01:00:14:00")
			b.until(code + " === '01:00:14:00'")
			before := b.text("#next .countdown")
			b.eval("scrollTo(0, 0)", nil)
			b.click("#play")
			b.until(code + " > '01:00:14:05'")
			require.Equal(t, "Pause", b.text("#play"))
			b.click("#play")
			require.NotEqual(t, before, b.text("#next .countdown"))
			b.until("document.getElementById('play').textContent === 'Play'")
			b.shot(screen.name + "-ran")

			var bars [3]string
			b.eval("document.getElementById('bar').textContent", &bars[0])
			b.click("#on")
			b.until("document.getElementById('bar').textContent !== '" + bars[0] + "'")
			b.eval("document.getElementById('bar').textContent", &bars[1])
			b.click("#back")
			b.until("document.getElementById('bar').textContent !== '" + bars[1] + "'")
			b.eval("document.getElementById('bar').textContent", &bars[2])
			require.Equal(t, bars[0], bars[2])

			b.eval("document.getElementById('picture').scrollIntoView({ block: 'center' })", nil)
			b.shot(screen.name + "-picture")
			var at [2]float64
			b.eval(`(() => { const r = document.getElementById('drawing').firstChild.getBoundingClientRect(); return [r.left + 0.6 * r.width, Math.min(r.top + 40, innerHeight - 200)]; })()`, &at)
			now := b.text("#code")
			b.press(at[0], at[1])
			b.until(code + " !== '" + now + "'")

			b.seek("99:00")
			b.until("document.getElementById('typed-wrong').textContent !== ''")
			require.Contains(t, b.text("#typed-wrong"), "No song of this page runs then")
			b.seek("04:00:10:00")
			b.until(code + " === '04:00:10:00'")
			require.Contains(t, b.text("#song-title"), "Kettle Lightning", "the song in which that timecode runs")

			for _, name := range []string{"sheets", "night", "now", "songs"} {
				b.click("nav [data-tab=" + name + "]")
				b.eval(shown, &tab)
				require.Contains(t, tab, name)
				var wide int
				b.eval("document.documentElement.scrollWidth", &wide)
				require.LessOrEqual(t, wide, screen.wide, "%s is wider than the screen", name)
				b.shot(screen.name + "-" + name)
				if !screen.phone {
					continue
				}
				var low []string
				b.eval(`Array.from(document.querySelectorAll('button, a.button, select, summary, input:not([type=file])')).filter((e) => { const r = e.getBoundingClientRect(); return r.height > 0 && r.height < (e.matches('.go, #zoom') ? 40 : 48); }).map((e) => e.outerHTML.slice(0, 80))`, &low)
				require.Empty(t, low, "too low for a thumb")
			}
			b.calm()
		})
	}
}

// With sound the page follows the sound itself: what stands on it and the sound's own
// time are the same frame, read in one animation callback; it seeks in the sound, and
// goes round in a loop.
func TestSoundAndLabelAgree(t *testing.T) {
	_, path := written(t, hummed(exampleNight(t)))
	b := startChromium(t)
	b.screen(390, 844, true)
	b.open(path)
	b.click("button.song[data-song='1']")
	b.until("document.getElementById('sound').readyState >= 2")
	b.seek("01:00:20:00")
	b.eval("scrollTo(0, 0)", nil)
	b.click("#play")
	b.until("document.getElementById('sound').currentTime > 20.2")
	var seen [][2]any
	b.eval(`new Promise((yes) => { const list = []; const look = () => { list.push([document.getElementById('code').textContent, document.getElementById('sound').currentTime]);
		list.length < 60 ? requestAnimationFrame(look) : yes(list); }; requestAnimationFrame(look); })`, &seen)
	first, last := seen[0][1].(float64), seen[len(seen)-1][1].(float64)
	require.Greater(t, last, first, "it plays")
	for _, s := range seen {
		tc, err := timeline.ParseTimecode(s[0].(string))
		require.NoError(t, err)
		frame, err := timeline.Rate25.Frame(tc)
		require.NoError(t, err)
		start, err := timeline.Rate25.Frame(timeline.Timecode{H: 1})
		require.NoError(t, err)
		require.InDelta(t, s[1].(float64)*25-0.5, float64(frame-start), 1.001, "%v while %v s are heard", s[0], s[1])
	}
	b.click("#play")
	b.until("document.getElementById('sound').paused")
	b.eval("document.getElementById('picture').scrollIntoView()", nil)
	b.shot("phone-sound")

	// a loop of a section never leaves it
	b.eval("document.querySelector('#now details').open = true", nil)
	b.eval(`(() => { const e = document.getElementById('part'); e.value = '2'; e.dispatchEvent(new Event('change')); })()`, nil)
	b.click("#loop")
	var part struct{ From, To float64 }
	b.eval("(() => { const p = JSON.parse(document.getElementById('song-1').textContent).parts[2]; return { From: p.from / 1e4, To: p.to / 1e4 }; })()", &part)
	b.eval(fmt.Sprintf("document.getElementById('sound').currentTime = %v", part.To-0.3), nil)
	b.eval("scrollTo(0, 0)", nil)
	b.click("#play")
	b.until(fmt.Sprintf("document.getElementById('sound').currentTime < %v", part.From+0.25))
	b.eval("document.getElementById('play').click()", nil)
	b.calm()
}

// The keys of a laptop: space, arrows, numbers, n and Escape.
func TestKeys(t *testing.T) {
	_, path := written(t, exampleNight(t))
	b := startChromium(t)
	b.screen(1440, 900, false)
	b.open(path)
	b.key("2", "Digit2", "2", '2')
	var tab string
	b.eval(shown, &tab)
	require.Equal(t, "songs,now", tab, "a wide screen shows the songs beside")
	b.until(code + " === '04:00:00:00'")
	b.key("ArrowRight", "ArrowRight", "", 39)
	b.until(code + " !== '04:00:00:00'")
	b.key(" ", "Space", " ", 32)
	b.until("document.getElementById('play').textContent === 'Pause'")
	b.key(" ", "Space", " ", 32)
	b.until("document.getElementById('play').textContent === 'Play'")
	b.key("n", "KeyN", "n", 'N')
	b.until("!document.getElementById('note-form').hidden")
	b.typing("n 1 2")
	b.key("Escape", "Escape", "", 27)
	b.until("document.getElementById('note-form').hidden")
	b.key("4", "Digit4", "4", '4')
	b.eval(shown, &tab)
	require.Equal(t, "night", tab)

	// everything that is shown can be reached by Tab, in view, with a ring around it
	reached := map[string]bool{}
	for range 12 {
		b.key("Tab", "Tab", "", 9)
		var on struct {
			Name string
			Ring string
		}
		b.eval("(() => { const e = document.activeElement; return { Name: e.outerHTML.slice(0, 60), Ring: getComputedStyle(e).outlineStyle }; })()", &on)
		require.Equal(t, "solid", on.Ring, on.Name)
		reached[on.Name] = true
	}
	require.Greater(t, len(reached), 8)
	b.calm()
}

// Who reads the page is remembered, and what is shown is theirs: a spotter has the
// cues and the sheet of one position.
func TestRoleIsRemembered(t *testing.T) {
	pg, path := written(t, exampleNight(t))
	spotter := pg.Data.Roles[len(pg.Data.Roles)-1]
	b := startChromium(t)
	b.screen(360, 640, true)
	b.open(path)
	b.click("nav [data-tab=sheets]")
	b.eval(fmt.Sprintf(`(() => { const e = document.getElementById('role'); e.value = %q; e.dispatchEvent(new Event('change')); })()`, spotter.Key), nil)
	for range 2 { // at once, and when the page is opened again
		var sheets string
		b.eval("Array.from(document.querySelectorAll('#sheet-list > li')).filter((e) => !e.hidden).map((e) => e.dataset.sheet).join()", &sheets)
		require.Equal(t, "spotter-sheet,hold-sheet,running-sheet", sheets)
		b.click("#sheet-list li[data-sheet=spotter-sheet] summary")
		b.until("document.querySelector('li[data-sheet=spotter-sheet] .sheet').firstChild")
		var parts []string
		b.eval("Array.from(document.querySelectorAll('li[data-sheet=spotter-sheet] section')).filter((e) => !e.hidden).map((e) => e.querySelector('h4').textContent)", &parts)
		require.Len(t, parts, 1)
		for _, p := range parts {
			require.Contains(t, p, pg.Data.Positions[*spotter.At])
		}
		b.shot("spotter-sheet")
		b.open(path)
		var role string
		b.eval("document.getElementById('role').value", &role)
		require.Equal(t, spotter.Key, role)
		b.click("nav [data-tab=sheets]")
	}
	b.click("nav [data-tab=now]")
	b.until("document.getElementById('next').textContent !== ''")
	require.Contains(t, b.text("#next"), "No more commands are planned in this song at this place")
	b.calm()
}

// Colours, letters and hand are chosen and remembered; Night has no bright area.
func TestLooks(t *testing.T) {
	_, path := written(t, exampleNight(t))
	b := startChromium(t)
	b.screen(360, 640, true)
	b.open(path)
	choose := func(id, value string) {
		b.eval(fmt.Sprintf(`(() => { const e = document.getElementById(%q); e.value = %q; e.dispatchEvent(new Event('change')); })()`, id, value), nil)
	}
	choose("theme", "night")
	choose("letters", "150")
	choose("hand", "left")
	b.open(path)
	b.click("button.song[data-song='1']")
	b.seek("01:00:46:00")
	b.eval("scrollTo(0, 0)", nil)
	b.shot("night-large")
	var got struct {
		Back, Size string
		Play, Note float64
		Wide       int
	}
	b.eval(`({ Back: getComputedStyle(document.documentElement).backgroundColor, Size: getComputedStyle(document.documentElement).fontSize,
		Play: document.getElementById('play').getBoundingClientRect().left, Note: document.getElementById('note-open').getBoundingClientRect().left, Wide: document.documentElement.scrollWidth })`, &got)
	require.Equal(t, "rgb(11, 10, 9)", got.Back)
	require.Equal(t, "24px", got.Size)
	require.Less(t, got.Note, got.Play, "the note is on the thumb's side")
	require.LessOrEqual(t, got.Wide, 360)
	b.eval("document.getElementById('stage').scrollIntoView()", nil)
	b.shot("night-stage")
	choose("theme", "day")
	b.shot("day-stage")
	b.calm()
}

// Mail programs and previews run no scripts: songs, times and sheets can be read
// there, and so on paper.
func TestWithoutScripts(t *testing.T) {
	pg, path := written(t, exampleNight(t))
	b := startChromium(t)
	b.screen(360, 640, true)
	b.call("Emulation.setScriptExecutionDisabled", map[string]any{"value": true}, nil)
	b.open(path)
	b.shot("no-scripts")
	// what is shown is read from the layout, since nothing can be asked of the page
	var r struct {
		Strings []string `json:"strings"`
		Docs    []struct {
			Layout struct {
				Text []int `json:"text"`
			} `json:"layout"`
		} `json:"documents"`
	}
	b.call("DOMSnapshot.captureSnapshot", map[string]any{"computedStyles": []string{}}, &r)
	var text strings.Builder
	for _, i := range r.Docs[0].Layout.Text {
		if i >= 0 {
			text.WriteString(r.Strings[i] + "\n")
		}
	}
	for _, g := range pg.Data.Songs {
		require.Contains(t, text.String(), g.Title)
		for _, c := range g.Cues[:5] {
			require.Contains(t, text.String(), c.Code)
			require.Contains(t, text.String(), c.Until)
		}
	}
	for i := range pg.sheets {
		require.Contains(t, text.String(), pg.sheets[i].printed.Parts[0].Heading, pg.sheets[i].kind.Name)
	}
	require.Contains(t, text.String(), "not permission to fire")
	require.NotContains(t, text.String(), "Pause")
	b.calm()
}

// On paper there are caution, revision, songs, findings and the sheets that are open.
func TestPrinted(t *testing.T) {
	pg, path := written(t, exampleNight(t))
	testtool.Need(t, "pdftotext")
	b := startChromium(t)
	b.screen(1440, 900, false)
	b.open(path)
	b.click("nav [data-tab=sheets]")
	b.click("#sheet-list li[data-sheet=hold-sheet] summary")
	b.until("document.querySelector('li[data-sheet=hold-sheet] .sheet').firstChild")
	var r struct{ Data string }
	b.call("Page.printToPDF", map[string]any{"paperWidth": 8.27, "paperHeight": 11.69}, &r)
	pdf, err := base64.StdEncoding.DecodeString(r.Data)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "page.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o644))
	out, err := exec.Command("pdftotext", "-layout", file, "-").Output()
	require.NoError(t, err)
	text := string(out)
	for _, want := range append([]string{"not permission to fire", pg.Hash, "revision A", "Made 12 June 2031", "Hold sheet"}, pg.Data.Songs[0].Title, pg.Data.Songs[1].Title, pg.Data.Songs[2].Title) {
		require.Contains(t, text, want)
	}
	require.NotContains(t, text, "Pause")
	require.NotContains(t, text, "Manual-go", "what is not open stays off the paper")
}

// Names that want to be markup, scripts or ends of elements are names, in every part
// of the page.
func TestHostileNames(t *testing.T) {
	evil := []string{`</script><script>window.hacked=1</script>`, `"><img src=x onerror="window.hacked=1">`, `</noscript><script>hacked=1</script>`, `<!--<script>`, `</style><b>`, `&lt;b&gt;&amp;`,
		`' onclick='hacked=1`, `{{.}} ${hacked=1}`, `</title><svg onload=hacked=1>`, `]]>`}
	s := testshow.Small(t)
	n := 0
	s, err := s.Edit(func(d *timeline.Draft) error {
		rename := func(k *timeline.Kind, song timeline.ID) error {
			for _, r := range k.List(s, song) {
				for _, field := range []string{"name", "title", "note", "revision"} {
					if k.Field(field) == nil {
						continue
					}
					n++
					if err := d.Set(timeline.Ref{Kind: k.Name, Song: song, ID: r.RecordID()}, field, timeline.Value{Text: evil[n%len(evil)] + fmt.Sprint(n)}); err != nil {
						return err
					}
				}
			}
			return nil
		}
		for _, k := range timeline.Kinds() {
			if !k.InSong {
				if err := rename(k, ""); err != nil {
					return err
				}
				continue
			}
			for _, g := range s.Songs {
				if err := rename(k, g.ID); err != nil {
					return err
				}
			}
		}
		return nil
	})
	require.NoError(t, err)
	a := asked(timeline.Compile(s, s.Nights[0]))
	a.Sheets = []string{"all"}
	pg, path := written(t, a)
	b := startChromium(t)
	b.screen(360, 640, true)
	b.open(path)
	for i := range pg.Data.Songs {
		b.click("nav [data-tab=songs]")
		b.click(fmt.Sprintf("button.song[data-song='%d']", i))
		b.until("document.getElementById('song-title').textContent !== ''")
		var title string
		b.eval("document.getElementById('song-title').textContent", &title)
		require.Equal(t, fmt.Sprintf("%d  %s", pg.Data.Songs[i].Number, pg.Data.Songs[i].Title), title)
		b.click("#zoom")
		b.click("#on")
	}
	b.shot("hostile")
	b.eval("document.querySelectorAll('details').forEach((d) => (d.open = true))", nil)
	b.until("Array.from(document.querySelectorAll('#sheet-list .sheet')).every((e) => e.firstChild)")
	var odd int
	b.eval("document.querySelectorAll('img, b, iframe, object, embed, link, [onclick], [onerror], [onload], section script, svg svg').length", &odd)
	require.Zero(t, odd, "elements that the page does not write")
	var hacked bool
	b.eval("'hacked' in window", &hacked)
	require.False(t, hacked)
	b.calm()
}

// A note is written at a moment, kept when the page is closed, and saved as a file;
// what the file holds is in NotesFile's words.
func TestNoteIsKeptAndSaved(t *testing.T) {
	pg, path := written(t, exampleNight(t))
	b := startChromium(t)
	b.screen(360, 640, true)
	b.open(path)
	b.click("button.song[data-song='1']")
	b.seek("01:00:20:05")
	b.until(code + " === '01:00:20:05'")
	b.click("#note-open")
	b.click("#note-talk button:nth-child(1)")
	b.shot("note")
	b.click("#note-by")
	b.typing("Ada <Spot>")
	b.click("#note button[type=submit]")
	b.until("document.getElementById('note-form').hidden")
	b.open(path)
	b.click("nav [data-tab=night]")
	require.Contains(t, b.text("#notes"), "late by a beat (Ada <Spot>)")
	require.Contains(t, b.text("#notes-said"), "Kept on this phone")
	file := b.saved("#notes-save")
	var got struct {
		Format         int `json:"emberbeat_notes"`
		Revision, Page string
		Notes          []struct {
			ID, Song, Bar, Code, Text, By string
			At                            int64
		}
	}
	require.NoError(t, json.Unmarshal(file, &got))
	require.Equal(t, 1, got.Format)
	require.Equal(t, pg.Hash, got.Page)
	require.Equal(t, "A", got.Revision)
	require.Len(t, got.Notes, 1)
	note := got.Notes[0]
	require.Equal(t, "late by a beat", note.Text)
	require.Equal(t, "Ada <Spot>", note.By)
	require.Equal(t, string(pg.Data.Songs[1].ID), note.Song)
	require.EqualValues(t, 202000, note.At)
	require.NotEmpty(t, note.Bar)
	b.click("#notes button")
	require.Contains(t, b.text("#notes-said"), "No notes")
	b.calm()
}

// saved clicks a link that saves a file, and gives what is in it.
func (b *chromium) saved(selector string) []byte {
	b.t.Helper()
	dir := b.t.TempDir()
	b.call("Browser.setDownloadBehavior", map[string]any{"behavior": "allow", "downloadPath": dir, "eventsEnabled": false}, nil)
	b.click(selector)
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		list, err := filepath.Glob(filepath.Join(dir, "*.json"))
		require.NoError(b.t, err)
		if len(list) == 1 {
			data, err := os.ReadFile(list[0])
			require.NoError(b.t, err)
			if json.Valid(data) {
				return data
			}
		}
	}
	b.t.Fatal("no file is saved")
	return nil
}

// Where the phone keeps nothing, as in a private window, all works, and a note is
// offered as a file at once.
func TestWithoutStorage(t *testing.T) {
	_, path := written(t, exampleNight(t))
	b := startChromium(t)
	b.screen(360, 640, true)
	b.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } })"}, nil)
	b.open(path)
	b.click("button.song[data-song='0']")
	b.click("#note-open")
	b.click("#note-text")
	b.typing("spotter could not see")
	b.click("#note button[type=submit]")
	var tab string
	b.eval(shown, &tab)
	require.Equal(t, "night", tab)
	require.Contains(t, b.text("#notes-said"), "save the file now")
	require.Contains(t, string(b.saved("#notes-save")), "spotter could not see")
	b.calm()
}

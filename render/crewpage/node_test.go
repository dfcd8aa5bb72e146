package crewpage

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/front"
	"emberbeat/shows/report/calling"
	"emberbeat/shows/report/crew"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/testtool"
)

// node runs a script beside the page's modules and reads the JSON that it prints;
// given is what it finds in the variable given.
func node(t *testing.T, script string, given, into any) {
	t.Helper()
	testtool.Need(t, "node")
	dir := t.TempDir()
	files, err := filepath.Glob("web/*.js")
	require.NoError(t, err)
	for _, f := range files {
		b, err := os.ReadFile(f)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, filepath.Base(f)), b, 0o644))
	}
	data, err := json.Marshal(given)
	require.NoError(t, err)
	for name, text := range map[string]string{"package.json": `{"type":"module"}`, "given.json": string(data),
		"test.js": "import { readFileSync } from 'node:fs';\nconst given = JSON.parse(readFileSync(new URL('./given.json', import.meta.url)));\n" + script} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	cmd := exec.Command("node", filepath.Join(dir, "test.js"))
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(out, into), "%s", out)
}

// Timecode is written, and read back, as the model does, at every rate.
func TestTimecodeAsTheModel(t *testing.T) {
	random := testtool.Random(t, 1)
	type ask struct {
		Song  crew.Song `json:"song"`
		Frame int64     `json:"n"`
		Text  string    `json:"text"`
	}
	var asks []ask
	var want []string
	for _, r := range timeline.Rates() {
		show, err := timeline.NewShow("s", "S", r).Edit(func(d *timeline.Draft) error {
			d.Put("", &timeline.SongHead{Base: timeline.Base{ID: "g"}, Title: "G", Slug: "g", Start: timeline.Timecode{H: 1, M: 10}, Length: timeline.Minute},
				&timeline.Set{Base: timeline.Base{ID: "main"}, Name: "main", Entries: []timeline.Entry{{Song: "g"}}})
			return nil
		})
		require.NoError(t, err)
		pg, err := crew.New(timeline.Compile(show, nil), rule.Facts{}, nil, "")
		require.NoError(t, err)
		frames := []int64{0, 1, 2, 1799, 1800, 1801, 17981, 17982, 17983, r.DayFrames() - 1, pg.Songs[0].Frame}
		for range 300 {
			frames = append(frames, random.Int64N(r.DayFrames()))
		}
		for _, f := range frames {
			asks = append(asks, ask{pg.Songs[0], f, r.Label(f)})
			want = append(want, r.Label(f))
		}
	}
	var got []struct {
		Label, Back string
	}
	node(t, `import { label, codeAt, timeOf, frameAt } from './time.js';
console.log(JSON.stringify(given.map(({ song, n, text }) => ({ Label: label(song.rate, n), Back: codeAt(song, timeOf(song, text)) }))));`, asks, &got)
	for i := range want {
		require.Equal(t, want[i], got[i].Label, "frame %d", asks[i].Frame)
		require.Equal(t, want[i], got[i].Back, "the label that runs at the time of %s", want[i])
	}
}

// What is no timecode or bar is refused.
func TestTypedTimes(t *testing.T) {
	p := timeline.Compile(testshow.Small(t), nil)
	pg, err := crew.New(p, rule.Facts{}, nil, "")
	require.NoError(t, err)
	var got [][2]*int64
	texts := []string{"", "x", "1", "61.1", "1.5", "9.3", "01:00:00:24", "01:00:00:25", "01:00:61:00", "1.00.02.10", "24:00:00:00", "<b>", "-3", "1e3"}
	node(t, `import { timeOf, timeOfBar } from './time.js';
console.log(JSON.stringify(given.texts.map((s) => [timeOf(given.song, s), timeOfBar(given.song, s)])));`, map[string]any{"song": pg.Songs[0], "texts": texts}, &got)
	read := map[string][2]string{}
	for i, text := range texts {
		for k, v := range got[i] {
			r := read[text]
			if r[k] = "refused"; v != nil {
				r[k] = fmt.Sprint(*v)
			}
			read[text] = r
		}
	}
	require.Equal(t, map[string][2]string{"": {"refused", "refused"}, "x": {"refused", "refused"}, "1": {"refused", "0"}, "61.1": {"refused", "refused"}, "1.5": {"refused", "refused"},
		"9.3": {"refused", "170000"}, "01:00:00:24": {"9600", "refused"}, "01:00:00:25": {"refused", "refused"}, "01:00:61:00": {"refused", "refused"}, "1.00.02.10": {"24000", "refused"},
		"24:00:00:00": {"refused", "refused"}, "<b>": {"refused", "refused"}, "-3": {"refused", "refused"}, "1e3": {"refused", "refused"}}, read)
}

// tellsApart reports whether a time in ticks is on the same side of all that begins or
// ends in a song as the exact time is.
func tellsApart(b *calling.Board, at timeline.Time) bool {
	near := func(t timeline.Time) bool { return t-at < crew.Tick && at-t < crew.Tick }
	for i := range b.Cues {
		c := &b.Cues[i]
		if near(c.Command) || near(max(c.Hit, c.Command)+c.Open) {
			return false
		}
	}
	for _, a := range b.Arms {
		for _, s := range a.Spans {
			if near(s.Up) || near(s.Down) {
				return false
			}
		}
	}
	if beats := b.Song.Song.Beats; !beats.Empty() {
		const grain = 480 // what lies within 1/960 of a beat is called by it
		part := beats.Locate(at).Beat
		if part = part.Sub(timeline.NewRat(part.Floor(), 1)); part.Cmp(timeline.NewRat(1, grain)) < 0 || part.Cmp(timeline.NewRat(grain-1, grain)) > 0 {
			return false
		}
	}
	for _, p := range b.Parts {
		if near(p.From) {
			return false
		}
	}
	return true
}

// moments draws moments of a song that can be told apart.
func moments(random *rand.Rand, b *calling.Board, end int64, n int) (list []int64) {
	for len(list) < n {
		at := timeline.Time(random.Int64N(end)) * crew.Tick
		if tellsApart(b, at) {
			list = append(list, int64(at/crew.Tick))
		}
	}
	return list
}

// The page has at each moment what the calling view has.
func TestMomentAsTheCallingView(t *testing.T) {
	random := testtool.Random(t, 2)
	for _, p := range []*timeline.Plan{exampleNight(t).Plan, timeline.Compile(testshow.Small(t), nil), timeline.Compile(testshow.Tour(t, 3, 60), nil)} {
		pg, err := crew.New(p, rule.Facts{}, nil, "")
		require.NoError(t, err)
		for i := range pg.Songs {
			b := calling.New(p, i)
			at := moments(random, b, pg.Songs[i].Duration, 120)
			var got []struct {
				Next, In, Part int
				Drain          float64
				After, Open    []int
				Arms           []struct {
					Up bool
					In int64
				}
				Bar string
			}
			node(t, `import { look } from './moment.js';
import { barText } from './time.js';
console.log(JSON.stringify(given.at.map((at) => { const m = look(given.song, at); return { ...m, Bar: barText(given.song, at), arms: m.arms.map((a) => ({ Up: a.up, In: a.in })) }; })));`,
				map[string]any{"song": pg.Songs[i], "at": at}, &got)
			var m calling.Moment
			for k, tick := range at {
				now := timeline.Time(tick) * crew.Tick
				b.Look(&m, now, &calling.Marks{})
				g := &got[k]
				where := fmt.Sprintf("%s at %s", pg.Songs[i].Title, now)
				require.Equal(t, m.Next, g.Next, where)
				require.Equal(t, m.Part, g.Part, where)
				require.InDelta(t, float64(m.In)/float64(crew.Tick), float64(g.In), 1, where)
				require.InDelta(t, m.Drain, g.Drain, 0.001, where)
				require.Equal(t, append([]int{}, m.After[:min(len(m.After), 4)]...), g.After, where)
				require.Equal(t, append([]int{}, m.Open...), g.Open, where)
				require.Len(t, g.Arms, len(m.Arms))
				for n := range m.Arms {
					require.Equal(t, m.Arms[n].Up, g.Arms[n].Up, where)
					require.InDelta(t, float64(m.Arms[n].In)/float64(crew.Tick), float64(g.Arms[n].In), 1, where)
				}
				if !b.Song.Song.Beats.Empty() {
					require.Equal(t, b.Place(now), g.Bar, where)
				}
			}
		}
	}
}

// tiny is a part of a height that the page's whole milliseconds may make or miss.
const tiny = 0.01

// Heights are those of the courses: what the page interpolates is what Go has.
func TestHeightsAsTheStage(t *testing.T) {
	random := testtool.Random(t, 3)
	p := exampleNight(t).Plan
	pic := newPictures(t.Context(), Ask{Plan: p})
	for i := range p.Songs {
		text, err := pic.stage(i)
		require.NoError(t, err)
		var data any
		require.NoError(t, json.Unmarshal(text, &data))
		at := moments(random, calling.New(p, i), int64(p.Songs[i].Duration/crew.Tick), 200)
		var got [][]struct {
			Look   int
			Height float64
			How    string
		}
		node(t, `import { standing } from './stage.js';
console.log(JSON.stringify(given.at.map((at) => standing(given.stage, at, false))));`, map[string]any{"stage": data, "at": at}, &got)
		pic.scene.Reset(pic.scene.Size, 100)
		var d front.Drawer
		keys := d.DrawKeys(pic.scene, &pic.theme, &front.View{Stage: stageOf(p, i), Area: pic.scene.Bounds()})
		seen := 0
		for k, tick := range at {
			now := timeline.Time(tick) * crew.Tick
			n := 0
			for s := range keys.Spells {
				sp := &keys.Spells[s]
				if now < sp.From || now >= sp.To {
					continue
				}
				height := 0.0
				for h := range sp.Hits {
					height = max(height, sp.Hits[h].Height(now))
				}
				if sp.Still {
					height = 1
				}
				if height == 0 {
					continue
				}
				// at the ends of a hit either side may say that next to nothing still stands
				for n < len(got[k]) && got[k][n].Height < tiny && math.Abs(got[k][n].Height-height) > tiny {
					n++
				}
				if height < tiny && (n == len(got[k]) || math.Abs(got[k][n].Height-height) > tiny) {
					continue
				}
				require.Less(t, n, len(got[k]), "%s", now)
				require.InDelta(t, height, got[k][n].Height, tiny, "%s", now)
				require.Equal(t, sp.Lines, got[k][n].How == "line", "%s", now)
				n++
			}
			for n < len(got[k]) && got[k][n].Height < tiny {
				n++
			}
			require.Len(t, got[k], n, "%s", now)
			seen += n
		}
		require.Positive(t, seen)
	}
}

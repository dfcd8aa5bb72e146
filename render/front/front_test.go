package front

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool"
)

const (
	ms  = timeline.Millisecond
	sec = timeline.Second
)

func rec[T any, P interface {
	*T
	timeline.Record
}](kind, id string, fill func(P)) timeline.Record {
	r := timeline.KindOf(kind).New(timeline.ID(id)).(P)
	fill(r)
	return r
}

// demo is the rig of these tests: one effect of every shape, some turned.
var demo = []struct {
	id, name, article string
	x, y, z, pan, t   float64
}{
	{"jet-l", "Jet left", "jet", -5, 1, 0, -12, 0}, {"jet-r", "Jet right", "jet", 5, 1, 0, 12, 0},
	{"flame-l", "Flame left", "flame", -5, 1, 0, 0, 0}, {"flame-r", "Flame right", "flame", 5, 1, 0, 0, -80},
	{"spark-l", "Sparks left", "sparks", -3, 4, 0.8, 0, 0}, {"spark-r", "Sparks right", "sparks", 3, 4, 0.8, 0, 8},
	{"comet", "Comet", "comet", -1, 6, 0, 0, 0}, {"burst", "Airburst", "burst", 1, 6, 0, 0, 0}, {"pot", "Flash pot", "pot", 0, 6, 0, 0, 0},
	{"paper", "Paper", "paper", -7, 5, 0, 0, 0}, {"fog", "Fog", "fog", 7, 5, 0, 0, 0}, {"fall", "Waterfall", "fall", 0, 7, 7, 0, 0}, {"own", "Kite", "own", 2, 7, 7, 180, 0},
	{"unknown", "No height", "unknown", -2, 2, 0, 0, 0},
}

func stock() []timeline.Record {
	article := func(id, name string, f timeline.Family, height float64, lead, open timeline.Time, more ...func(*timeline.Article)) timeline.Record {
		return rec("article", id, func(a *timeline.Article) {
			a.Name, a.Family, a.Height, a.Lead, a.Open, a.Spread, a.Recovery = name, f, height, lead, open, 30*ms, sec
			for _, m := range more {
				m(a)
			}
		})
	}
	near := func(a *timeline.Article) { a.Clear = 2 }
	return []timeline.Record{
		article("jet", "Cold jet", timeline.CO2Jet, 6, 120*ms, 500*ms), article("flame", "Gas flame", timeline.PropaneFlame, 5, 150*ms, 400*ms, near),
		article("sparks", "Sparks", timeline.SparkMachine, 3.5, 700*ms, 2*sec), article("comet", "Comet", timeline.Comet, 8, 300*ms, sec),
		article("burst", "Airburst", timeline.Airburst, 7, 900*ms, 800*ms), article("pot", "Flash", timeline.FlashPot, 2, 20*ms, 200*ms),
		article("paper", "Paper", timeline.ConfettiSingle, 7, 60*ms, 100*ms), article("fog", "Low fog", timeline.FogMachine, 0, 700*ms, 6*sec),
		article("fall", "Waterfall", timeline.Waterfall, 7, 300*ms, 4*sec), article("own", "Kite", timeline.OwnFamily, 3, 300*ms, sec),
		article("unknown", "Bought blind", timeline.PropaneFlame, 0, 150*ms, 400*ms), article("given", "Measured jet", timeline.CO2Jet, 6, 120*ms, 500*ms, func(a *timeline.Article) { a.Rise, a.Fall = 80*ms, 300*ms }),
	}
}

// show gives a plan with one song of the given bars of 2 s, with the rig of these
// tests and a venue.
func show(t testing.TB, bars int, more ...timeline.Record) (*timeline.Plan, *timeline.SongPlan) {
	t.Helper()
	s := timeline.NewShow("demo", "Lanterns over Water", timeline.Rate25)
	show, err := s.Edit(func(d *timeline.Draft) error {
		d.Put("", stock()...)
		for _, x := range demo {
			d.Put("", rec("position", "p-"+x.id, func(p *timeline.StagePosition) { p.Name, p.X, p.Y, p.Z = "At "+x.name, x.x, x.y, x.z }))
			d.Put("", rec("placed", x.id, func(p *timeline.Placed) {
				p.Name, p.Article, p.Position, p.Pan, p.Tilt = x.name, timeline.ID(x.article), timeline.ID("p-"+x.id), x.pan, x.t
			}))
		}
		d.Put("", rec("venue", "hall", func(v *timeline.Venue) {
			v.Name, v.Slug, v.Trim = "Hall", "hall", 11.5
			v.Audience = []timeline.PlanLine{{Name: "front barrier", From: timeline.Point{X: -10, Y: -4}, To: timeline.Point{X: 10, Y: -4}}}
			v.Performers = []timeline.PlanMark{{Name: "singer", At: timeline.Point{X: 0, Y: 1}, Radius: 0.5}, {Name: "bass", At: timeline.Point{X: 4, Y: 2}, Radius: 0.5}, {Name: "guest", At: timeline.Point{X: -3, Y: 1}, Radius: 0.5, Song: "ember", From: 20 * sec, To: 30 * sec}}
		}), rec("night", "n1", func(n *timeline.Night) { n.Name, n.Slug, n.Venue = "First", "first", "hall" }),
			rec("song", "ember", func(h *timeline.SongHead) {
				h.Title, h.Slug, h.Start, h.Length = "Ember", "ember", timeline.Timecode{H: 3}, timeline.Time(bars)*2*sec
				h.Beats = timeline.SteadyBeatMap(0, sec/2, timeline.Metre{Num: 4, Den: 4}, bars)
			}))
		for _, x := range demo {
			d.Put("ember", rec("lane", x.id, func(l *timeline.Lane) { l.Name, l.Target = x.name, timeline.ID(x.id) }))
		}
		d.Put("ember", more...)
		d.Put("", rec("set", "set", func(s *timeline.Set) { s.Name, s.Entries = "Set", []timeline.Entry{{Song: "ember"}} }))
		return nil
	})
	require.NoError(t, err)
	p := timeline.Compile(show, show.Night("n1"))
	return p, p.Songs[0].SongPlan
}

// cues gives cues of a lane at times.
func cues(lane string, at ...timeline.Time) (list []timeline.Record) {
	for i, t := range at {
		list = append(list, rec("cue", fmt.Sprintf("%s-%d", lane, i), func(c *timeline.Cue) { c.Lane, c.At = timeline.ID(lane), timeline.AtTime(t) }))
	}
	return list
}

// calm is a song in which every effect plays, none too often.
func calmSong(t testing.TB) *Stage {
	var list []timeline.Record
	for i, x := range demo {
		for k := range 5 {
			list = append(list, cues2(x.id, k, timeline.Time(4+3*k)*sec+timeline.Time(i)*150*ms))
		}
	}
	return New(show(t, 16, list...))
}

func cues2(lane string, k int, at timeline.Time) timeline.Record {
	return rec("cue", fmt.Sprintf("%s-%d", lane, k), func(c *timeline.Cue) { c.Lane, c.At = timeline.ID(lane), timeline.AtTime(at) })
}

// strobes is a song in which jets and flames are hit sixteen times a second, all at
// once and in turn, and others now and then.
func strobes(t testing.TB) *Stage {
	var list []timeline.Record
	for i, x := range demo {
		n := 0
		for at := 2 * sec; at < 10*sec; at += 62 * ms {
			turn := int((at / (62 * ms)) % 4)
			if at > 6*sec && turn != i%4 || i > 5 && n > 0 && turn != 0 {
				continue
			}
			list = append(list, cues2(x.id, n, at))
			n++
		}
	}
	return New(show(t, 8, list...))
}

func picture(st *Stage, size image.Point, scale render.Scale, fill func(*View)) *render.Scene {
	s := render.NewScene(render.NewFaces())
	s.Reset(size, scale)
	var d Drawer
	v := View{Stage: st, Area: image.Rectangle{Max: size}}
	fill(&v)
	d.Draw(s, &render.Dark, &v)
	return s
}

// At no place of the picture does light come and go more than three times in any
// second (WCAG 2.2, 2.3.1: pairs of opposite changes by a tenth or more, the darker
// below 0.8), nor does more than a tenth of it within a third of one.
func TestNothingFlashes(t *testing.T) {
	for name, from := range map[string]struct {
		th    *render.Theme
		above bool
	}{"dark": {&render.Dark, false}, "day": {&render.Day, false}, "above": {&render.Dark, true}} {
		t.Run(name, func(t *testing.T) {
			st, th := strobes(t), from.th
			const fps, cell, w, h = 24, 8, 480, 272
			s := render.NewScene(render.NewFaces())
			var d Drawer
			var frames [][]float64
			for k := range fps * 8 {
				s.Reset(image.Pt(w, h), 100)
				d.Draw(s, th, &View{Stage: st, Area: image.Rect(0, 0, w, h-nextHigh), At: timeline.Time(k) * sec / fps, Above: from.above})
				frames = append(frames, lights(paper.Image(s, th), cell))
			}
			seen, cells := 0, len(frames[0])
			for c := range cells {
				worst := mostFlashes(frames, c, fps)
				require.LessOrEqual(t, worst, 3, "cell %d of row of %d flashes", c, w/cell)
				if changed(frames, c) {
					seen++
				}
			}
			require.Greater(t, seen, 20, "something is seen that comes and goes")
			for k := range len(frames) - fps/3 {
				n := 0
				for c := range cells {
					if math.Abs(frames[k][c]-frames[k+fps/3][c]) >= 0.1 {
						n++
					}
				}
				require.LessOrEqual(t, float64(n)/float64(cells), 0.1, "from frame %d on", k)
			}
		})
	}
}

// lights gives the mean relative luminance of each cell of a picture.
func lights(img *image.RGBA, cell int) (list []float64) {
	b := img.Bounds()
	for y := b.Min.Y; y+cell <= b.Max.Y; y += cell {
		for x := b.Min.X; x+cell <= b.Max.X; x += cell {
			sum := 0.0
			for dy := range cell {
				for dx := range cell {
					p := img.Pix[img.PixOffset(x+dx, y+dy):]
					sum += channels[0][p[0]] + channels[1][p[1]] + channels[2][p[2]]
				}
			}
			list = append(list, sum/float64(cell*cell))
		}
	}
	return list
}

// channels are the parts that red, green and blue have in a luminance, by their value.
var channels = func() (list [3][256]float64) {
	for v := range 256 {
		list[0][v] = render.Luminance(color.RGBA{R: uint8(v), A: 255})
		list[1][v] = render.Luminance(color.RGBA{G: uint8(v), A: 255})
		list[2][v] = render.Luminance(color.RGBA{B: uint8(v), A: 255})
	}
	return list
}()

// turns lists the frames at which the light of a cell has changed by a tenth or more
// against the way it went before.
func turns(frames [][]float64, c int) (at []int) {
	low, high := frames[0][c], frames[0][c]
	way := 0
	for k := range frames {
		v := frames[k][c]
		low, high = min(low, v), max(high, v)
		switch {
		case v-low >= 0.1 && low < 0.8 && way <= 0:
			at, way, high = append(at, k), 1, v
		case high-v >= 0.1 && v < 0.8 && way >= 0:
			at, way, low = append(at, k), -1, v
		}
		if way > 0 {
			low = max(low, high-0.1)
		}
		if way < 0 {
			high = min(high, low+0.1)
		}
	}
	return at
}

func changed(frames [][]float64, c int) bool { return len(turns(frames, c)) > 0 }

// mostFlashes gives how many pairs of opposite changes any second of a cell holds.
func mostFlashes(frames [][]float64, c, fps int) (most int) {
	at := turns(frames, c)
	for i := range at {
		n := 0
		for k := i; k < len(at) && at[k] < at[i]+fps; k++ {
			n++
		}
		most = max(most, n/2)
	}
	return most
}

// The measure itself finds what flashes: a cell that comes and goes eight times a
// second.
func TestFlashesAreFound(t *testing.T) {
	var frames [][]float64
	for k := range 48 {
		frames = append(frames, []float64{0.01 + 0.5*float64(k/3%2), 0.01 + 0.09*float64(k/3%2)})
	}
	require.Equal(t, 4, mostFlashes(frames, 0, 24))
	require.Zero(t, mostFlashes(frames, 1, 24), "less than a tenth is no flash")
}

// Hits that follow too fast stand still as one striped figure; hits far apart do not.
func TestSpells(t *testing.T) {
	for _, c := range []struct {
		name    string
		at      []timeline.Time
		striped []bool
		spans   [][2]timeline.Time
	}{
		{"one", []timeline.Time{2 * sec}, []bool{false}, [][2]timeline.Time{{2000 * ms, 2900 * ms}}},
		{"far apart", []timeline.Time{2 * sec, 4 * sec}, []bool{false, false}, [][2]timeline.Time{{2000 * ms, 2900 * ms}, {4000 * ms, 4900 * ms}}},
		{"overlapping", []timeline.Time{2 * sec, 2500 * ms}, []bool{false}, [][2]timeline.Time{{2000 * ms, 3400 * ms}}},
		{"two within a second and a half", []timeline.Time{2 * sec, 2950 * ms}, []bool{false, false}, [][2]timeline.Time{{2000 * ms, 2900 * ms}, {2950 * ms, 3850 * ms}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			st := New(show(t, 8, cues("jet-l", c.at...)...))
			require.Len(t, st.spells, len(c.spans))
			for i, s := range st.spells {
				require.Equal(t, c.striped[i], s.striped)
				require.Equal(t, c.spans[i], [2]timeline.Time{s.from, s.to})
			}
		})
	}
	short := rec("article", "jet", func(a *timeline.Article) {
		a.Name, a.Family, a.Height, a.Open, a.Rise, a.Fall = "Short jet", timeline.CO2Jet, 6, 20*ms, 10*ms, 20*ms
	})
	at := []timeline.Time{2 * sec, 2100 * ms, 2200 * ms, 2300 * ms, 6 * sec}
	p, song := show(t, 8, cues("jet-l", at...)...)
	next, err := p.Show.Edit(func(d *timeline.Draft) error { d.Put("", short); return nil })
	require.NoError(t, err)
	p = timeline.Compile(next, p.Night)
	st := New(p, p.Songs[0].SongPlan)
	require.NotNil(t, song)
	require.Len(t, st.spells, 2)
	require.True(t, st.spells[0].striped)
	require.Equal(t, [2]timeline.Time{2000 * ms, 2340 * ms}, [2]timeline.Time{st.spells[0].from, st.spells[0].to})
	require.False(t, st.spells[1].striped, "the one by itself stands as it is")
}

// Whatever hits a place gets, it never changes more than three times a second.
func TestPlacesStayCalm(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(1, 40).Draw(rt, "n")
		var list []timeline.Record
		for i := range n {
			lane := rapid.SampledFrom([]string{"jet-l", "flame-l", "spark-l"}).Draw(rt, "lane")
			list = append(list, rec("cue", fmt.Sprint("c", i), func(c *timeline.Cue) {
				c.Lane, c.At = timeline.ID(lane), timeline.AtTime(timeline.Time(rapid.IntRange(0, 8000).Draw(rt, "at"))*ms)
				c.Open = timeline.Time(rapid.IntRange(1, 900).Draw(rt, "open")) * ms
			}))
		}
		st := New(show(t, 8, list...))
		seen := 0
		for i := range st.hits {
			h := &st.hits[i]
			require.GreaterOrEqual(rt, h.spell, int32(0))
			s := &st.spells[h.spell]
			require.True(rt, s.from <= h.course.Hit && s.to >= h.course.Gone(), "a hit lies in its spell")
		}
		boxes := make([]box, len(st.units))
		for i := range st.hits {
			boxes[st.hits[i].unit].hold(st.hits[i].look)
		}
		all := joiner{of: map[int32][]int{}}
		for _, s := range st.spells {
			all.of[s.unit] = append(all.of[s.unit], len(all.runs))
			all.runs = append(all.runs, run{unit: s.unit, from: s.from, to: s.to})
		}
		for u := range boxes {
			var place []int32
			for k := range boxes {
				if boxes[u].meets(&boxes[k]) {
					place = append(place, int32(k))
				}
			}
			_, _, bad := all.unquiet([]int32{int32(u)}, -sec, changes)
			require.False(rt, bad, "unit %d", u)
			_, _, bad = all.unquiet(place, -sec, flashes)
			require.False(rt, bad, "where unit %d is", u)
		}
		for _, s := range st.spells {
			seen += int(s.n)
			for _, o := range st.spells {
				require.False(rt, s.unit == o.unit && s.first != o.first && s.from <= o.to && o.from <= s.to, "spells of one unit overlap")
			}
		}
		require.Equal(rt, len(st.hits), seen, "each hit is in one spell")
	})
}

// What a zone says, before, in and after it.
func TestZoneWords(t *testing.T) {
	st := New(show(t, 8, cues("flame-l", 4*sec)...)) // commanded at 3.85, zone from 3.82, with its spread, until nothing is seen at 4.7
	for _, c := range []struct {
		at   timeline.Time
		want string
	}{{sec, ""}, {3400 * ms, "zone closes in 0.4 s"}, {3820 * ms, "zone closed 0.9 s more"}, {4100 * ms, "zone closed 0.6 s more"}, {4601 * ms, "zone closed 0.1 s more"}, {4700 * ms, "over"}, {5800 * ms, ""}} {
		text := words(picture(st, image.Pt(900, 500), 100, func(v *View) { v.At = c.at }))
		var said []string
		for _, w := range text {
			if strings.HasPrefix(w, "zone") || w == "over" {
				said = append(said, w)
			}
		}
		require.Equal(t, c.want, strings.Join(said, ", "), "at %s", c.at)
	}
}

// words lists the texts of a scene.
func words(s *render.Scene) (list []string) {
	for i := range s.Shapes {
		if s.Shapes[i].Kind == render.KindText {
			list = append(list, string(s.Label(&s.Shapes[i])))
		}
	}
	return list
}

// Every picture says that marks are not people and that it shows the plan, and none
// says that anything is clear.
func TestCaption(t *testing.T) {
	st := calmSong(t)
	for at := timeline.Time(0); at < 30*sec; at += 777 * ms {
		for _, size := range []image.Point{{400, 300}, {900, 500}, {1440, 800}} {
			text := strings.Join(words(picture(st, size, 100, func(v *View) { v.At = at; v.Large = size.X > 1000 })), "\n")
			require.Contains(t, text, Caption)
			require.NotContains(t, strings.ReplaceAll(strings.ToLower(text), "clear zone", ""), "clear")
		}
	}
	require.Contains(t, strings.Join(words(picture(st, image.Pt(240, 200), 100, func(*View) {})), "\n"), "marks, not where people are", "where there is little room")
	require.Contains(t, strings.Join(words(picture(st, image.Pt(900, 500), 100, func(*View) {})), "\n"), "front barrier 4 m in front, not in this view")
}

// No text lies on another or beyond its picture, whatever the time and the size.
func TestTextsKeepApart(t *testing.T) {
	st := calmSong(t)
	rapid.Check(t, func(rt *rapid.T) {
		scale := rapid.SampledFrom([]render.Scale{80, 100, 150, 200, 250}).Draw(rt, "scale")
		size := image.Pt(rapid.IntRange(200, 1600).Draw(rt, "w"), rapid.IntRange(120, 1000).Draw(rt, "h"))
		at := timeline.Time(rapid.IntRange(0, 30000).Draw(rt, "at")) * ms
		large, above := rapid.Bool().Draw(rt, "large"), rapid.Bool().Draw(rt, "above")
		s := picture(st, size, scale, func(v *View) { v.At, v.Large, v.Above = at, large, above })
		var boxes []image.Rectangle
		for i := range s.Shapes {
			sh := &s.Shapes[i]
			if sh.Kind != render.KindText {
				continue
			}
			require.True(rt, sh.Box.In(image.Rectangle{Max: size}), "%q leaves the picture: %v", s.Label(sh), sh.Box)
			for _, b := range boxes {
				near := b
				if string(s.Label(sh)) != "…" { // which belongs to what it cuts short
					near = image.Rect(b.Min.X-s.Px(3), b.Min.Y, b.Max.X+s.Px(3), b.Max.Y)
				}
				require.False(rt, near.Overlaps(sh.Box), "%q lies on another text, or runs into it", s.Label(sh))
			}
			if string(s.Label(sh)) != "E" { // the letter of a badge
				boxes = append(boxes, sh.Box)
			}
		}
	})
}

// Drawing a moment is a function of it: what was drawn before leaves no trace.
func TestPictureHangsOnItsMomentAlone(t *testing.T) {
	st := calmSong(t)
	size := image.Pt(900, 600)
	var d Drawer
	s := render.NewScene(render.NewFaces())
	for _, at := range []timeline.Time{9 * sec, 4 * sec, 4100 * ms, 20 * sec, 7 * sec} {
		s.Reset(size, 100)
		d.Draw(s, &render.Dark, &View{Stage: st, Area: image.Rectangle{Max: size}, At: at})
		require.Equal(t, picture(st, size, 100, func(v *View) { v.At = at }).Dump(), s.Dump(), "at %s", at)
	}
}

// Lanes that are hidden, and cues beside those that are shown alone, leave no trace
// of what they play.
func TestHiddenAndAlone(t *testing.T) {
	st := New(show(t, 8, append(cues("jet-l", 4*sec), cues("flame-r", 4*sec)...)...))
	ink := func(s *render.Scene, k render.Ink) (n int) {
		for i := range s.Shapes {
			if sh := &s.Shapes[i]; sh.Ink == k && sh.Kind == render.KindPoly {
				n++
			}
		}
		return n
	}
	at := 4200 * ms
	bare := func(fill func(*View)) *render.Scene {
		return picture(st, image.Pt(900, 180), 100, func(v *View) { v.At = at; fill(v) })
	}
	all := bare(func(*View) {})
	require.Positive(t, ink(all, render.InkCold))
	require.Positive(t, ink(all, render.InkHot))
	hidden := bare(func(v *View) { v.Previews = func(id timeline.ID) bool { return id != "jet-l" } })
	require.Zero(t, ink(hidden, render.InkCold))
	require.Positive(t, ink(hidden, render.InkHot))
	alone := bare(func(v *View) { v.Only = map[timeline.ID]bool{"jet-l-0": true} })
	require.Positive(t, ink(alone, render.InkCold))
	require.Zero(t, ink(alone, render.InkHot))
}

// With more than a tenth of the picture coming at once, lines stand for bodies.
func TestCrowdIsDrawnAsLines(t *testing.T) {
	var list []timeline.Record
	for _, lane := range []string{"jet-l", "jet-r", "flame-l", "spark-l", "spark-r", "pot", "burst", "own", "comet", "fall"} {
		list = append(list, cues(lane, 4*sec)...)
	}
	st := New(show(t, 8, list...))
	bodies := func(st *Stage) (n int) {
		s := picture(st, image.Pt(500, 384), 100, func(v *View) { v.At = 4200 * ms })
		for i := range s.Shapes {
			if s.Shapes[i].Kind == render.KindPoly && s.Shapes[i].Ink >= render.InkHot && s.Shapes[i].Ink <= render.InkCloud {
				n++
			}
		}
		return n
	}
	require.Zero(t, bodies(st))
	require.Positive(t, bodies(New(show(t, 8, cues("jet-l", 4*sec)...))), "one alone has its body")
}

// Figures that articles do not give have a dotted edge, given ones have none.
func TestAssumedIsDotted(t *testing.T) {
	lines := func(article string) (n int) {
		st := New(show(t, 8, rec("cue", "one", func(c *timeline.Cue) { c.Lane, c.At, c.Article = "jet-l", timeline.AtTime(4*sec), timeline.ID(article) })))
		s := picture(st, image.Pt(500, 180), 100, func(v *View) { v.At = 4300 * ms; v.Hide.Reach = true })
		for i := range s.Shapes {
			if s.Shapes[i].Kind == render.KindLine && s.Shapes[i].Ink == render.InkCold {
				n++
			}
		}
		return n
	}
	require.Greater(t, lines("jet"), 10)
	require.Zero(t, lines("given"))
}

// With reduced motion a body stands at its full height while it is open, or not at
// all.
func TestStill(t *testing.T) {
	st := New(show(t, 8, cues("jet-l", 4*sec)...))
	high := func(at timeline.Time, still bool) int {
		s := picture(st, image.Pt(500, 180), 100, func(v *View) { v.At, v.Still, v.Hide.Reach = at, still, true })
		top := 0
		for i := range s.Shapes {
			if sh := &s.Shapes[i]; sh.Kind == render.KindPoly && sh.Ink == render.InkCold {
				top = max(top, s.Size.Y-sh.Box.Min.Y)
			}
		}
		return top
	}
	full := high(4300*ms, false)
	require.Less(t, high(4030*ms, false), full)
	require.Equal(t, full, high(4030*ms, true))
	require.Equal(t, full, high(4499*ms, true))
	require.Zero(t, high(4600*ms, true))
	require.Positive(t, high(4600*ms, false))
}

// A mark that a zone in force is too near to is told with what is planned and what
// is needed.
func TestMarkInAZone(t *testing.T) {
	st := New(show(t, 8, cues("flame-r", 4*sec)...))
	text := words(picture(st, image.Pt(1200, 600), 100, func(v *View) { v.At = 4200 * ms }))
	require.Contains(t, text, "Flame right, clear zone")
	found := false
	for _, w := range text {
		found = found || strings.HasPrefix(w, "bass at ") && strings.HasSuffix(w, ", needs 2 m")
	}
	require.True(t, found, "%q", text)
	require.NotContains(t, words(picture(st, image.Pt(1200, 600), 100, func(v *View) { v.At = 2 * sec })), "Flame right, clear zone")
}

// Playing makes no garbage.
func TestNoGarbageWhilePlaying(t *testing.T) {
	for name, st := range map[string]*Stage{"calm": calmSong(t), "strobes": strobes(t)} {
		for _, as := range []View{{}, {Large: true}, {Above: true}} {
			s := render.NewScene(render.NewFaces())
			var d Drawer
			size := image.Pt(1000, 800)
			v := View{Stage: st, Area: image.Rectangle{Max: size}, Large: as.Large, Above: as.Above, Previews: func(timeline.ID) bool { return true }}
			frame := func(at timeline.Time) {
				s.Reset(size, 100)
				v.At = at
				d.Draw(s, &render.Dark, &v)
			}
			for at := timeline.Time(0); at < 20*sec; at += 40 * ms {
				frame(at)
			}
			at := timeline.Time(0)
			require.Zero(t, testing.AllocsPerRun(200, func() {
				at = (at + 40*ms) % (20 * sec)
				frame(at)
			}), "%s, large %v, above %v", name, as.Large, as.Above)
		}
	}
}

// Pictures to look at, in each theme, small and large, by EMBERBEAT_PICTURES.
func TestPictures(t *testing.T) {
	var list []timeline.Record
	for k, lane := range []string{"jet-r", "flame-l", "spark-l", "comet", "paper", "fog", "fall", "flame-r", "jet-l", "burst"} {
		list = append(list, cues(lane, 4*sec+timeline.Time(k)*60*ms)...)
	}
	quiet, calm := New(show(t, 16, list...)), calmSong(t)
	dir := os.Getenv("EMBERBEAT_PICTURES")
	for _, th := range render.Themes() {
		for name, size := range map[string]image.Point{"small": {400, 380}, "large": {1440, 740}, "crowd": {1440, 740}, "above": {430, 420}, "above-crowd": {900, 700}} {
			s := render.NewScene(render.NewFaces())
			s.Reset(size, 100)
			var d Drawer
			v := View{Stage: quiet, Area: image.Rectangle{Max: size}, At: 4420 * ms, Large: name == "large", Above: strings.HasPrefix(name, "above")}
			if strings.HasSuffix(name, "crowd") {
				v.Stage, v.At = calm, 7900*ms
			}
			d.Draw(s, &th, &v)
			require.Greater(t, len(s.Shapes), 100)
			if dir == "" {
				continue
			}
			f, err := os.Create(filepath.Join(dir, "front-"+name+"-"+th.Name+".png"))
			require.NoError(t, err)
			require.NoError(t, paper.WritePNG(f, s, &th))
			require.NoError(t, f.Close())
		}
	}
}

// thick is a song of 2,000 cues.
func thick(t testing.TB) *Stage {
	var list []timeline.Record
	for i := range 2000 {
		x := demo[i%len(demo)]
		list = append(list, cues2(x.id, i, timeline.Time(i)*100*ms+2*sec))
	}
	return New(show(t, 110, list...))
}

func BenchmarkFrame1080p2000Cues(b *testing.B) {
	st := thick(b)
	s := render.NewScene(render.NewFaces())
	var d Drawer
	size := image.Pt(1920, 1080)
	v := View{Stage: st, Area: image.Rectangle{Max: size}, Large: true}
	b.ReportAllocs()
	for b.Loop() {
		s.Reset(size, 100)
		v.At = (v.At + 16*ms) % (200 * sec)
		d.Draw(s, &render.Dark, &v)
	}
	b.ReportMetric(float64(len(s.Shapes)), "shapes")
}

func BenchmarkNew2000Cues(b *testing.B) {
	var list []timeline.Record
	for i := range 2000 {
		list = append(list, cues2(demo[i%len(demo)].id, i, timeline.Time(i)*100*ms+2*sec))
	}
	p, song := show(b, 110, list...)
	for b.Loop() {
		New(p, song)
	}
}

// Large, it says what goes highest in the song, by what its article gives.
func TestHighest(t *testing.T) {
	st := New(show(t, 8, append(cues("jet-l", 4*sec), cues("own", 4*sec)...)...))
	require.Contains(t, words(picture(st, image.Pt(1200, 700), 100, func(v *View) { v.Large = true })), "highest in this song: 7 m, Kite", "it points down from its bar")
	st = New(show(t, 8, cues("burst", 4*sec)...))
	require.Contains(t, words(picture(st, image.Pt(1200, 700), 100, func(v *View) { v.Large = true })), "highest in this song: 7 m, Airburst")
}

// Whatever stands on stage, turned however, given or not, with beats or without, is
// drawn within its picture, and every number in it is one.
func TestAnyRigIsDrawn(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(0, 6).Draw(rt, "units")
		beats := rapid.Bool().Draw(rt, "beats")
		s := timeline.NewShow("demo", "Any", timeline.Rate25)
		turn := func(name string) float64 { return float64(rapid.IntRange(-12, 12).Draw(rt, name)) * 15 }
		metres := func(name string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(rt, name)) / 2 }
		show, err := s.Edit(func(d *timeline.Draft) error {
			d.Put("", rec("song", "ember", func(h *timeline.SongHead) {
				h.Title, h.Slug, h.Start, h.Length = "Ember", "ember", timeline.Timecode{H: 3}, 20*sec
				if beats {
					h.Beats = timeline.SteadyBeatMap(0, sec/2, timeline.Metre{Num: 3, Den: 4}, 9)
				}
			}), rec("set", "set", func(s *timeline.Set) { s.Name, s.Entries = "Set", []timeline.Entry{{Song: "ember"}} }))
			for i := range n {
				id := fmt.Sprint("u", i)
				family := rapid.SampledFrom(timeline.Families()).Draw(rt, "family")
				d.Put("", rec("article", "a-"+id, func(a *timeline.Article) {
					a.Name, a.Family, a.Height, a.Clear, a.Fallout = id, family, metres("height", 0, 200), metres("clear", 0, 20), metres("fallout", 0, 20)
					a.Lead, a.Open = timeline.Time(rapid.IntRange(0, 900).Draw(rt, "lead"))*ms, timeline.Time(rapid.IntRange(0, 900).Draw(rt, "open"))*ms
				}))
				d.Put("", rec("position", "p-"+id, func(p *timeline.StagePosition) {
					p.Name, p.X, p.Y, p.Z = id, metres("x", -40, 40), metres("y", -10, 20), metres("z", -4, 30)
				}))
				d.Put("", rec("placed", id, func(p *timeline.Placed) {
					p.Name, p.Article, p.Pan, p.Tilt = id, timeline.ID("a-"+id), turn("pan"), turn("tilt")
					if rapid.IntRange(0, 4).Draw(rt, "lost") > 0 {
						p.Position = timeline.ID("p-" + id)
					}
					if rapid.IntRange(0, 4).Draw(rt, "line") == 0 {
						p.End = "p-u0"
					}
				}))
				d.Put("ember", rec("lane", id, func(l *timeline.Lane) { l.Name, l.Target = id, timeline.ID(id) }))
				for k := range rapid.IntRange(0, 5).Draw(rt, "cues") {
					d.Put("ember", cues2(id, k, timeline.Time(rapid.IntRange(0, 19000).Draw(rt, "at"))*ms))
				}
			}
			return nil
		})
		require.NoError(rt, err)
		p := timeline.Compile(show, nil)
		st := New(p, p.Songs[0].SongPlan)
		size := image.Pt(rapid.IntRange(1, 900).Draw(rt, "w"), rapid.IntRange(1, 700).Draw(rt, "h"))
		for range 3 {
			at := timeline.Time(rapid.IntRange(-3000, 25000).Draw(rt, "moment")) * ms
			large, still := rapid.Bool().Draw(rt, "large"), rapid.Bool().Draw(rt, "still")
			s := picture(st, size, 100, func(v *View) { v.At, v.Large, v.Still = at, large, still })
			for i := range s.Shapes {
				sh := &s.Shapes[i]
				if sh.Kind != render.KindLine && sh.Kind != render.KindPoly {
					continue
				}
				for _, q := range s.Points(sh) {
					require.False(rt, q.X != q.X || q.Y != q.Y || math.IsInf(float64(q.X), 0) || math.IsInf(float64(q.Y), 0), "a point that is none")
				}
			}
		}
	})
}

package render

import (
	"image"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

func drawSong(v *SongView, scale Scale) (*Scene, *SongLayout) {
	s := NewScene(NewFaces())
	s.Reset(v.Area.Max, scale)
	var p SongDrawer
	l := p.Draw(s, &Dark, v)
	return s, l
}

// texts gives all texts of a scene in a box, in order.
func texts(s *Scene, box image.Rectangle) []string {
	var list []string
	for i := range s.Shapes {
		if sh := &s.Shapes[i]; sh.Kind == KindText && sh.Box.Overlaps(box) {
			list = append(list, string(s.Label(sh)))
		}
	}
	return list
}

func TestSmallSongReadsAsDumped(t *testing.T) {
	d := oneLane(t, func(c *timeline.Cue) { c.At, c.Level, c.Locked, c.Group = bar(2, 0), 50, true, "g1" },
		func(c *timeline.Cue) { c.At, c.Disabled, c.Note = bar(3, 0), true, "held" })
	v := &SongView{Data: d, Area: image.Rect(0, 0, 520, 420), Selected: map[timeline.ID]bool{"c0": true},
		Marks: NewMarks([]Mark{{Severity: SevWarning, At: Instant{2 * sec, true}, Cue: "c0", Text: "too near"}}, "")}
	s, _ := drawSong(v, Unit)
	golden(t, "song.txt", s.Dump())
}

// oneLane gives a show of one lane of gas flames with a cue for each fill, with ids c0, c1 and on; the song has four bars of two seconds.
func oneLane(t testing.TB, fills ...func(*timeline.Cue)) *SongData {
	t.Helper()
	d := timeline.NewDraft(timeline.NewShow("small", "", timeline.Rate25))
	d.Put("", demoStock()...)
	d.Put("", demoRig()...)
	d.Put("", rec("song", "ember", func(h *timeline.SongHead) {
		h.Title, h.Slug, h.Length = "Ember", "ember", 8*sec
		h.Beats = timeline.SteadyBeatMap(0, sec/2, timeline.Metre{Num: 4, Den: 4}, 4)
	}))
	d.Put("ember", rec("lane", "flame-l", func(l *timeline.Lane) { l.Name, l.Target = "Flame left", "flame-l" }))
	for i, fill := range fills {
		d.Put("ember", rec("cue", "c"+string(rune('0'+i)), func(c *timeline.Cue) { c.Lane = "flame-l"; fill(c) }))
	}
	show := d.Show() // without the checks: a show with lost references must be drawn as well
	return NewSongData(show, timeline.Compile(show, nil).Songs[0].SongPlan)
}

func TestLanesStandAsSeenFromFrontOfHouse(t *testing.T) {
	d := demoShow(t, 64)
	var got []string
	for _, l := range d.Lanes {
		if l.Place != "" {
			got = append(got, "- "+l.Place)
		}
		got = append(got, l.Name)
	}
	require.Equal(t, []string{"- Downstage left", "Flame left", "Jet left", "Arm, flame left", "- Downstage right", "Flame right", "Jet right",
		"- Riser left", "Sparks left", "- Riser right", "Sparks right", "- Roof truss", "Comets", "Reports",
		"- Upstage middle", "Kite drop", "Low fog", "Paper"}, got)
}

func TestGroupLanesAreNamedByTheirEnds(t *testing.T) {
	d := demoShow(t, 8, rec("lane", "both", func(l *timeline.Lane) { l.Name, l.Target = "Both", "flames" }),
		rec("group", "all", func(g *timeline.Group) { g.Name, g.Members = "All", []timeline.ID{"flame-l", "paper-1", "flame-r"} }),
		rec("lane", "all", func(l *timeline.Lane) { l.Name, l.Target = "All", "all" }),
		rec("lane", "nowhere", func(l *timeline.Lane) { l.Name = "Nowhere" }))
	for _, l := range d.Lanes {
		switch l.Name {
		case "Both":
			require.Equal(t, "Downstage left – Downstage right", l.Place)
		case "All":
			require.Equal(t, "Across the stage, 3 places", l.Place)
		case "Nowhere":
			require.Equal(t, "no place on stage", l.Place)
		}
	}
	require.Equal(t, "Nowhere", d.Lanes[len(d.Lanes)-1].Name)
}

// Two groups with the same ends and other members between have their middles apart; they still share one heading.
func TestLanesOfOnePlaceNameStandTogether(t *testing.T) {
	at := func(name string, x, y int) LaneData {
		return LaneData{Name: name, key: laneKey{x: x, y: y, place: name[:1], name: name}}
	}
	lanes := []LaneData{at("B1", 0, 5), at("A2", 0, 9), at("A1", 0, 2), at("C1", 0, 7)}
	arrange(lanes)
	var got []string
	for _, l := range lanes {
		got = append(got, l.Place+" "+l.Name)
	}
	require.Equal(t, []string{"A A1", " A2", "B B1", "C C1"}, got)
}

// Of a gas flame with 150 ms lead and 600 ms open time the line begins 150 ms before the hit and the tail ends 600 ms after it.
func TestCueStandsWhereThePlanSays(t *testing.T) {
	d := oneLane(t, func(c *timeline.Cue) { c.At = bar(2, 0) })
	v := &SongView{Data: d, Area: image.Rect(0, 0, 1000, 500), Show: Span{1 * sec, 3 * sec}}
	s, l := drawSong(v, Unit)
	hit, ok := s.At(image.Pt(l.X(2*sec)+3, l.Lanes.Min.Y+18))
	require.True(t, ok)
	require.Equal(t, HitCue, hit.Kind)
	require.Equal(t, "c0", hit.ID)
	require.Equal(t, l.X(2*sec), hit.Area.Min.X)
	require.Equal(t, l.X(2600*ms), hit.Area.Max.X)

	end, ok := s.At(image.Pt(l.X(2600*ms), hit.Area.Min.Y+4))
	require.True(t, ok)
	require.Equal(t, HitCueEnd, end.Kind)

	lead := false
	for _, sh := range s.Shapes {
		if sh.Ink == InkHot && sh.Kind == KindRect && sh.Box.Min.X == l.X(1850*ms) && sh.Box.Max.X == l.X(2*sec) {
			lead = sh.Box.Dy() == 1
		}
	}
	require.True(t, lead)
}

func TestCueFates(t *testing.T) {
	d := oneLane(t,
		func(c *timeline.Cue) { c.At = bar(1, 0) },
		func(c *timeline.Cue) { c.At, c.Disabled = bar(2, 0), true },
		func(c *timeline.Cue) { c.At, c.Lane = bar(3, 0), "gone" },
		func(c *timeline.Cue) { c.At, c.Article = bar(4, 0), "lost" },
		func(c *timeline.Cue) { c.At, c.Article = bar(4, 2), "comet" })
	require.Len(t, d.Lanes, 2)
	flames, gone := d.Lanes[0].Cues, d.Lanes[1]
	require.Equal(t, "lane is gone", gone.Name)
	require.Equal(t, "lost", gone.Place)
	require.True(t, gone.Cues[0].Dead)
	require.Equal(t, 2*sec+600*ms, flames[1].End, "a disabled cue keeps its open time")
	require.Equal(t, []bool{false, true, true, false}, []bool{flames[0].Dead, flames[1].Dead, flames[2].Dead, flames[3].Dead})
	require.Equal(t, "?", flames[2].Look.Letter)
	require.Equal(t, "Comet", flames[3].Label)
	require.Equal(t, InkShot, flames[3].Look.Ink)
	require.Equal(t, []timeline.Time{0, 7 * sec}, d.Hits)
	require.Equal(t, -150*ms, d.Whole().From, "the first command comes before the sound")
}

func TestSongWithoutBeatMapCountsCuesAdrift(t *testing.T) {
	d := oneLane(t, func(c *timeline.Cue) { c.At = bar(1, 0) }, func(c *timeline.Cue) { c.At = timeline.AtTime(3 * sec) })
	song := *d.Plan.Song
	song.Beats = nil
	show := *d.Show
	show.Songs = []*timeline.Song{&song}
	d = NewSongData(&show, timeline.Compile(&show, nil).Songs[0].SongPlan)
	require.Equal(t, 1, d.Adrift)
	v := &SongView{Data: d, Area: image.Rect(0, 0, 1200, 500), Quiet: "audio is missing"}
	s, l := drawSong(v, Unit)
	require.True(t, l.Bars.Empty())
	require.Contains(t, strings.Join(texts(s, l.Title), " "), "1 on bars of no beat map")
	require.Contains(t, texts(s, l.Wave), "audio is missing")
	require.Contains(t, texts(s, l.Lanes), "0:03.000")
}

func TestEmptySongSaysWhatComesNext(t *testing.T) {
	show, err := timeline.NewShow("s", "", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", rec("song", "bare", func(h *timeline.SongHead) { h.Title, h.Slug = "Bare", "bare" }))
		return nil
	})
	require.NoError(t, err)
	d := NewSongData(show, timeline.Compile(show, nil).Songs[0].SongPlan)
	s, l := drawSong(&SongView{Data: d, Area: image.Rect(0, 0, 1200, 500)}, Unit)
	require.Contains(t, strings.Join(texts(s, l.Lanes), " "), "No lanes yet")
	require.Contains(t, texts(s, l.Findings), "not checked yet")
	require.Equal(t, Span{0, sec}, d.Whole())
}

// Cues that stand too near for glyphs are a ribbon, which is found by its first cue; what stands apart is found by itself.
func TestCrowdedCuesAreARibbon(t *testing.T) {
	var fills []func(*timeline.Cue)
	for i := range 6 {
		at := timeline.Time(i) * 10 * ms
		fills = append(fills, func(c *timeline.Cue) { c.At = timeline.AtTime(sec + at) })
	}
	fills = append(fills, func(c *timeline.Cue) { c.At = timeline.AtTime(6 * sec) })
	d := oneLane(t, fills...)
	v := &SongView{Data: d, Area: image.Rect(0, 0, 1000, 500), Marks: NewMarks([]Mark{{Severity: SevError, Cue: "c3"}}, "")}
	s, l := drawSong(v, Unit)
	h, ok := s.At(image.Pt(l.X(sec)+4, l.Lanes.Min.Y+18))
	require.True(t, ok)
	require.Equal(t, HitCues, h.Kind)
	require.Equal(t, "c0", h.ID)
	h, _ = s.At(image.Pt(l.X(6*sec)+2, l.Lanes.Min.Y+18))
	require.Equal(t, "c6", h.ID)

	require.Positive(t, hatches(s), "the cue that an error was found of")
	v.Marks = nil
	s, _ = drawSong(v, Unit)
	require.Zero(t, hatches(s))
	require.Equal(t, 2, glyphHits(s), "the ribbon has none of its own")

	v.Dragged = map[timeline.ID]bool{"c4": true}
	s, _ = drawSong(v, Unit)
	require.Equal(t, 3, glyphHits(s), "what is dragged is seen in any crowd")
	require.Contains(t, hitIDs(s, HitCue), "c4")
	v.Dragged = nil

	v.Show = Span{sec, sec + 100*ms} // near enough, each stands alone
	s, _ = drawSong(v, Unit)
	require.Len(t, hitIDs(s, HitCue), 6)
	require.Empty(t, hitIDs(s, HitCues))
}

// hatches counts the slanted lines over lanes.
func hatches(s *Scene) int {
	n := 0
	for i := range s.Shapes {
		if sh := &s.Shapes[i]; sh.Kind == KindLine && sh.Cover == ribbonHatch {
			n++
		}
	}
	return n
}

func hitIDs(s *Scene, kind HitKind) (ids []string) {
	for _, h := range s.Hits {
		if h.Kind == kind {
			ids = append(ids, h.ID)
		}
	}
	return ids
}

func glyphHits(s *Scene) int { return len(hitIDs(s, HitCue)) + len(hitIDs(s, HitCues)) }

// A stretch that is a ribbon stays one until its hits stand a fifth farther apart than where it began, so that one hit does not break it; and what
// is close but no ribbon is small and has no words.
func TestRibbonsBreakLaterThanTheyBegin(t *testing.T) {
	for _, c := range []struct {
		apart   []int // pixels between hits
		ribbons int
		glyphs  int
		words   bool
	}{
		{[]int{3, 3, 3, 3}, 1, 0, false}, {[]int{3, 4, 4, 3}, 1, 0, false}, {[]int{4, 4, 4, 4}, 0, 5, false}, {[]int{3, 3, 6, 3, 3}, 2, 0, false},
		{[]int{11, 11, 11}, 0, 4, false}, {[]int{11, 14, 11}, 0, 4, false}, {[]int{70, 70}, 0, 3, true},
	} {
		d := oneLane(t)
		v := &SongView{Data: d, Area: image.Rect(0, 0, 1200, 500), Show: Span{0, 10 * sec}}
		at := Layout(v, Unit) // where each shall stand
		var fills []func(*timeline.Cue)
		x := at.Left + 100
		for i := range len(c.apart) + 1 {
			hit := at.TimeAt(x).RoundTo(timeline.EntryStep)
			if at.X(hit) < x {
				hit += timeline.EntryStep
			}
			fills = append(fills, func(q *timeline.Cue) { q.At = timeline.AtTime(hit) })
			if i < len(c.apart) {
				x += c.apart[i]
			}
		}
		v.Data = oneLane(t, fills...)
		v.Show = Span{0, 10 * sec}
		s, l := drawSong(v, Unit)
		require.Len(t, hitIDs(s, HitCues), c.ribbons, "%v", c.apart)
		require.Len(t, hitIDs(s, HitCue), c.glyphs, "%v", c.apart)
		said := false
		for _, text := range texts(s, l.Lanes) {
			said = said || strings.HasPrefix(text, "0:0")
		}
		require.Equal(t, c.words, said, "%v", c.apart)
	}
}

func TestFindingsLine(t *testing.T) {
	d := demoShow(t, 64)
	v := demoView(d, 1600, 900)
	s, l := drawSong(v, Unit)
	h, ok := s.At(image.Pt(l.X(v.Marks.List[0].At.At)+6, l.Findings.Min.Y+10))
	require.True(t, ok)
	require.Equal(t, HitFinding, h.Kind)
	require.Equal(t, "0", h.ID)
	require.Equal(t, [3]int{1, 1, 1}, v.Marks.Count)
	require.False(t, v.Marks.List[2].At.On, "what has no time comes last")

	v.Marks = NewMarks(nil, "14 rules on this song")
	s, l = drawSong(v, Unit)
	require.Contains(t, texts(s, l.Findings), "no open findings: 14 rules on this song")
}

func TestListOfFindingsHasARowForEach(t *testing.T) {
	d := demoShow(t, 64)
	v := demoView(d, 1600, 0)
	v.List = true
	v.Area.Max.Y = SongHeight(v, Unit)
	s, l := drawSong(v, Unit)
	require.Equal(t, 3*24, l.List.Dy())
	joined := strings.Join(texts(s, l.List), "|")
	for _, m := range v.Marks.List {
		require.Contains(t, joined, m.Text)
		require.Contains(t, joined, m.Severity.Word())
	}
	for _, a := range []string{"CO2 jet", "Gas flame", "Kite", "Low fog"} {
		require.Contains(t, texts(s, l.Legend), a)
	}
	require.Equal(t, l.lanesHeight(d), l.Lanes.Dy(), "all lanes show")
}

// densityCurve gives, for n equal steps of a song of the given length, the
// number of hits (sorted times) in a window of the given length centred on the
// middle of the step.
func densityCurve(hits []timeline.Time, length, window timeline.Time, n int) []int {
	curve := make([]int, n)
	lo, hi := 0, 0
	for i := range curve {
		mid := length / timeline.Time(2*n) * timeline.Time(2*i+1)
		for hi < len(hits) && hits[hi] <= mid+window/2 {
			hi++
		}
		for lo < len(hits) && hits[lo] < mid-window/2 {
			lo++
		}
		curve[i] = hi - lo
	}
	return curve
}

func TestDensityCountsAsThePlanDoes(t *testing.T) {
	d := demoShow(t, 64)
	p := SongDrawer{d: d, v: &SongView{Data: d, Window: 8 * sec}}
	want := densityCurve(d.Hits, d.Length(), 8*sec, 50)
	lo, hi := 0, 0
	for i, n := range want {
		mid := d.Length() / 100 * timeline.Time(2*i+1)
		require.Equal(t, n, p.hitsAround(mid, &lo, &hi))
	}
}

func TestRulerLabelsAreThePlansLabels(t *testing.T) {
	for _, rate := range timeline.Rates() {
		for n := int64(0); n < 24*3600; n += 37 {
			frame, err := rate.Frame(wholeSecond(rate, n))
			require.NoError(t, err)
			tc, err := rate.Timecode(frame)
			require.NoError(t, err)
			require.Equal(t, rate.Label(frame), string(appendTimecode(nil, tc, rate.Drop())))
			require.Equal(t, n, seconds(tc))
		}
	}
}

func TestMomentTextIsThePlansText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := timeline.BarBeat{Bar: rapid.IntRange(-5, 400).Draw(t, "bar"),
			Beat: timeline.NewRat(rapid.Int64Range(0, 60).Draw(t, "num"), rapid.Int64Range(1, 12).Draw(t, "den"))}
		if got := string(appendMoment(nil, timeline.AtBar(b))); got != b.String() {
			t.Fatalf("%s, not %s", got, b)
		}
		m := timeline.AtTime(timeline.FromMillis(rapid.Int64Range(-100000, 3500000).Draw(t, "ms")))
		if got, want := string(appendMoment(nil, m)), m.Time.Clock(3); got != want {
			t.Fatalf("%s, not %s", got, want)
		}
	})
}

func TestColumnsAndTimesUndoEachOther(t *testing.T) {
	d := demoShow(t, 8)
	rapid.Check(t, func(t *rapid.T) {
		from := timeline.Time(rapid.Int64Range(-int64(sec), int64(3*timeline.Hour)).Draw(t, "from"))
		span := timeline.Time(rapid.Int64Range(int64(10*ms), int64(3*timeline.Hour)).Draw(t, "span"))
		v := &SongView{Data: d, Area: image.Rect(0, 0, rapid.IntRange(300, 4000).Draw(t, "width"), 600), Show: Span{from, from + span}}
		l := Layout(v, Unit)
		x := rapid.IntRange(l.Left-500, l.Right+500).Draw(t, "x")
		if got := l.X(l.TimeAt(x)); got != x {
			t.Fatalf("column %d came back as %d", x, got)
		}
		a, b := l.TimeAt(x), l.TimeAt(x+1)
		if !(a < b) {
			t.Fatalf("columns %d and next begin at %v, %v", x, a, b)
		}
	})
	l := Layout(&SongView{Data: d, Area: image.Rect(0, 0, 1000, 600), Show: Span{0, 10 * ms}}, Unit)
	require.Greater(t, l.X(900*timeline.Hour), l.Right, "far times lie on their side of the view")
	require.Less(t, l.X(-900*timeline.Hour), l.Left)
}

// Whatever the view, all that is drawn lies inside it, and a cue alone on its columns is found where it is drawn.
func TestAnyViewHoldsTogether(t *testing.T) {
	d := demoShow(t, 64)
	rapid.Check(t, func(t *rapid.T) {
		from := timeline.Time(rapid.Int64Range(-int64(5*sec), int64(130*sec)).Draw(t, "from"))
		v := demoView(d, rapid.IntRange(1, 2500).Draw(t, "w"), rapid.IntRange(1, 1500).Draw(t, "h"))
		v.Show = Span{from, from + timeline.Time(rapid.Int64Range(int64(ms), int64(200*sec)).Draw(t, "span"))}
		v.Scroll, v.LaneHeight = rapid.IntRange(-10, 900).Draw(t, "scroll"), rapid.IntRange(0, 80).Draw(t, "lane")
		v.Strip, v.List, v.Transport = rapid.Bool().Draw(t, "strip"), rapid.Bool().Draw(t, "list"), rapid.IntRange(0, 60).Draw(t, "transport")
		v.Playhead, v.Snap = Instant{from, true}, Snap{Instant{from + sec, true}, "bar 9"}
		scale := Scale(rapid.SampledFrom([]int{80, 100, 150, 300}).Draw(t, "scale"))
		s, l := drawSong(v, scale)
		for _, sh := range s.Shapes {
			if sh.Kind == KindRect && !sh.Box.In(v.Area) {
				t.Fatalf("%v outside", sh.Box)
			}
		}
		for i, h := range s.Hits {
			if !h.Grip.In(v.Area) {
				t.Fatalf("hit %v outside", h)
			}
			if h.Kind == HitLane && h.ID != "" && l.LaneAt(d, h.Area.Min.Y) < 0 {
				t.Fatalf("lane %d of hits not found", i)
			}
		}
	})
}

func TestDrawingSongsMakesNoGarbage(t *testing.T) {
	v := demoView(thickSong(t), 3840, 2160)
	v.Strip, v.Playhead, v.Snap = true, Instant{30 * sec, true}, Snap{Instant{31 * sec, true}, "bar 16"}
	v.Selected = map[timeline.ID]bool{"jet-l-13": true}
	s := NewScene(NewFaces())
	var p SongDrawer
	draw := func() {
		s.Reset(v.Area.Size(), 100)
		p.Draw(s, &Dark, v)
		p.DrawCursors(s, &Dark, v)
	}
	draw()
	require.Zero(t, testing.AllocsPerRun(5, draw))
	cues := 0
	for _, h := range s.Hits {
		if h.Kind == HitCue {
			cues++
		}
	}
	require.GreaterOrEqual(t, cues, 1900, "the benchmark draws what it says")
}

func TestCursorsStandAtTheirTimes(t *testing.T) {
	d := demoShow(t, 64)
	v := demoView(d, 1600, 900)
	v.Playhead, v.Heard, v.Loop = Instant{30 * sec, true}, Instant{31 * sec, true}, Span{40 * sec, 44 * sec}
	v.Snap = Snap{Instant{50 * sec, true}, "bar 26"}
	s := newTestScene(1600, 900)
	var p SongDrawer
	p.DrawCursors(s, &Dark, v)
	at := map[int]Ink{}
	for _, sh := range s.Shapes {
		if sh.Kind == KindRect && sh.Box.Dy() > 300 {
			at[sh.Box.Min.X] = sh.Ink
		}
	}
	require.Equal(t, InkPlayhead, at[p.X(30*sec)])
	require.Equal(t, InkPlayhead, at[p.X(31*sec)])
	require.Equal(t, InkFocus, at[p.X(40*sec)])
	require.Contains(t, texts(s, s.Bounds()), "bar 26")
}

// Notes of the crew stand among the markers at their bar, open ones filled, and say who
// wrote them on which revision.
func TestNotesStandAmongMarkers(t *testing.T) {
	s := timeline.NewShow("s", "S", timeline.Rate25)
	s, err := s.Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.SongHead{Base: timeline.Base{ID: "g"}, Title: "G", Slug: "g", Length: timeline.Minute, Beats: timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 30)},
			&timeline.Set{Base: timeline.Base{ID: "m"}, Name: "m", Entries: []timeline.Entry{{Song: "g"}}})
		d.Put("g", &timeline.Marker{Base: timeline.Base{ID: "k"}, Name: "drums", At: timeline.AtBar(timeline.BarBeat{Bar: 2})},
			&timeline.Note{Base: timeline.Base{ID: "n1"}, Text: "late by a beat", By: "Ada", Revision: "C", At: timeline.AtBar(timeline.BarBeat{Bar: 9})},
			&timeline.Note{Base: timeline.Base{ID: "n2"}, Text: "not seen", Done: true, At: timeline.AtBar(timeline.BarBeat{Bar: 20})})
		return nil
	})
	require.NoError(t, err)
	p := timeline.Compile(s, nil)
	v := SongView{Data: NewSongData(s, p.Songs[0].SongPlan), Area: image.Rect(0, 0, 1200, 500)}
	scene := NewScene(NewFaces())
	scene.Reset(v.Area.Size(), Unit)
	var d SongDrawer
	l := d.Draw(scene, &Dark, &v)
	got := map[HitKind]int{}
	for _, h := range scene.Hits {
		if h.Kind == HitNote {
			require.True(t, h.Area.In(l.Markers), "%v", h.Area)
			bar := map[string]int{"n1": 9, "n2": 20}[h.ID]
			require.InDelta(t, l.X(s.Songs[0].Beats.BarStart(bar)), h.Area.Min.X, 1)
		}
		got[h.Kind]++
	}
	require.Equal(t, 1, got[HitMarker])
	require.Equal(t, 2, got[HitNote])
	require.Contains(t, scene.Dump(), `"open: late by a beat (Ada, revision C)"`)
	require.Contains(t, scene.Dump(), `"done: not seen"`)
}

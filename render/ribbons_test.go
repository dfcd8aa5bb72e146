package render

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// hum is sound that is everywhere alike.
type hum struct{}

func (hum) Columns(_, _ timeline.Time, out []Column) {
	for i := range out {
		out[i] = Column{Min: -9000, Max: 9000, RMS: 4000}
	}
}

func spanOf(from, to float64) Span {
	return Span{timeline.FromSeconds(from), timeline.FromSeconds(to)}
}

// cutView is a recording of 60 s of which 20 to 24 are cut, the end was played anew, and 6 s were put in before it.
func cutView(area image.Rectangle) *RibbonView {
	return &RibbonView{Area: area,
		Old:   RibbonStrip{Name: "Old", Note: "1:00", Length: 60 * timeline.Second, Peaks: hum{}, Parts: []RibbonPart{{"Intro", spanOf(0, 20)}, {"Verse", spanOf(20, 60)}}},
		New:   RibbonStrip{Name: "New", Note: "1:02", Length: 62 * timeline.Second, Peaks: hum{}, Parts: []RibbonPart{{"Intro", spanOf(0, 20)}, {"Verse", spanOf(26, 62)}}},
		Bands: []Band{{Old: spanOf(0, 20), New: spanOf(0, 20), Same: true, Sure: 990, Text: "same sound", Short: "same"}, {Old: spanOf(24, 60), New: spanOf(26, 62), Sure: 620, Text: "same bars, played anew", Short: "anew"}},
		Lost:  []RibbonGap{{spanOf(20, 24), "lost: 2 bars, 3 cues"}},
		Added: []RibbonGap{{spanOf(20, 26), "added: 3 bars"}},
		Ticks: []RibbonTick{{ID: "kept", Old: Instant{10 * timeline.Second, true}, New: Instant{10 * timeline.Second, true}}, {ID: "gone", Old: Instant{21 * timeline.Second, true}, Lost: true},
			{ID: "doubt", Old: Instant{30 * timeline.Second, true}, New: Instant{32 * timeline.Second, true}, Look: true}},
		Chosen: "doubt"}
}

// shapesOf sorts out what was drawn: polygons and texts.
func shapesOf(s *Scene) (bands [][]Point, texts map[string]image.Rectangle, lines int) {
	texts = map[string]image.Rectangle{}
	for i := range s.Shapes {
		sh := &s.Shapes[i]
		switch sh.Kind {
		case KindPoly:
			bands = append(bands, s.Points(sh))
		case KindText:
			texts[string(s.Label(sh))] = sh.Box
		case KindLine:
			lines++
		}
	}
	return bands, texts, lines
}

func TestRibbonsSayWhatIsBetweenTwoRecordings(t *testing.T) {
	s := newTestScene(1000, 300)
	v := cutView(image.Rect(10, 10, 990, 290))
	d := s.Ribbons(v)
	bands, texts, _ := shapesOf(s)
	require.Len(t, bands, 2)
	for _, text := range []string{"Old", "New", "1:00", "1:02", "Intro", "Verse", "same sound", "same bars, played anew", "lost: 2 bars, 3 cues", "added: 3 bars", "99 %", "62 %", "How sure"} {
		require.Contains(t, texts, text)
	}
	// One scale of time, above and below.
	require.Equal(t, d.X(20*timeline.Second), int(bands[0][len(bands[0])/2].X), "the first band ends at 20 s below")
	require.InDelta(t, float64(d.X(24*timeline.Second)), float64(bands[1][0].X), 1)
	require.InDelta(t, float64(30*timeline.Second), float64(d.Time(d.X(30*timeline.Second)-d.Axis.Min.X)), float64(timeline.Second/10))

	mid := func(t timeline.Time) image.Point {
		return image.Pt(d.X(t), (d.Between.Min.Y+d.Between.Max.Y)/2)
	}
	require.Equal(t, 0, d.BandAt(mid(5*timeline.Second)))
	require.Equal(t, 1, d.BandAt(mid(50*timeline.Second)))
	require.Equal(t, -1, d.BandAt(mid(22*timeline.Second+timeline.Second/2)), "what is lost has no band")
	require.Equal(t, -1, d.BandAt(image.Pt(d.X(5*timeline.Second), d.Above.Min.Y)))
	require.Equal(t, "gone", d.TickAt(image.Pt(d.X(21*timeline.Second)+2, d.Above.Max.Y-3)))
	require.Equal(t, "doubt", d.TickAt(image.Pt(d.X(32*timeline.Second), d.Below.Max.Y-3)))
	require.Empty(t, d.TickAt(image.Pt(d.X(45*timeline.Second), d.Below.Max.Y-3)))

	// Full lines where the sound is the same, broken ones where it was played anew.
	plain := *v
	plain.Lost, plain.Added, plain.Ticks = nil, nil, nil
	count := func(same bool) int {
		plain.Bands = []Band{{Old: spanOf(0, 20), New: spanOf(0, 20), Same: same}}
		s.Reset(s.Size, s.Scale)
		s.Ribbons(&plain)
		_, _, lines := shapesOf(s)
		return lines
	}
	require.Equal(t, 2, count(true))
	require.Equal(t, 2*bandSteps/2, count(false))
}

// Whatever the recordings and the room: bands stay between the strips, texts in the frame, and none lies over another between the strips.
func TestRibbonsKeepWithinTheirRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := cutView(image.Rect(0, 0, rapid.IntRange(80, 1400).Draw(t, "wide"), rapid.IntRange(90, 500).Draw(t, "high")))
		old, is := rapid.Float64Range(1, 600).Draw(t, "old"), rapid.Float64Range(1, 600).Draw(t, "new")
		v.Old.Length, v.New.Length = timeline.FromSeconds(old), timeline.FromSeconds(is)
		v.Bands, v.Lost, v.Added = nil, nil, nil
		part := func(name string, of float64) Span {
			a, b := rapid.Float64Range(0, of).Draw(t, name), rapid.Float64Range(0, of).Draw(t, name)
			return spanOf(min(a, b), max(a, b))
		}
		for range rapid.IntRange(0, 6).Draw(t, "bands") {
			v.Bands = append(v.Bands, Band{Old: part("from", old), New: part("to", is), Same: rapid.Bool().Draw(t, "same"), Sure: rapid.IntRange(0, 1000).Draw(t, "sure"), Text: "same sound, moved", Short: "moved"})
		}
		v.Lost = append(v.Lost, RibbonGap{part("lost", old), "lost: 2 bars, 3 cues"})
		v.Added = append(v.Added, RibbonGap{part("added", is), "added: 3 bars"})
		scale := Scale(rapid.SampledFrom([]int{80, 100, 150, 250}).Draw(t, "scale"))
		s := NewScene(NewFaces())
		s.Reset(v.Area.Max, scale)
		d := s.Ribbons(v)
		bands, _, _ := shapesOf(s)
		for _, b := range bands {
			for _, p := range b {
				if p.Y < float32(d.Between.Min.Y) || p.Y > float32(d.Between.Max.Y) {
					t.Fatalf("a band leaves its room: %v of %v", p, d.Between)
				}
			}
		}
		for i, a := range d.taken {
			if !a.In(d.Between) {
				t.Fatalf("a text leaves its room: %v of %v", a, d.Between)
			}
			for _, b := range d.taken[:i] {
				if a.Overlaps(b) {
					t.Fatalf("texts overlap: %v and %v", a, b)
				}
			}
		}
		for i := range s.Shapes {
			if sh := &s.Shapes[i]; sh.Kind == KindText && (sh.Box.Min.X < v.Area.Min.X || sh.Box.Max.X > v.Area.Max.X) {
				t.Fatalf("%q leaves the frame: %v", s.Label(sh), sh.Box)
			}
		}
	})
}

// The sound around a cue has the cue in its middle, and beats beside it; where there is no place it says so and draws none.
func TestSoundAroundACue(t *testing.T) {
	s := newTestScene(400, 120)
	beats := timeline.SteadyBeatMap(0, timeline.Second/2, timeline.Metre{Num: 4, Den: 4}, 32)
	w := CueWave{Area: image.Rect(0, 0, 400, 120), Title: "Old, around 9.1", Note: "62 %", Peaks: hum{}, At: beats.BarStart(9), Reach: 4 * timeline.Second, Beats: beats, Look: LookOf(nil)}
	s.CueWave(&Dark, &w)
	_, texts, _ := shapesOf(s)
	require.Contains(t, texts, "Old, around 9.1")
	require.Contains(t, texts, "62 %")
	lines := 0
	for i := range s.Shapes {
		sh := &s.Shapes[i]
		if sh.Kind == KindRect && sh.Ink == InkEdge && sh.Cover == 160 {
			lines++
		}
		if sh.Ink == InkPlayhead {
			require.Equal(t, 200, sh.Box.Min.X)
		}
	}
	require.Equal(t, 16, lines, "8 s at 120 beats a minute")
	moving := newTestScene(400, 120)
	heard := func(at timeline.Time) (left int) {
		moving.Reset(moving.Size, moving.Scale)
		w.HeardAt(moving, at)
		if len(moving.Shapes) == 0 {
			return -1
		}
		for i := range moving.Shapes {
			require.True(t, moving.Shapes[i].Box.In(w.Area))
		}
		return moving.Shapes[0].Box.Min.X
	}
	require.Equal(t, 199, heard(w.At), "over the cue")
	require.Equal(t, 299, heard(w.At+2*timeline.Second), "it moves with what is heard")
	require.GreaterOrEqual(t, heard(w.At-4*timeline.Second), 0)
	require.Equal(t, -1, heard(w.At+4*timeline.Second), "what is not shown")
	s.Reset(s.Size, s.Scale)
	w.Absent = "No other place fits"
	require.Equal(t, -1, heard(w.At))
	s.CueWave(&Dark, &w)
	_, texts, _ = shapesOf(s)
	require.Len(t, texts, 1)
	require.Contains(t, texts, "No other place fits")
}

package app

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

func TestWheelZoomsUnderThePointer(t *testing.T) {
	h := withExample(t)
	p := image.Pt(h.at("20.1"), h.a.song.Wave.Min.Y+10)
	h.move(p)
	for range 8 {
		before := h.a.song.TimeAt(p.X)
		h.in.Wheel, h.in.Mods = image.Pt(0, -1), widget.Ctrl
		h.step()
		h.step()
		require.Less(t, apart(before, h.a.song.TimeAt(p.X)), h.a.reach(2))
	}
	require.InDelta(t, 4, float64(h.a.work.Data.Whole().To)/float64(h.a.song.Show.To-h.a.song.Show.From), 0.2, "8 notches of 2^¼ are a factor of 4")
	was := h.a.song.Show
	h.in.Mods = 0
	h.in.Wheel = image.Pt(0, 1)
	h.step()
	h.step()
	require.Greater(t, h.a.song.Show.From, was.From, "over the sound the wheel moves time")
}

func TestDragInTheRulerMovesThePlayheadAndClickInLanesDoesNot(t *testing.T) {
	h := withExample(t)
	h.tap(image.Pt(h.at("9.1")+1, h.a.song.Bars.Min.Y+5))
	require.Equal(t, "9.1", h.a.work.InView().Beats.Locate(h.a.work.View().Playhead).String())
	_, area := h.lane("Sparks")
	h.tap(image.Pt(h.at("30.1"), middle(area).Y))
	require.Equal(t, "9.1", h.a.work.InView().Beats.Locate(h.a.work.View().Playhead).String())
}

// What snapping gives is what it was given, or something that stands within the radius; of the beat grid it is exact.
func TestSnappingStaysWithinItsRadius(t *testing.T) {
	beats := timeline.SteadyBeatMap(timeline.Second/3, timeline.Second/2, timeline.Metre{Num: 3, Den: 4}, 40)
	song := &timeline.Song{SongHead: timeline.SongHead{Beats: beats}}
	song.Markers = []*timeline.Marker{{Base: timeline.Base{ID: "m"}, Name: "here", At: timeline.AtTime(7777 * timeline.Millisecond)}}
	rapid.Check(t, func(t *rapid.T) {
		at := timeline.Time(rapid.Int64Range(0, int64(50*timeline.Second)).Draw(t, "at"))
		radius := timeline.Time(rapid.Int64Range(0, int64(timeline.Second)).Draw(t, "radius"))
		g := rapid.SampledFrom(grids).Draw(t, "grid")
		c := newSnapping(song, g.step, 3*timeline.Second, nil).near(at, radius)
		switch {
		case c.name == "":
			require.Equal(t, at.RoundTo(timeline.EntryStep), c.at)
		case c.on:
			require.Equal(t, beats.At(c.bar), c.at)
			fallthrough
		default:
			require.LessOrEqual(t, apart(c.at, at), radius)
		}
	})
}

// Pasting keeps distances in beats from song to song, whatever the tempo.
func TestPasteInAnotherTempo(t *testing.T) {
	make := func(id timeline.ID, beat timeline.Time) *timeline.Song {
		return &timeline.Song{SongHead: timeline.SongHead{Base: timeline.Base{ID: id},
			Beats: timeline.SteadyBeatMap(0, beat, timeline.Metre{Num: 4, Den: 4}, 100)}, Lanes: []*timeline.Lane{{Base: timeline.Base{ID: "l"}, Target: "t", Role: timeline.EffectSlot}}}
	}
	from, to := make("a", timeline.Second/2), make("b", timeline.Second/3)
	at := func(s string) timeline.Moment {
		m, err := timeline.ParseMoment(s)
		require.NoError(t, err)
		return m
	}
	cues := []*timeline.Cue{{Base: timeline.Base{ID: "1"}, Lane: "l", At: at("3.1")}, {Base: timeline.Base{ID: "2"}, Lane: "l", At: at("4.2+1/2")}}
	n := 0
	ids := func(string, timeline.ID) timeline.ID { n++; return timeline.ID(rune('a' + n)) }
	c := newClip(from, cues)
	require.Equal(t, "11.3", c.moved(cues[0], to, to.Beats.At(at("11.3").Bar)).String())
	require.Equal(t, "12.4+1/2", c.moved(cues[1], to, to.Beats.At(at("11.3").Bar)).String())
	_, new, err := c.paste(to, 0, ids)
	require.NoError(t, err)
	require.Len(t, new, 2)
}

func TestDimmerDarkensNightAlone(t *testing.T) {
	h := newHand(t)
	light := func() int { c := h.a.Theme().Light(render.InkText); return int(c.R) + int(c.G) + int(c.B) }
	dark := light()
	h.a.prefs.Dim = 40
	require.Equal(t, dark, light(), "the theme Dark stays as it is")
	h.key("F9")
	dimmed := light()
	h.a.prefs.Dim = 100
	require.InDelta(t, 0.4, float64(dimmed)/float64(light()), 0.02)
}

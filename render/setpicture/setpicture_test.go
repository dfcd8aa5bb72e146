package setpicture_test

import (
	"image"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/render/setpicture"
	"emberbeat/shows/report/course"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// sizes are those of the picture in a window of 1366×768, of 1440×900, and of 2560×1440 at a factor of 2.
var sizes = []struct {
	name  string
	size  image.Point
	scale render.Scale
}{{"small", image.Pt(850, 600), 100}, {"plain", image.Pt(940, 760), 100}, {"dense", image.Pt(1700, 1250), 200}}

func viewOf(s *timeline.Show) *setpicture.View {
	c := new(course.Maker).Of(timeline.Compile(s, nil))
	v := &setpicture.View{Course: c, Song: 0, Groups: 2}
	for i := range c.Songs {
		sound := setpicture.Sound{Why: "no recording"}
		if i != 1 {
			sound = setpicture.Sound{}
			for n := range 120 {
				sound.Levels = append(sound.Levels, uint8(60+n))
			}
		}
		v.Sounds = append(v.Sounds, sound)
		for n := range 3 {
			v.Marks = append(v.Marks, setpicture.Mark{Place: course.Place{Song: i, At: timeline.Time(30*n) * timeline.Second}, Timed: n > 0, Severity: render.Severity(n), Finding: 3*i + n})
		}
	}
	return v
}

func drawn(v *setpicture.View, size image.Point, scale render.Scale) (*render.Scene, *setpicture.Layout) {
	s := render.NewScene(render.NewFaces())
	s.Reset(size, scale)
	v.Area = s.Bounds()
	return s, setpicture.Draw(s, &render.Dark, v)
}

// clipped gives the texts of a scene with their boxes, as far as they are seen.
func clipped(s *render.Scene) (texts []string, boxes []image.Rectangle) {
	clip := s.Bounds()
	for i := range s.Shapes {
		sh := &s.Shapes[i]
		switch sh.Kind {
		case render.KindClip:
			clip = sh.Box
		case render.KindText:
			if seen := sh.Box.Intersect(clip); !seen.Empty() {
				texts, boxes = append(texts, string(s.Label(sh))), append(boxes, seen)
			}
		}
	}
	return texts, boxes
}

// requireTidy asks that no text lies on another, that all stay inside, and that rows keep to themselves.
func requireTidy(t testing.TB, s *render.Scene, d *setpicture.Layout) {
	t.Helper()
	texts, boxes := clipped(s)
	for i, a := range boxes {
		require.True(t, a.In(s.Bounds()), "%q leaves the picture: %v", texts[i], a)
		for k, b := range boxes[:i] {
			// Of two lines below each other descenders and capitals may share a pixel row; of two beside each other an ellipsis follows its text.
			if o := a.Intersect(b); o.Dx() > 1 && o.Dy() > 4*int(s.Scale)/100 {
				require.Fail(t, "texts overlap", "%q %v and %q %v", texts[i], a, texts[k], b)
			}
		}
	}
	last := d.Heads.Max.Y
	for _, r := range d.Rooms() {
		require.GreaterOrEqual(t, r.Min.Y, last, "rows overlap")
		last = r.Max.Y
	}
	for _, h := range s.Hits {
		require.True(t, h.Area.In(s.Bounds()), "%s %s leaves the picture", h.Kind, h.ID)
	}
}

func TestPictureIsTidyAtEverySize(t *testing.T) {
	for _, z := range sizes {
		for _, songs := range []int{0, 1, 3, 25} {
			for _, each := range []bool{false, true} {
				t.Run(z.name+" "+strconv.Itoa(songs), func(t *testing.T) {
					v := viewOf(testshow.Tour(t, songs, 90))
					v.Each = each
					s, d := drawn(v, z.size, z.scale)
					requireTidy(t, s, d)
					heads := 0
					for _, h := range s.Hits {
						if h.Kind == setpicture.HitHead {
							heads++
							require.GreaterOrEqual(t, h.Grip.Dx(), min(s.Px(render.Reach), h.Grip.Max.X-h.Grip.Min.X))
						}
					}
					if !each {
						require.Equal(t, songs, heads, "every song has a head")
					}
				})
			}
		}
	}
}

// What stands in the picture is what the course says: limits, changes, shortfalls, a recording that is not there.
func TestPictureSaysWhatTheCourseSays(t *testing.T) {
	v := viewOf(testshow.Tour(t, 4, 150))
	s, _ := drawn(v, image.Pt(1600, 1000), 100)
	texts, _ := clipped(s)
	all := strings.Join(texts, "\n")
	for _, text := range []string{"Energy", "Hits per 10 s", "limit 30", "CO2 left", "CO2 right", "Propane", "reserve 15 %", "changed, 18 s of 20", "empty at hit ", "Single use", "4 units fired for good",
		"Arms, as planned", "flame bar", "hatched: left up", "12 in 2 groups", "no recording", "1 Song number 1", "00:10:00:00"} {
		require.Contains(t, all, text)
	}
	require.NotContains(t, all, "clear")
	hatched := 0
	for i := range s.Shapes {
		if sh := &s.Shapes[i]; sh.Kind == render.KindLine && sh.Ink == render.InkText {
			hatched++
		}
	}
	require.Positive(t, hatched, "the arm that stays up")
}

// A pixel over the line of time and the place that it stands for are the same, to the pixel.
func TestPlaceUnderAPixel(t *testing.T) {
	v := viewOf(testshow.Tour(t, 5, 30))
	for _, each := range []bool{false, true} {
		v.Each = each
		_, d := drawn(v, image.Pt(1200, 900), 100)
		rapid.Check(t, func(rt *rapid.T) {
			p := image.Pt(rapid.IntRange(d.Axis.Min.X, d.Axis.Max.X-1).Draw(rt, "x"), rapid.IntRange(d.Rows.Min.Y, d.Rows.Min.Y+300).Draw(rt, "y"))
			place, ok := d.PlaceAt(p)
			require.True(rt, ok)
			require.GreaterOrEqual(rt, place.At, timeline.Time(0))
			if !each || place.At < v.Course.Songs[place.Song].Long {
				require.InDelta(rt, p.X, d.X(place), 1.01)
			}
		})
		_, ok := d.PlaceAt(image.Pt(d.Axis.Min.X-1, d.Rows.Min.Y+5))
		require.False(t, ok)
	}
}

// A head that is dragged over the middles of others comes to stand behind them.
func TestDraggedHeadGoesPastMiddles(t *testing.T) {
	v := viewOf(testshow.Tour(t, 4, 6))
	_, d := drawn(v, image.Pt(1200, 900), 100)
	mid := func(song int) image.Point {
		return image.Pt(d.X(course.Place{Song: song, At: timeline.Minute}), d.Heads.Min.Y+5)
	}
	step := image.Pt(2, 0)
	require.Equal(t, 0, d.SongTo(mid(0), 0))
	require.Equal(t, 0, d.SongTo(mid(2).Sub(image.Pt(400, 0)), 0))
	require.Equal(t, 2, d.SongTo(mid(2).Add(step), 0))
	require.Equal(t, 1, d.SongTo(mid(2).Sub(step.Mul(4)), 0))
	require.Equal(t, 3, d.SongTo(image.Pt(5000, 0), 1))
	require.Equal(t, 0, d.SongTo(image.Pt(-5, 0), 3))
}

// Of very many supplies the worst stand for all, and one press shows the others.
func TestManySuppliesShowTheWorst(t *testing.T) {
	show := testshow.Edited(t, testshow.Tour(t, 4, 150), func(d *timeline.Draft) error {
		for i := range 25 {
			d.Put("", &timeline.Supply{Base: timeline.Base{ID: timeline.ID("x" + strconv.Itoa(i))}, Name: "Spare " + strconv.Itoa(i), Units: 1, Fill: 5, Usable: 1})
		}
		return nil
	})
	v := viewOf(show)
	s, _ := drawn(v, image.Pt(1200, 900), 100)
	texts, _ := clipped(s)
	require.Contains(t, texts, "CO2 right", "it runs empty")
	require.Contains(t, texts, "24 more supplies, none worse than these: show all")
	v.All = true
	_, d := drawn(v, image.Pt(1200, 900), 100)
	require.Greater(t, d.High, d.Rows.Dy(), "they scroll")
	v.Scroll = 100000
	s, d = drawn(v, image.Pt(1200, 900), 100)
	require.Equal(t, d.High-d.Rows.Dy(), d.Scroll)
	requireTidy(t, s, d)
	texts, _ = clipped(s)
	require.Contains(t, texts, "Findings", "the last row is reached")
}

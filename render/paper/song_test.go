package paper

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render"
	"emberbeat/timeline"
)

const sec = timeline.Second

// songOf gives a song of one lane of gas flames with a cue at each of the given seconds.
func songOf(t testing.TB, seconds ...int) *render.SongData {
	t.Helper()
	d := timeline.NewDraft(timeline.NewShow("small", "Lanterns over Water", timeline.Rate25))
	put := func(song timeline.ID, kind, id string, fill func(timeline.Record)) {
		r := timeline.KindOf(kind).New(timeline.ID(id))
		fill(r)
		d.Put(song, r)
	}
	put("", "article", "flame", func(r timeline.Record) {
		a := r.(*timeline.Article)
		a.Name, a.Family, a.Lead, a.Open = "Gas flame", timeline.PropaneFlame, 150*timeline.Millisecond, 2*sec
	})
	put("", "placed", "f1", func(r timeline.Record) {
		p := r.(*timeline.Placed)
		p.Name, p.Article = "Flame left", "flame"
	})
	put("", "song", "ember", func(r timeline.Record) {
		s := r.(*timeline.SongHead)
		s.Title, s.Slug, s.Length = "Ember", "ember", 60*sec
		s.Beats = timeline.SteadyBeatMap(0, sec/2, timeline.Metre{Num: 4, Den: 4}, 30)
	})
	put("ember", "lane", "l1", func(r timeline.Record) { r.(*timeline.Lane).Target = "f1" })
	for i, at := range seconds {
		put("ember", "cue", fmt.Sprintf("c%d", i), func(r timeline.Record) {
			c := r.(*timeline.Cue)
			c.Lane, c.At = "l1", timeline.AtTime(timeline.Time(at)*sec)
		})
	}
	show := d.Show()
	return render.NewSongData(show, timeline.Compile(show, nil).Songs[0].SongPlan)
}

func TestSongPictureShowsEachCueAtItsTime(t *testing.T) {
	data := songOf(t, 10, 20, 45)
	p := Picture{View: render.SongView{Data: data}, Theme: &render.Dark, Width: 1200}
	img, err := SongPicture(render.NewFaces(), p)
	require.NoError(t, err)
	require.Equal(t, 1200, img.Bounds().Dx())

	v := p.View
	v.List, v.Area = true, img.Bounds()
	l := render.Layout(&v, render.Unit)
	hot := render.Dark.Light(render.InkHot)
	starts := map[int]bool{}
	for x := l.Left; x < l.Right; x++ {
		for y := l.Lanes.Min.Y; y < l.Lanes.Max.Y; y++ {
			if img.RGBAAt(x, y) == hot && img.RGBAAt(x, y-1) == hot && img.RGBAAt(x, y-2) == hot && img.RGBAAt(x-1, y) != hot {
				starts[x] = true
			}
		}
	}
	for _, at := range []timeline.Time{10, 20, 45} {
		require.True(t, starts[l.X(at*sec)], "no glyph begins at %d s", at)
	}
}

func TestSongPictureGrowsWithItsFindings(t *testing.T) {
	data := songOf(t, 10)
	height := func(marks *render.Marks) int {
		s, err := (&Picture{View: render.SongView{Data: data, Marks: marks}}).Scene(render.NewFaces())
		require.NoError(t, err)
		require.Equal(t, DefaultWidth, s.Size.X)
		return s.Size.Y
	}
	none := height(render.NewMarks(nil, "14 rules"))
	three := height(render.NewMarks([]render.Mark{{Text: "a"}, {Text: "b"}, {Text: "c"}}, ""))
	require.Equal(t, none+3*24, three)
}

func TestWriteSongIsAPictureAndTheSameEachTime(t *testing.T) {
	write := func() []byte {
		var b bytes.Buffer
		require.NoError(t, WriteSong(&b, render.NewFaces(), Picture{View: render.SongView{Data: songOf(t, 5, 6, 7)}, Width: 900, Scale: 150}))
		return b.Bytes()
	}
	first := write()
	require.Equal(t, first, write())
	c, err := png.DecodeConfig(bytes.NewReader(first))
	require.NoError(t, err)
	require.Equal(t, 1350, c.Width)
}

func TestSongPictureRefusesWhatItCannotDraw(t *testing.T) {
	data := songOf(t)
	for _, c := range []struct {
		p    Picture
		says string
	}{
		{Picture{}, "no song given"},
		{Picture{View: render.SongView{Data: data}, Width: 100}, "480 pixels or more"},
		{Picture{View: render.SongView{Data: data}, Width: 20000, Scale: 200}, "at most 32767"},
		{Picture{View: render.SongView{Data: data}, Scale: 20}, "50 to 400"},
	} {
		_, err := SongPicture(render.NewFaces(), c.p)
		require.ErrorContains(t, err, c.says)
	}
}

func BenchmarkSongPicture(b *testing.B) {
	seconds := make([]int, 50)
	for i := range seconds {
		seconds[i] = i
	}
	data, faces := songOf(b, seconds...), render.NewFaces()
	for b.Loop() {
		if _, err := SongPicture(faces, Picture{View: render.SongView{Data: data, Area: image.Rectangle{}}}); err != nil {
			b.Fatal(err)
		}
	}
}

// In the dark no bright area may take more than a twentieth of the screen. Bright is a relative luminance above 0.18, middle grey; that
// threshold is our judgement.
func TestNightIsDark(t *testing.T) {
	seconds := make([]int, 60)
	for i := range seconds {
		seconds[i] = i
	}
	view := render.SongView{Data: songOf(t, seconds...), Limit: 2, Peaks: loud{}, Marks: render.NewMarks([]render.Mark{{Text: "a"}}, "")}
	img, err := SongPicture(render.NewFaces(), Picture{View: view, Theme: &render.Night})
	require.NoError(t, err)
	bright := 0
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			if render.Luminance(img.RGBAAt(x, y)) > 0.18 {
				bright++
			}
		}
	}
	require.Positive(t, bright, "texts are brighter than that")
	require.Less(t, bright*20, img.Bounds().Dx()*img.Bounds().Dy())
}

// loud is a sound at full scale all the time.
type loud struct{}

func (loud) Columns(_, _ timeline.Time, out []render.Column) {
	for i := range out {
		out[i] = render.Column{Min: -32768, Max: 32767, RMS: 30000}
	}
}

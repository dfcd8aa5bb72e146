package render

import (
	"fmt"
	"image"
	"testing"

	"emberbeat/timeline"
)

// thickSong gives a song with 40 lanes and 2,000 cues, all of which are in view at once with their labels.
func thickSong(t testing.TB) *SongData {
	var more []timeline.Record
	for i := range 29 {
		lane := fmt.Sprintf("thick-%d", i)
		target := timeline.ID(demoPlaces[i%len(demoPlaces)].id)
		more = append(more, rec("lane", lane, func(l *timeline.Lane) { l.Name, l.Target = lane, target }))
		for b := range 64 {
			more = append(more, rec("cue", fmt.Sprintf("%s-%d", lane, b), func(c *timeline.Cue) { c.Lane, c.At = timeline.ID(lane), bar(b+1, int64(i%4)) }))
		}
	}
	return demoShow(t, 64, more...)
}

func BenchmarkDrawSong2000Cues(b *testing.B) {
	d := thickSong(b)
	v := demoView(d, 3840, 2160)
	v.LaneHeight = 36
	v.Strip = true
	s := NewScene(NewFaces())
	var p SongDrawer
	b.ReportAllocs()
	for b.Loop() {
		s.Reset(v.Area.Size(), 100)
		p.Draw(s, &Dark, v)
	}
	b.ReportMetric(float64(len(s.Shapes)), "shapes")
}

func BenchmarkDrawSong1080p(b *testing.B) {
	d := thickSong(b)
	v := demoView(d, 1920, 1080)
	v.LaneHeight = 20
	s := NewScene(NewFaces())
	var p SongDrawer
	b.ReportAllocs()
	for b.Loop() {
		s.Reset(v.Area.Size(), 100)
		p.Draw(s, &Dark, v)
	}
	b.ReportMetric(float64(len(s.Shapes)), "shapes")
}

func BenchmarkNewSongData2000Cues(b *testing.B) {
	d := thickSong(b)
	b.ReportAllocs()
	for b.Loop() {
		NewSongData(d.Show, d.Plan)
	}
}

func BenchmarkAt2000Hits(b *testing.B) {
	v := demoView(thickSong(b), 3840, 2160)
	s := NewScene(NewFaces())
	s.Reset(v.Area.Size(), 100)
	var p SongDrawer
	p.Draw(s, &Dark, v)
	for b.Loop() {
		s.At(image.Pt(1000, 700))
	}
}

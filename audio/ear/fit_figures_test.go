//go:build fit

package ear

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"testing"

	"emberbeat/audio"
	"emberbeat/shows/example/score"
)

// What eval-ear does not measure: exactness of the grids, the steady flag,
// borders of tempo, sections.

// bent is a song whose tempo is not one: how time in the made song maps to time
// in the sound, both from 0.
type bent struct {
	name string
	at   func(t float64) float64
}

var bents = []bent{
	{"slower by a tenth", func(t float64) float64 { return t + 0.1*t*t/(2*madeSeconds) }},
	{"faster by a tenth", func(t float64) float64 { return t - 0.1*t*t/(2*madeSeconds) }},
	{"swaying by four in a hundred", func(t float64) float64 { return t + 0.04*11/(2*math.Pi)*math.Sin(2*math.Pi*t/11) }},
	{"a fifth faster half way", func(t float64) float64 {
		half := madeSeconds / 2
		return min(t, half) + max(0, t-half)/1.2
	}},
	{"half as fast again half way", func(t float64) float64 {
		half := madeSeconds / 2
		return min(t, half) + max(0, t-half)/1.5
	}},
	{"a halt half way", func(t float64) float64 {
		if t >= madeSeconds/2 {
			return t + 1.37
		}
		return t
	}},
}

// bend moves every time of the song.
func (s *madeSong) bend(at func(float64) float64) {
	for i := range s.notes {
		s.notes[i].from, s.notes[i].to = at(s.notes[i].from), at(s.notes[i].to)
	}
	for _, v := range [][]float64{s.beats, s.bars, s.turns} {
		for i := range v {
			v[i] = at(v[i])
		}
	}
	s.end = at(s.end)
}

func bentSongs(t *testing.T) []*taught {
	var all []*madeSong
	for i, b := range bents {
		for j := range 6 {
			m := makeSong(styles[[]int{0, 1, 4, 8, 16, 15}[j]], 100+i)
			m.id, m.kind = fmt.Sprintf("bent-%d-%d", i, j), b.name
			m.bend(b.at)
			all = append(all, m)
		}
	}
	return side(all, func(m *madeSong) *taught {
		f := m.features(t, filepath.Join(fitDir(), "made"))
		return &taught{id: m.id, kind: m.kind, bpm: m.bpm, beats: m.beats, bars: m.bars, features: f}
	})
}

// steadyTruth says whether the true beats lie on one line, and gives it.
func steadyTruth(beats []float64) (offset, period float64, steady bool) {
	l := fitLine(beats, 0, len(beats))
	for i, b := range beats {
		if math.Abs(b-l.offset-l.period*float64(i)) > 0.005 {
			return 0, 0, false
		}
	}
	return l.offset, l.period, true
}

// count is precision and recall in the making.
type count struct{ hit, said, true float64 }

func (c count) String() string {
	return fmt.Sprintf("precision %.3f, recall %.3f", c.hit/max(1, c.said), c.hit/max(1, c.true))
}

func TestFigures(t *testing.T) {
	groups := []struct {
		name  string
		songs []*taught
	}{{"checked", checkSongs(t)}, {"made", madeSongs(t)}}
	all := bentSongs(t)
	for i, b := range bents {
		groups = append(groups, struct {
			name  string
			songs []*taught
		}{b.name, all[6*i : 6*i+6]})
	}
	for _, g := range groups {
		heard := side(g.songs, func(s *taught) *Analysis { return understand(s.features, Options{}) })
		var flag count
		var bpm, offset, fs []float64
		exact := 0
		for i, a := range heard {
			s := g.songs[i]
			fs = append(fs, fScore(s.beats, a.Beats, hitWindow))
			at, period, steady := steadyTruth(s.beats)
			if steady {
				flag.true++
			}
			if a.Steady {
				flag.said++
			}
			if !steady || !a.Steady {
				continue
			}
			flag.hit++
			// the grid alone: whichever multiple of the pulse is called the beat
			ratio := a.BPM / (60 / period)
			level := math.Round(ratio*6) / 6
			if level == 0 || math.Abs(ratio/level-1) > 0.01 {
				continue
			}
			e := math.Abs(a.BPM/level - 60/period)
			bpm = append(bpm, e)
			if e <= 0.01 {
				exact++
			}
			step := period / 6
			x := a.Parts[0].Offset + math.Round((a.Duration/2-a.Parts[0].Offset)/(60/a.BPM))*60/a.BPM - at
			offset = append(offset, x-step*math.Round(x/step))
		}
		if flag.true == 0 {
			fmt.Printf("%s: beat F %.3f; %.0f of %d called steady\n", g.name, mean(fs), flag.said, len(heard))
			continue
		}
		fmt.Printf("%s: beat F %.3f; steady %v; of %d grids %d within .01 bpm, error median %.4f, 95 of 100 under %.4f; offset median %+.1f ms, 95 of 100 within %.1f ms of it\n",
			g.name, mean(fs), flag, len(bpm), exact, quantile(bpm, 0.5), quantile(bpm, 0.95), 1000*quantile(offset, 0.5), 1000*spreadAround(offset))
	}
	sectionFigures(t)
	borderFigures(t)
}

func mean(v []float64) float64 { return fold(v, 1, 0) }

func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return 0
	}
	s := slices.Sorted(slices.Values(v))
	return s[min(len(s)-1, int(q*float64(len(s))))]
}

func spreadAround(v []float64) float64 {
	mid := quantile(v, 0.5)
	var d []float64
	for _, x := range v {
		d = append(d, math.Abs(x-mid))
	}
	return quantile(d, 0.95)
}

// sectionFigures holds the heard starts of sections against the true ones, the
// first left out, at a bar's length.
func sectionFigures(t *testing.T) {
	score1 := func(ref, bars []float64, a *Analysis) float64 {
		var est []float64
		for _, s := range a.Sections[min(1, len(a.Sections)):] {
			est = append(est, s.From)
		}
		n, w := 0, 1.02*(bars[len(bars)/2]-bars[len(bars)/2-1])
		for i, j := 0, 0; i < len(ref) && j < len(est); {
			switch {
			case math.Abs(ref[i]-est[j]) <= w:
				n, i, j = n+1, i+1, j+1
			case ref[i] < est[j]:
				i++
			default:
				j++
			}
		}
		return 2 * float64(n) / float64(len(ref)+len(est))
	}
	var example, made []float64
	for _, s := range score.Songs() {
		f := cachedFeatures(t, filepath.Join(fitDir(), "example", s.Slug+".gob"), func() audio.Source {
			src, err := audio.Open(filepath.Join("..", "..", "shows", "example", "show", "audio", s.Slug+".ogg"))
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { src.Close() })
			return src
		})
		var ref, bars []float64
		for i, p := range s.Sections {
			from, to := float64(p.From)/float64(score.Second), float64(p.To)/float64(score.Second)
			if i > 0 {
				ref = append(ref, from)
			}
			for b := range p.Bars {
				bars = append(bars, from+float64(b)*(to-from)/float64(p.Bars))
			}
		}
		example = append(example, score1(ref, bars, understand(f, Options{})))
	}
	for _, s := range madeSongs(t) {
		if len(s.turns) > 0 {
			made = append(made, score1(s.turns, s.bars, understand(s.features, Options{})))
		}
	}
	fmt.Printf("sections within a bar: example's songs F %.2f (%.2f), %d made songs F %.2f\n", mean(example), example, len(made), mean(made))
}

// borderFigures says how far the heard change of tempo lies from the true one.
func borderFigures(t *testing.T) {
	n, near := 0, 0
	for _, s := range bentSongs(t) {
		for _, b := range bents[3:] {
			if s.kind != b.name {
				continue
			}
			n++
			a := understand(s.features, Options{})
			bar := s.bars[1] - s.bars[0]
			for _, p := range a.Parts[min(1, len(a.Parts)):] {
				if math.Abs(p.From-madeSeconds/2) <= bar+0.1 || math.Abs(p.From-b.at(madeSeconds/2)) <= bar+0.1 {
					near++
					break
				}
			}
		}
	}
	fmt.Printf("changes of tempo: %d of %d found within a bar\n", near, n)
}

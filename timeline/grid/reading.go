package grid

import (
	"cmp"
	"math"
	"slices"

	"emberbeat/timeline"
)

// Heard is what the ear says of a recording, as far as grids go.
type Heard struct {
	Beats   *timeline.BeatMap // as it suggests them; nil where it found none
	Attacks []Attack
	Tempi   []float64 // felt beats a minute that may be meant as well, likeliest first
	Doubts  []Doubt
}

// Doubt is a stretch in which the ear is not sure of the beats.
type Doubt struct {
	From, To timeline.Time
	Share    float64 // 0 sure .. 1 no idea
}

// MostReadings is how many grids are offered at most.
const MostReadings = 4

// Reading is a grid that may be meant.
type Reading struct {
	Name        string       // its tempo
	Detail      string       // and what is another in it
	Corrections []Correction // that lead to it; none for the grid as it stands
	Beats       *timeline.BeatMap
	Fit         Fit
}

// Readings gives the grid of a song as it stands, and after it others that may be meant, at most MostReadings in all: as the ear hears it,
// other tempi, half a beat later, the likeliest other first beat of a bar. Of the tempi those that sit best come first.
func Readings(m *timeline.BeatMap, h Heard) []Reading {
	if m.Empty() {
		if h.Beats.Empty() {
			return nil
		}
		c := Correction{Kind: Whole, Map: h.Beats, Name: "as it is heard"}
		return []Reading{{Name: bpmName(h.Beats), Detail: oneName(h.Beats), Corrections: []Correction{c}, Beats: h.Beats, Fit: Sits(h.Beats, h.Attacks)}}
	}
	list := []Reading{{Name: bpmName(m), Detail: oneName(m), Beats: m, Fit: Sits(m, h.Attacks)}}
	offer := func(detail string, cs ...Correction) (Reading, bool) {
		r := Reading{Corrections: cs, Beats: m}
		for i := range cs {
			next, err := cs[i].On(r.Beats)
			if err != nil {
				return Reading{}, false
			}
			r.Beats = next
		}
		if r.Name, r.Detail = bpmName(r.Beats), detail; detail == "" {
			r.Detail = oneName(r.Beats)
		}
		r.Fit = Sits(r.Beats, h.Attacks)
		known := func(o Reading) bool { return sameBeats(o.Beats, r.Beats) }
		return r, !slices.ContainsFunc(list, known)
	}
	if r, ok := offer("half a beat later", Correction{Kind: Shift, Beats: halfBeat(m)}); ok {
		list = append(list, r)
	}
	for _, r := range tempi(m, h, offer) {
		if len(list) < MostReadings-1 && !slices.ContainsFunc(list, func(o Reading) bool { return sameBeats(o.Beats, r.Beats) }) {
			list = append(list, r)
		}
	}
	if at, ok := otherOne(m, h.Attacks); ok && len(list) < MostReadings {
		if r, ok := offer("", Correction{Kind: BarOne, At: at}); ok {
			list = append(list, r)
		}
	}
	return list
}

// halfBeat is half of a felt beat of a map.
func halfBeat(m *timeline.BeatMap) timeline.Rat {
	return timeline.NewRat(int64(m.MetreAt(1).Pulse()), 2)
}

// tempi gives grids of other tempi, the best sitting first. Those that a simple ratio leads to are counted anew; for others the ear's own
// grid is taken.
func tempi(m *timeline.BeatMap, h Heard, offer func(string, ...Correction) (Reading, bool)) []Reading {
	var list []Reading
	here := felt(m)
	try := func(cs ...Correction) {
		if r, ok := offer("", cs...); ok {
			list = append(list, r)
		}
	}
	for _, bpm := range h.Tempi {
		for _, k := range []Kind{Double, Half, ThreeTwo, TwoThree} {
			c := Correction{Kind: k}
			if by := c.ratio(); math.Abs(bpm/here*float64(by.Den())/float64(by.Num())-1) < 0.02 {
				try(c)
			}
		}
	}
	if !h.Beats.Empty() && !sameBeats(m, h.Beats) {
		if r, ok := offer("", Correction{Kind: Whole, Map: h.Beats, Name: "as it is heard"}); ok {
			list = append(list, r)
		}
	}
	slices.SortStableFunc(list, func(a, b Reading) int {
		x, _ := a.Fit.Share()
		y, _ := b.Fit.Share()
		return cmp.Compare(y, x)
	})
	return list
}

// felt gives the tempo of felt beats at bar 1.
func felt(m *timeline.BeatMap) float64 {
	return m.BPM(m.BarStart(1)) / float64(m.MetreAt(1).Pulse())
}

// bpmName names the tempo of a grid as it is counted.
func bpmName(m *timeline.BeatMap) string {
	text := MilliBPM(math.Round(felt(m)*100) * 10).String()
	if metre := m.MetreAt(1); metre.Pulse() != 1 {
		return text + " bpm in " + metre.String()
	}
	return text + " bpm"
}

// oneName says where bar 1 of a grid is.
func oneName(m *timeline.BeatMap) string { return "bar 1 at " + m.BarStart(1).Text(2) + " s" }

// sameBeats reports whether two grids call the same instants by the same places, as far as the ear can tell.
func sameBeats(a, b *timeline.BeatMap) bool {
	if a.Empty() || b.Empty() || a.MetreAt(1) != b.MetreAt(1) {
		return a.Empty() && b.Empty()
	}
	for bar := 1; bar <= 128; bar += 8 {
		if d := a.BarStart(bar) - b.BarStart(bar); d > Near || d < -Near {
			return false
		}
	}
	return true
}

// otherOne gives the time of the felt beat that is the likeliest first of a bar beside the one that is: the beat of the bar on which the
// strong attacks weigh most. ok is false where bars have one felt beat, or nothing was heard.
func otherOne(m *timeline.BeatMap, attacks []Attack) (at timeline.Time, ok bool) {
	metre := m.MetreAt(1)
	n := metre.Num / metre.Pulse()
	if n < 2 || len(attacks) == 0 {
		return 0, false
	}
	weight := make([]float64, n)
	for _, a := range attacks {
		p := m.Snap(a.At, whole(metre.Pulse()))
		if d := m.At(p) - a.At; d <= Near && d >= -Near && m.MetreAt(p.Bar) == metre {
			weight[int(p.Beat.Floor())/metre.Pulse()] += a.Strength * a.Weight
		}
	}
	best := 1
	for i := 1; i < n; i++ {
		if weight[i] > weight[best] {
			best = i
		}
	}
	if weight[best] == 0 {
		return 0, false
	}
	return m.At(timeline.BarBeat{Bar: 1, Beat: whole(best * metre.Pulse())}), true
}

package grid

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"emberbeat/timeline"
)

// LeastTaps is the number of taps from which they tell a tempo.
const LeastTaps = 4

// Pulse is an even row of beats: Over beats last Length, and one of them is at First.
type Pulse struct {
	First  timeline.Time
	Length timeline.Time
	Over   int
	Spread timeline.Time // half of the taps lie nearer to their beats than this
	Taps   int
}

// lasting gives how long so many beats last.
func (p Pulse) lasting(n int) timeline.Time { return share(p.Length, int64(p.Over), n) }

// BPM gives the tempo of the pulse.
func (p Pulse) BPM() MilliBPM {
	if p.Length <= 0 {
		return 0
	}
	return MilliBPM(math.Round(60_000 * float64(p.Over) / p.Length.Seconds()))
}

// Tapped makes a pulse of taps along with beats, at least LeastTaps: its length is the median of their distances, a beat that was left out
// counted, and it lies at the median of the taps.
func Tapped(taps []timeline.Time) (Pulse, error) {
	if len(taps) < LeastTaps {
		return Pulse{}, fmt.Errorf("%d taps are too few to tell a tempo: tap at least %d beats", len(taps), LeastTaps)
	}
	taps = slices.Clone(taps)
	slices.Sort(taps)
	var gaps []timeline.Time
	for i := 1; i < len(taps); i++ {
		gaps = append(gaps, taps[i]-taps[i-1])
	}
	usual := median(gaps)
	if usual <= 0 {
		return Pulse{}, errors.New("the taps lie on top of each other: tap once on each beat")
	}
	beat := make([]int, len(taps)) // of each tap, from the first
	var each []timeline.Time
	for i, g := range gaps {
		n := max(1, int(math.Round(float64(g)/float64(usual))))
		beat[i+1] = beat[i] + n
		each = append(each, g/timeline.Time(n))
	}
	p := Pulse{Length: median(each), Over: 1, Taps: len(taps)}
	off := make([]timeline.Time, len(taps))
	for i, t := range taps {
		off[i] = t - p.lasting(beat[i])
	}
	p.First = median(off)
	for i := range off {
		off[i] = max(off[i]-p.First, p.First-off[i])
	}
	p.Spread = median(off)
	if bpm := p.BPM(); bpm < Slowest || bpm > Fastest {
		return Pulse{}, fmt.Errorf("the taps make %s beats a minute: a beat map holds 10 to 1000", bpm)
	}
	return p, nil
}

// median gives the middle of a list, of an even number the mean of the two in the middle. It leaves the list as it is.
func median(list []timeline.Time) timeline.Time {
	s := slices.Clone(list)
	slices.Sort(s)
	n := len(s)
	return (s[(n-1)/2] + s[n/2]) / 2
}

// How Refined looks for attacks of beats.
const (
	refineFrom  = 0.5 // strength from which an attack is looked at: in a quiet passage there are few strong ones
	refineNear  = 8   // an attack within so much of a beat is taken for the beat's, in the end within half of that
	refineFirst = 6   // beats on either side that are looked at first
	refineGrows = 1.4 // by which more are looked at each time
)

// Refined lays a pulse on the attacks that were heard: from its first beats outwards, as far as they go with it. Taps tell a tempo to a
// hundredth; a song of minutes needs a thousand times that. Where too few attacks lie near its beats it is left as it is.
func (p Pulse) Refined(attacks []Attack) Pulse {
	length, at := float64(p.Length)/float64(p.Over), float64(p.First)
	middle := float64(p.Taps) / 2
	near := stronger(attacks, refineFrom)
	fitted := false
	for reach, near1 := float64(refineFirst), 1.0/refineNear; ; reach, near1 = reach*refineGrows, max(near1*0.9, 0.5/refineNear) {
		within := 0
		for range 3 {
			var n, sx, sy, sxx, sxy float64
			within = 0
			for _, a := range near {
				k := math.Round((float64(a) - at) / length)
				if math.Abs(k-middle) > reach {
					continue
				}
				within++
				y := float64(a) - at
				if math.Abs(y-k*length) > near1*length {
					continue
				}
				n, sx, sy, sxx, sxy = n+1, sx+k, sy+y, sxx+k*k, sxy+k*y
			}
			if d := n*sxx - sx*sx; n >= LeastTaps && d > 0 {
				slope := (n*sxy - sx*sy) / d
				if slope < 0.8*length || slope > 1.25*length {
					return p // they are attacks of something else
				}
				at, length = at+(sy-slope*sx)/n, slope
				fitted = true
			}
		}
		if within == len(near) {
			break
		}
	}
	if !fitted || length <= 0 {
		return p
	}
	const over = 1024 // so that a length of beats is kept finer than a unit of time
	q := p
	q.First, q.Length, q.Over = timeline.Time(math.Round(at)), timeline.Time(math.Round(length*over)), over
	return q
}

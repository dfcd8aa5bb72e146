package grid

import (
	"slices"

	"emberbeat/timeline"
)

// Attack is something that begins to sound, as it was heard.
type Attack struct {
	At       timeline.Time
	Strength float64 // 0..1, its rank among those of the song
	Weight   float64 // how much it speaks for the first beat of a bar: low and wide ones do
}

// How strong an attack is that counts for the grid, and how near to a beat it must lie.
const (
	StrongFrom = 0.75 // of the example's songs the right grid sits better then than one of twice as many beats
	Near       = 20 * timeline.Millisecond
)

// Strong gives the instants of the strong attacks in order.
func Strong(attacks []Attack) []timeline.Time { return stronger(attacks, StrongFrom) }

func stronger(attacks []Attack, from float64) []timeline.Time {
	var list []timeline.Time
	for _, a := range attacks {
		if a.Strength >= from {
			list = append(list, a.At)
		}
	}
	slices.Sort(list)
	return list
}

// Fit is how well a grid sits on what was heard.
type Fit struct {
	Beats, Attacks int // from the first to the last strong attack
	Met            int // beats with an attack within Near, each attack for one beat
}

// Share gives the F-measure of beats and attacks, 0 to 1: the harmonic mean of the share of beats that are met and of attacks that meet one.
// known is false where nothing was heard, or there are no beats.
func (f Fit) Share() (share float64, known bool) {
	if f.Beats == 0 || f.Attacks == 0 {
		return 0, false
	}
	return 2 * float64(f.Met) / float64(f.Beats+f.Attacks), true
}

// Percent is Share in whole percent.
func (f Fit) Percent() (percent int, known bool) {
	s, known := f.Share()
	return int(100*s + 0.5), known
}

// Sits gives how well a grid sits on the strong ones among attacks.
func Sits(m *timeline.BeatMap, attacks []Attack) Fit {
	heard := Strong(attacks)
	if m.Empty() || len(heard) == 0 {
		return Fit{Attacks: len(heard)}
	}
	beats := Beats(m, heard[0]-Near, heard[len(heard)-1]+Near)
	f := Fit{Beats: len(beats), Attacks: len(heard)}
	for i, k := 0, 0; i < len(beats) && k < len(heard); {
		switch d := heard[k] - beats[i]; {
		case d < -Near:
			k++
		case d > Near:
			i++
		default:
			f.Met++
			i, k = i+1, k+1
		}
	}
	return f
}

// Beats gives the beats of a map as they are felt, three eighths as one in 6/8, from a time to another.
func Beats(m *timeline.BeatMap, from, to timeline.Time) []timeline.Time {
	var list []timeline.Time
	if m.Empty() {
		return nil
	}
	for bar := m.Locate(from).Bar; ; bar++ {
		if m.BarStart(bar) > to {
			return list
		}
		metre := m.MetreAt(bar)
		for beat := 0; beat < metre.Num; beat += metre.Pulse() {
			at := m.At(timeline.BarBeat{Bar: bar, Beat: timeline.NewRat(int64(beat), 1)})
			if at > to {
				return list
			}
			if at >= from {
				list = append(list, at)
			}
		}
	}
}

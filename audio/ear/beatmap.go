package ear

import (
	"math"

	"emberbeat/timeline"
)

// BeatMap turns the beats into a map for a song: exact anchors for steady
// parts, one anchor a bar elsewhere. Bar 1 is the first downbeat; what comes
// before it counts backwards. It is empty (nil) where no beats were found.
func (a *Analysis) BeatMap() (*timeline.BeatMap, error) {
	if len(a.Beats) < 2 || len(a.Downbeats) == 0 {
		return nil, nil
	}
	m := a.Metre
	if m.IsZero() {
		m = timeline.Metre{Num: 4, Den: 4}
	}
	per := a.beatsPerBar()
	units := int64(m.Num / per) // metre units in a felt beat
	first := a.barOneIndex()
	var anchors []timeline.Anchor
	for i, t := range a.Beats {
		k := i - first
		bar := int(math.Floor(float64(k) / float64(per)))
		beat := k - bar*per
		if !a.isCorner(i) && !(beat == 0 && !a.steadyAt(t)) {
			continue
		}
		an := timeline.Anchor{Bar: bar + 1, Beat: timeline.NewRat(int64(beat)*units, 1), At: timeline.FromSeconds(t)}
		if len(anchors) == 0 {
			an.Metre = m
		}
		anchors = append(anchors, an)
	}
	return timeline.NewBeatMap(anchors)
}

// beatsPerBar is the number of felt beats in a bar.
func (a *Analysis) beatsPerBar() int {
	if a.Metre.IsZero() {
		return 4
	}
	return max(1, feltBeats(a.Metre))
}

// feltBeats counts two beats for 6/8, three for 9/8; every other metre as written.
func feltBeats(m timeline.Metre) int {
	if m.Den == 8 && m.Num%3 == 0 && m.Num > 3 {
		return m.Num / 3
	}
	return m.Num
}

func (a *Analysis) barOneIndex() int {
	for i, t := range a.Beats {
		if t >= a.Downbeats[0]-1e-9 {
			return i
		}
	}
	return 0
}

func (a *Analysis) partAt(t float64) int {
	for i, p := range a.Parts {
		if t < p.To {
			return i
		}
	}
	return len(a.Parts) - 1
}

func (a *Analysis) steadyAt(t float64) bool {
	i := a.partAt(t)
	return i >= 0 && a.Parts[i].Steady
}

// isCorner says whether beat i is the first or last of its part or of the song.
func (a *Analysis) isCorner(i int) bool {
	if i == 0 || i == len(a.Beats)-1 {
		return true
	}
	return a.partAt(a.Beats[i-1]) != a.partAt(a.Beats[i]) || a.partAt(a.Beats[i+1]) != a.partAt(a.Beats[i])
}

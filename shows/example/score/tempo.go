package score

import "sort"

// Anchor ties a beat to a time; between two anchors beats are evenly spaced.
// Bar and Beat count from 1 (a pick-up stands in bar 0). Tempo is in pulses
// per minute from here on: quarters in 4/4, dotted quarters in 6/8. The last
// anchor of a song is the first beat after its last bar.
type Anchor struct {
	Bar, Beat int
	At        Tick
	Tempo     int
}

// bend is a tempo from a step on; steps count from bar 1, beat 1.
type bend struct {
	step  int
	tempo int
	at    Tick
}

// tempoMap turns steps into ticks. Its first bend also serves what comes
// before it.
type tempoMap struct {
	metre Metre
	bends []bend
}

// newTempoMap places the bends in time so that step first falls on start.
// The bends are sorted by step and there is at least one, at or before first.
func newTempoMap(m Metre, bends []bend, first int, start Tick) tempoMap {
	t := tempoMap{metre: m, bends: append([]bend(nil), bends...)}
	t.bends[0].step = first
	t.bends[0].at = start
	for i := 1; i < len(t.bends); i++ {
		previous := t.bends[i-1]
		t.bends[i].at = previous.at + t.span(t.bends[i].step-previous.step, previous.tempo)
	}
	return t
}

// span is the length of a number of steps at a tempo, to the nearest tick.
func (t tempoMap) span(steps, tempo int) Tick {
	n := ticksPerMinute * Tick(steps)
	d := Tick(tempo * t.metre.stepsPerPulse())
	if n < 0 {
		return -((-n + d/2) / d)
	}
	return (n + d/2) / d
}

func (t tempoMap) bendAt(step int) bend {
	i := sort.Search(len(t.bends), func(i int) bool { return t.bends[i].step > step })
	return t.bends[max(i-1, 0)]
}

func (t tempoMap) at(step int) Tick {
	b := t.bendAt(step)
	return b.at + t.span(step-b.step, b.tempo)
}

func (t tempoMap) anchor(step int) Anchor {
	bar, rest := floorDiv(step, t.metre.stepsPerBar())
	return Anchor{
		Bar: bar + 1, Beat: rest/t.metre.stepsPerBeat() + 1,
		At: t.at(step), Tempo: t.bendAt(step).tempo,
	}
}

func (t tempoMap) anchors(end int) []Anchor {
	var as []Anchor
	for _, b := range t.bends {
		as = append(as, t.anchor(b.step))
	}
	return append(as, t.anchor(end))
}

func floorDiv(a, b int) (quotient, rest int) {
	quotient, rest = a/b, a%b
	if rest < 0 {
		quotient, rest = quotient-1, rest+b
	}
	return quotient, rest
}

package score

import "fmt"

// stepsPerWhole is the grid of the score: sixteenth notes.
const stepsPerWhole = 16

// Metre is a time signature: Beats notes of 1/Unit make a bar. Pulse is how
// many of these make one foot tap: 1 in 4/4, 3 in 6/8.
type Metre struct{ Beats, Unit, Pulse int }

// String gives the usual notation, such as "6/8".
func (m Metre) String() string { return fmt.Sprintf("%d/%d", m.Beats, m.Unit) }

func (m Metre) stepsPerBeat() int  { return stepsPerWhole / m.Unit }
func (m Metre) stepsPerPulse() int { return m.Pulse * m.stepsPerBeat() }
func (m Metre) stepsPerBar() int   { return m.Beats * m.stepsPerBeat() }

func parseMetre(s string) (Metre, error) {
	switch s {
	case "4/4":
		return Metre{Beats: 4, Unit: 4, Pulse: 1}, nil
	case "6/8":
		return Metre{Beats: 6, Unit: 8, Pulse: 3}, nil
	}
	return Metre{}, fmt.Errorf("metre %q is not known; use 4/4 or 6/8", s)
}

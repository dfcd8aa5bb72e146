package figure

import "math"

// Row is one distance that something asks for, beside what is planned. NaN
// stands for what is not known; it never counts as 0.
type Row struct {
	Required, Planned float64
}

// Unknown is a figure that nobody has given.
func Unknown() float64 { return math.NaN() }

// Known reports whether a figure is one.
func Known(x float64) bool { return !math.IsNaN(x) }

// State says what comparing a row gives. None of them says that something is
// allowed.
type State string

// The states.
const (
	Kept      State = "kept"
	Short     State = "short"
	Unchecked State = "cannot be checked"
)

// noise is what binary fractions leave of decimal ones.
const noise = 1e-6

// RoundedUp gives a required distance as it is printed: the next tenth of a
// metre (J).
func RoundedUp(x float64) float64 { return StepUp(x, 0.1) }

// RoundedDown gives a planned distance as it is printed: the tenth of a metre
// before it (J).
func RoundedDown(x float64) float64 { return math.Floor(x*10+noise) / 10 }

// StepUp rounds up to a multiple of a step that divides a metre.
func StepUp(x, step float64) float64 {
	n := math.Round(1 / step)
	return math.Ceil(x*n-noise) / n
}

// Printed gives the row as it is printed: required rounded up, planned rounded
// down. What is printed is what is judged.
func (r Row) Printed() Row { return Row{RoundedUp(r.Required), RoundedDown(r.Planned)} }

// State judges a row by its printed figures.
func (r Row) State() State {
	switch p := r.Printed(); {
	case !Known(p.Required) || !Known(p.Planned):
		return Unchecked
	case p.lack() > 0:
		return Short
	}
	return Kept
}

// lack is by how much a row is short; below 0 it has more than it needs.
func (r Row) lack() float64 { return math.Round((r.Required-r.Planned)*1e6) / 1e6 }

// Judge gives the row that governs, the one that lacks most, and the state of
// all: short before not checked before kept. Of rows that lack the same the
// larger requirement governs, then the one that stands first; -1 = none has
// figures. Without rows nothing was checked.
func Judge(rows []Row) (governing int, state State) {
	governing, state = -1, Kept
	if len(rows) == 0 {
		return governing, Unchecked
	}
	var worst Row
	for i, r := range rows {
		switch r.State() {
		case Unchecked:
			if state == Kept {
				state = Unchecked
			}
			continue
		case Short:
			state = Short
		}
		p := r.Printed()
		if governing < 0 || p.lack() > worst.lack() || p.lack() == worst.lack() && p.Required > worst.Required {
			governing, worst = i, p
		}
	}
	return governing, state
}

// Needs says what an effect must give so that its distances can be computed.
type Needs struct{ Height, Fallout bool }

// Lack is something that an effect needs and nobody has given.
type Lack struct {
	Field string // height, fallout
	Word  Word
}

// Lacking lists what is not given and matters: a warning of what stands upright,
// an error of what is tilted.
func (n Needs) Lacking(tilted bool, height, fallout float64) []Lack {
	word := Warn
	if tilted {
		word = Err
	}
	var list []Lack
	if n.Height && !Known(height) {
		list = append(list, Lack{"height", word})
	}
	if n.Fallout && !Known(fallout) {
		list = append(list, Lack{"fallout", word})
	}
	return list
}

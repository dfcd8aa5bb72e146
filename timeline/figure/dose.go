package figure

import (
	"math"
	"slices"
)

// Pulse is something that lasts from one time to another.
type Pulse struct{ From, To, Amount float64 }

// Added gives what pulses come to together, piece by piece.
func Added(pulses []Pulse) []Pulse {
	var cuts []float64
	for _, p := range pulses {
		cuts = append(cuts, p.From, p.To)
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var list []Pulse
	for i := 1; i < len(cuts); i++ {
		piece := Pulse{From: cuts[i-1], To: cuts[i]}
		for _, p := range pulses {
			if p.From <= piece.From && p.To >= piece.To {
				piece.Amount += p.Amount
			}
		}
		list = append(list, piece)
	}
	return list
}

// Dose gives the thermal dose of a radiation in kW/m² over some seconds: q^(4/3)
// t (M).
func Dose(flux, seconds float64) float64 {
	if seconds == 0 {
		return 0 // most windows end where a pulse does, and the root takes its time
	}
	return flux * math.Cbrt(flux) * seconds
}

// MostDose gives the largest dose in any window of so many seconds, without
// recovery between pulses (J, on the safe side). Pieces must be in order and not
// overlap, as Added gives them. What does not rise above a floor adds nothing:
// people may stay there (J).
func MostDose(pieces []Pulse, window, floor float64) float64 {
	if adds := func(p Pulse) bool { return p.Amount > floor && p.To > p.From }; slices.ContainsFunc(pieces, func(p Pulse) bool { return !adds(p) }) {
		pieces = slices.DeleteFunc(slices.Clone(pieces), func(p Pulse) bool { return !adds(p) })
	}
	doses := make([]float64, len(pieces))
	for i, p := range pieces {
		doses[i] = p.dose()
	}
	// The sum changes its slope only where a piece begins or ends at one end of
	// the window, so that a most begins with a piece or ends with one.
	most := 0.0
	sum, first := 0.0, 0
	for i, p := range pieces {
		sum += doses[i]
		for pieces[first].To <= p.To-window {
			sum -= doses[first]
			first++
		}
		cut := max(0, p.To-window-pieces[first].From)
		most = max(most, sum-Dose(pieces[first].Amount, cut))
	}
	sum, first = 0, len(pieces)-1
	for i := len(pieces) - 1; i >= 0; i-- {
		sum += doses[i]
		for pieces[first].From >= pieces[i].From+window {
			sum -= doses[first]
			first--
		}
		cut := max(0, pieces[first].To-pieces[i].From-window)
		most = max(most, sum-Dose(pieces[first].Amount, cut))
	}
	return most
}

func (p Pulse) dose() float64 { return Dose(p.Amount, p.To-p.From) }

// HeatLevels are the numbers that a radiation is held against.
type HeatLevels struct {
	Window         float64 // s in which the dose adds up
	Dose, Share    float64 // dose worth a warning, and the part of it worth a note
	NotePeak, Peak float64 // kW/m² worth a note, and worth a warning
	Floor          float64 // kW/m² that add nothing to the dose
}

// Word says how much something is worth saying.
type Word string

// The words, least first.
const (
	NoWord   Word = "none"
	RowOnly  Word = "row only"
	NoteWord Word = "note"
	Warn     Word = "warning"
	Err      Word = "error"
)

// Verdict gives peak and dose of what pulses of radiation come to, and what that
// is worth saying.
func (l HeatLevels) Verdict(pulses []Pulse) (peak, dose float64, word Word) {
	pieces := Added(pulses)
	for _, p := range pieces {
		peak = max(peak, p.Amount)
	}
	dose = MostDose(pieces, l.Window, l.Floor)
	return peak, dose, l.Word(peak, dose)
}

// Word says what a peak and a dose are worth.
func (l HeatLevels) Word(peak, dose float64) Word {
	switch {
	case peak > l.Peak || dose > l.Dose:
		return Warn
	case peak > l.NotePeak || dose > l.Share*l.Dose:
		return NoteWord
	}
	return RowOnly
}

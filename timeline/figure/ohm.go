package figure

import "math"

// Meter says how far a reading may lie from what is expected.
type Meter struct {
	Share   float64 // of the reading, of the meter
	Zero    float64 // ohm, of the meter
	Igniter float64 // part by which igniters differ
	Warm    float64 // degrees by which the cable may be warmer
}

// Band gives the half width of what a meter may show of a cable and igniters.
func (m Meter) Band(cable, load float64) float64 {
	return m.Zero + m.Share*(cable+load) + m.Igniter*load + copperPerDegree*m.Warm*cable
}

// Fit is what a reading of a circuit says.
type Fit string

// What a reading can say. None of them says that anything is ready.
const (
	FitOpen       Fit = "open"
	FitOne        Fit = "fits"
	FitSome       Fit = "fits, count not told"
	FitShort      Fit = "fits, short not told"
	FitShorted    Fit = "short"
	FitOtherCount Fit = "fits another count"
	FitNone       Fit = "fits no count"
)

// Reading says which counts of igniters a measured resistance fits, and what that
// says of the count that is planned.
func (m Meter) Reading(measured float64, parallel bool, n int, ohms, cable float64) (counts []int, fit Fit) {
	load := func(k int) float64 { return Joined(parallel, k, ohms) }
	if measured > 3*(cable+load(n))+10 {
		return nil, FitOpen
	}
	planned := false
	for k := 1; k <= 2*n+2; k++ {
		if math.Abs(measured-cable-load(k)) <= m.Band(cable, load(k)) {
			counts, planned = append(counts, k), planned || k == n
		}
	}
	short := measured <= cable+m.Band(cable, 0)
	switch {
	case !planned && short:
		return counts, FitShorted
	case !planned && len(counts) > 0:
		return counts, FitOtherCount
	case !planned:
		return counts, FitNone
	case short:
		return counts, FitShort
	case len(counts) == 1:
		return counts, FitOne
	}
	return counts, FitSome
}

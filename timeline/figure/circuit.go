package figure

import "math"

// copperPerDegree is how much the resistance of copper grows with each degree,
// as a part of that at 20 °C (M: IEC 60228).
const copperPerDegree = 0.00393

// Warm gives a resistance of copper at a temperature from that at 20 °C.
func Warm(ohms, celsius float64) float64 { return ohms * (1 + copperPerDegree*(celsius-20)) }

// CableLoop gives the resistance of a cable in ohm, both ways: metres one way,
// ohm per km of a core at 20 °C, the temperature.
func CableLoop(metres, perKm, celsius float64) float64 {
	return 2 * metres * Warm(perKm, celsius) / 1000
}

// Joined gives the resistance of igniters as they are joined.
func Joined(parallel bool, n int, ohms float64) float64 {
	if parallel {
		return ohms / float64(n)
	}
	return ohms * float64(n)
}

// Each gives the share of an output's current that flows through one igniter.
func Each(parallel bool, n int, amps float64) float64 {
	if parallel {
		return amps / float64(n)
	}
	return amps
}

// Stored gives the energy in J of a capacity in µF.
func Stored(microfarad, volts float64) float64 { return microfarad / 2e6 * volts * volts }

// AfterPulse gives the volts that a capacity has left after a pulse into a
// resistance (D).
func AfterPulse(microfarad, volts, ohms, pulse float64) float64 {
	return volts * math.Exp(-pulse/(ohms*microfarad/1e6))
}

// Recharged gives the volts before the next pulse, so many seconds later, where
// the bank charges with a time constant (D).
func Recharged(volts, after, wait, recharge float64) float64 {
	return volts - (volts-after)*math.Exp(-wait/recharge)
}

// Output is one output of a bank that is on: the ohm of all that hangs on it and
// its own, and how many igniters share its current.
type Output struct {
	Ohms     float64
	Parallel int
}

// Together gives what flows where a bank of some volts and one inner resistance
// has outputs on at the same time: the current of all, the volts that are left,
// and the current through one igniter of each (D; on the safe side where an
// igniter opens early).
func Together(volts, inner float64, outputs []Output) (total, left float64, each []float64) {
	conductance := 0.0
	for _, o := range outputs {
		conductance += 1 / o.Ohms
	}
	total = volts / (inner + 1/conductance)
	left = total / conductance
	for _, o := range outputs {
		each = append(each, left/o.Ohms/float64(o.Parallel))
	}
	return total, left, each
}

// Hit is something of an amount at a time.
type Hit struct{ At, Amount float64 }

// edge is how far a half-open window stays from its end, so that what ends as
// another begins is not counted with it.
const edge = 1e-9

// MostAtOnce gives the largest sum of what is on at one instant where each hit
// lasts a pulse, and of how many hits that is.
func MostAtOnce(hits []Hit, pulse float64) (sum float64, n int) {
	for _, at := range hits {
		s, k := 0.0, 0
		for _, h := range hits {
			if h.At <= at.At && at.At < h.At+pulse-edge {
				s, k = s+h.Amount, k+1
			}
		}
		if s > sum {
			sum, n = s, k
		}
	}
	return sum, n
}

// MostWithin gives the largest sum in any half-open window.
func MostWithin(hits []Hit, window float64) float64 {
	most := 0.0
	for _, first := range hits {
		s := 0.0
		for _, h := range hits {
			if first.At <= h.At && h.At < first.At+window-edge {
				s += h.Amount
			}
		}
		most = max(most, s)
	}
	return most
}

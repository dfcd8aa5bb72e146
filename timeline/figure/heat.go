package figure

import "math"

// Flame is what a flame radiates and from where. Air takes nothing away and the
// receiver faces it (on the safe side).
type Flame struct {
	Envelope
	Height float64 // without tolerance
	Power  float64 // kW that are radiated
}

// HeatPower gives the heat in kW that a flame sends out as radiation: the
// part that is radiated, fuel in kg/s, heat of combustion in kJ/kg.
func HeatPower(radiated, fuel, heat float64) float64 { return radiated * fuel * heat }

// FlameLength gives the length in m of a flame of so many kW (M: 0.235 Q^0.4).
func FlameLength(kilowatts float64) float64 { return 0.235 * math.Pow(kilowatts, 0.4) }

// HeatRadius gives the slant distance in m at which the radiation of a point
// has fallen to a level in kW/m² (D).
func HeatRadius(power, level float64) float64 { return math.Sqrt(power / (4 * math.Pi * level)) }

// PointFlux gives the radiation in kW/m² of a point at a distance in m (D).
func PointFlux(power, metres float64) float64 { return power / (4 * math.Pi * metres * metres) }

// Middle is where a flame counts as a point.
func (f *Flame) Middle() Vec { return f.At.Along(f.Dir, f.Height/2) }

// Receiver gives the place over a point of the plan that the middle of a flame
// is nearest to, from the floor to the height of a head.
func (f *Flame) Receiver(p Point, head float64) Vec {
	return Vec{p.X, p.Y, min(head, max(0, f.Middle().Z))}
}

// LineFlux gives the radiation in kW/m² of a flame taken as a line of even
// points (D: the integral of it).
func (f *Flame) LineFlux(q Vec) float64 {
	along, across := f.ofAxis(q)
	if across < 1e-6 {
		return f.Power / (4 * math.Pi * f.Length) * math.Abs(1/(along-f.Length)-1/along)
	}
	return f.Power / (4 * math.Pi * f.Length * across) * (math.Atan((f.Length-along)/across) + math.Atan(along/across))
}

// Flux gives the greater of point and line, in kW/m²; false where the place lies
// in or on the flame, for which there is no number.
func (f *Flame) Flux(q Vec) (float64, bool) {
	if f.ToBody(q, 0) <= 0 {
		return 0, false
	}
	return max(PointFlux(f.Power, q.minus(f.Middle()).length()), f.LineFlux(q)), true
}

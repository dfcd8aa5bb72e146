package timeline

import "math"

// Room is the air of a room, taken as mixed throughout, which it never is: cold
// gas sinks. Its figures are estimates for planning.
type Room struct {
	Volume     float64 // m³
	AirChanges float64 // per hour; 0 = no fresh air
}

// Rise gives what a mass of gas in kg adds to the room at once, in ppm, where
// a kg takes up perKg m³.
func (r Room) Rise(kg, perKg float64) float64 { return kg * perKg / r.Volume * 1e6 }

// After gives what is left of a rise in ppm after some seconds of fresh air.
func (r Room) After(ppm, seconds float64) float64 {
	return ppm * math.Exp(-r.AirChanges/3600*seconds)
}

// Steady gives the rise in ppm that a constant flow of gas in m³/s comes to in
// the end; without fresh air there is no end.
func (r Room) Steady(flow float64) float64 { return flow / (r.Volume * r.AirChanges / 3600) * 1e6 }

// Feeding gives the rise in ppm after some seconds of a constant flow in m³/s.
func (r Room) Feeding(flow, seconds float64) float64 {
	if r.AirChanges == 0 {
		return flow * seconds / r.Volume * 1e6
	}
	return r.Steady(flow) * (1 - math.Exp(-r.AirChanges/3600*seconds))
}

// Oxygen gives the part of oxygen in air, in percent, that a part of another
// gas leaves.
func Oxygen(share float64) float64 { return 20.95 * (1 - share) }

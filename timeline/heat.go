package timeline

import "math"

// The figures of this file are estimates for planning: a flame as a point in
// its middle that sends a part of its heat out evenly. Close to a flame, in wind
// and with other fuels they are wrong.

// HeatPower gives the heat in kW that a flame of a fuel sends out as radiation:
// fuel in kg/s, heat of combustion in kJ/kg, the part that is radiated.
func HeatPower(fuel, heat, radiated float64) float64 { return radiated * fuel * heat }

// HeatFlux gives the radiation in kW/m² at a slant distance in m from the
// middle of a flame that radiates so many kW.
func HeatFlux(power, metres float64) float64 { return power / (4 * math.Pi * metres * metres) }

// HeatRadius gives the slant distance in m at which the radiation of a flame
// has fallen to a level in kW/m².
func HeatRadius(power, level float64) float64 { return math.Sqrt(power / (4 * math.Pi * level)) }

// FlameLength gives the length in m of a flame of so many kW (from memory:
// 0.235 Q^0.4).
func FlameLength(kilowatts float64) float64 { return 0.235 * math.Pow(kilowatts, 0.4) }

// HeatDose gives the thermal dose of a radiation in kW/m² over some seconds:
// q^(4/3) t.
func HeatDose(flux, seconds float64) float64 { return flux * math.Cbrt(flux) * seconds }

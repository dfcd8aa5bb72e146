package figure

import "math"

// Molar masses in kg/mol and the gas constant in J/(mol K) (S: IUPAC, CODATA).
const (
	MolarCO2    = 0.0440095
	MolarN2     = 0.0280134
	MolarO2     = 0.0319988
	gasConstant = 8.314462618
	atmosphere  = 101325 // Pa
	freezing    = 273.15 // K at 0 °C
)

// oxygenInAir is the part of oxygen in dry air, in percent (S: US Standard
// Atmosphere 1976).
const oxygenInAir = 20.95

// VolumePerKg gives the m³ that a kg of an ideal gas takes up at 1 atm (D).
func VolumePerKg(molar, celsius float64) float64 {
	return gasConstant * (freezing + celsius) / (atmosphere * molar)
}

// Rise gives what a mass of gas adds at once to a room, in ppm, where a kg takes
// up perKg m³. Upper bound of what is left where the gas drives air out: see
// Displaced.
func Rise(kg, perKg, volume float64) float64 { return kg * perKg / volume * 1e6 }

// Displaced gives the ppm where each part of the gas drives out mixed air (D).
func Displaced(kg, perKg, volume float64) float64 { return (1 - math.Exp(-kg*perKg/volume)) * 1e6 }

// Oxygen gives the part of oxygen in air, in percent, that a part of another gas
// leaves.
func Oxygen(share float64) float64 { return oxygenInAir * (1 - share) }

// Fading gives the part of a rise that is left after some seconds of air
// changes per hour.
func Fading(airChanges, seconds float64) float64 { return math.Exp(-airChanges / 3600 * seconds) }

// Layer gives the ppm where all of a gas stays in a layer on the floor, or in a
// pit (D, an upper estimate: gas that is cold sinks).
func Layer(kg, perKg, area, depth float64) float64 { return Rise(kg, perKg, area*depth) }

// Burnt gives the kg of CO2 that a kg of a fuel of so many atoms of carbon and
// hydrogen gives, and the kg of oxygen that it uses up (D).
func Burnt(carbon, hydrogen, molar float64) (co2, oxygen float64) {
	return carbon * MolarCO2 / molar, (carbon + hydrogen/4) * MolarO2 / molar
}

// MolarFuel gives the molar mass of a fuel of carbon and hydrogen, in kg/mol (S:
// IUPAC masses of the atoms).
func MolarFuel(carbon, hydrogen float64) float64 { return (carbon*12.0107 + hydrogen*1.00794) / 1000 }

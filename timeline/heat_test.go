package timeline

import (
	"math"
	"testing"
)

// Heats of combustion: propane 46332, isobutane 45575 kJ/kg (published); the
// radiated part 0.3 from memory; lengths and distances derived from the formulas.
const propaneHeat = 46332

func TestFlameLength(t *testing.T) {
	for fuel, want := range map[float64]float64{0.05: 5.2, 0.10: 6.9, 0.15: 8.1, 0.20: 9.1, 0.25: 9.9} {
		within(t, want, FlameLength(fuel*propaneHeat), 0.05, "length")
	}
}

// Levels: 1.58 and 4.73 kW/m² published, 6.31 from memory.
func TestHeatRadius(t *testing.T) {
	for _, c := range []struct{ fuel, level, want float64 }{
		{0.10, 1.58, 8.37}, {0.10, 4.73, 4.84}, {0.10, 6.31, 4.19},
		{0.20, 1.58, 11.83}, {0.20, 4.73, 6.84}, {0.20, 6.31, 5.92},
		{0.25, 1.58, 13.23}, {0.25, 4.73, 7.65}, {0.25, 6.31, 6.62},
	} {
		power := HeatPower(c.fuel, propaneHeat, 0.3)
		near(t, c.want, HeatRadius(power, c.level), "radius")
		near(t, c.level, HeatFlux(power, HeatRadius(power, c.level)), "level")
	}
}

// One flame of 0.15 kg/s at 8 m, and six at 2.5 m pitch, 8 m off their middle.
func TestHeatFlux(t *testing.T) {
	power := HeatPower(0.15, propaneHeat, 0.3)
	near(t, 2.59, HeatFlux(power, 8), "one")
	sum := 0.0
	for i := range 6 {
		sum += HeatFlux(power, math.Hypot(8, 2.5*(float64(i)-2.5)))
	}
	near(t, 12.53, sum, "six")
	near(t, 1.78, HeatDose(2.59, 0.5), "dose")
}

// within compares with what rounding to the printed digits leaves.
func within(t testing.TB, want, got, delta float64, what string) {
	t.Helper()
	if math.Abs(want-got) > delta {
		t.Fatalf("%s: want %g, got %g", what, want, got)
	}
}

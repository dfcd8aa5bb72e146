package figure_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	. "emberbeat/timeline/figure"
)

// CO2 at 20 °C and 1 atm as an ideal gas: 0.5466 m³/kg; the rest derived from
// C(t) = C0 e^(-Lt), L = air changes / 3600.
func TestCO2InARoom(t *testing.T) {
	const perKg, kg = 0.5466, 28.8
	require.InEpsilon(t, 7871, Rise(kg, perKg, 2000), 1e-4)
	require.InEpsilon(t, 262, Rise(kg, perKg, 60000), 0.002)
	require.InEpsilon(t, 2896, Rise(kg, perKg, 2000)*Fading(6, 600), 1e-3, "after 10 min")
	require.InEpsilon(t, 392, Rise(kg, perKg, 2000)*Fading(6, 1800), 1e-3, "after 30 min")
	require.Equal(t, 1.0, Fading(0, 1e6), "without fresh air it stays")
	require.InDelta(t, 19.5, Oxygen(0.0692), 0.005)
}

// Heats of combustion: propane 46332 kJ/kg (published); the radiated part 0.3
// from memory; lengths and distances derived from the formulas.
func TestFlamesOfPropane(t *testing.T) {
	const heat = 46332
	for fuel, want := range map[float64]float64{0.05: 5.2, 0.10: 6.9, 0.15: 8.1, 0.20: 9.1, 0.25: 9.9} {
		require.InDelta(t, want, FlameLength(fuel*heat), 0.05)
	}
	for _, c := range []struct{ fuel, level, want float64 }{
		{0.10, 1.58, 8.37}, {0.10, 4.73, 4.84}, {0.10, 6.31, 4.19},
		{0.20, 1.58, 11.83}, {0.20, 4.73, 6.84}, {0.20, 6.31, 5.92},
		{0.25, 1.58, 13.23}, {0.25, 4.73, 7.65}, {0.25, 6.31, 6.62},
	} {
		power := HeatPower(0.3, c.fuel, heat)
		require.InDelta(t, c.want, HeatRadius(power, c.level), 0.005)
		require.InEpsilon(t, c.level, PointFlux(power, HeatRadius(power, c.level)), 1e-9)
	}
	power, sum := HeatPower(0.3, 0.15, heat), 0.0
	for i := range 6 {
		sum += PointFlux(power, math.Hypot(8, 2.5*(float64(i)-2.5)))
	}
	require.InDelta(t, 2.59, PointFlux(power, 8), 0.005)
	require.InDelta(t, 12.53, sum, 0.005, "six at a pitch of 2.5 m")
	require.InDelta(t, 1.78, Dose(2.59, 0.5), 0.005)
}

package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// CO2 at 20 °C and 1 atm as an ideal gas: 0.5466 m³/kg; the rest derived from
// C(t) = C0 e^(-Lt) + (G/Q)(1 - e^(-Lt)), L = Q/V.
func TestCO2InARoom(t *testing.T) {
	const perKg, kg = 0.5466, 28.8
	sealed, aired, stadium := Room{Volume: 2000}, Room{Volume: 2000, AirChanges: 6}, Room{Volume: 60000}
	near(t, 7871, sealed.Rise(kg, perKg), "2000 m³")
	near(t, 262, stadium.Rise(kg, perKg), "60000 m³")
	near(t, 2896, aired.After(aired.Rise(kg, perKg), 600), "after 10 min")
	near(t, 392, aired.After(aired.Rise(kg, perKg), 1800), "after 30 min")
	flow := kg * perKg / 1800
	near(t, 2624, aired.Steady(flow), "steady")
	near(t, 2493, aired.Feeding(flow, 1800), "spread over 30 min")
	near(t, 7871, sealed.Feeding(flow, 1800), "without fresh air")
	require.Equal(t, 7871, int(sealed.After(sealed.Rise(kg, perKg), 1e6)+0.5), "and it stays")
	near(t, 19.5, Oxygen(0.0692), "oxygen at 6.92 % CO2")
}

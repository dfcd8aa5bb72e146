package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// near compares with 0.5 %, the tolerance for physics, or with what rounding to
// the printed digits leaves.
func near(t testing.TB, want, got float64, what string) {
	t.Helper()
	require.InEpsilon(t, want, got, 0.005, what)
}

// Ohm per km at 20 °C (IEC 60228, class 5, plain copper) and at 40 °C
// (R(T) = R20 (1 + 0.00393 (T-20)), derived).
func TestCableOhms(t *testing.T) {
	for section, want := range map[float64]float64{0.5: 39.0, 0.75: 26.0, 1: 19.5, 1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.30} {
		got, err := CableOhms(section, 20)
		require.NoError(t, err)
		require.Equal(t, want, got, section)
	}
	warm, err := CableOhms(0.5, 40)
	require.NoError(t, err)
	require.InDelta(t, 42.07, warm, 0.005)
	_, err = CableOhms(0.6, 20)
	require.EqualError(t, err, `circuit section: "0.6": has no resistance in the table; the table holds 0.5, 0.75, 1, 1.5, 2.5, 4, 6 mm²`)
}

// Currents at 24 V with no resistance of the output, 50 m of 0.5 mm² and
// igniters of 1.5 ohm and 1 A (derived from Ohm's law).
func TestCircuitCurrents(t *testing.T) {
	bank := &BankType{Volts: 24}
	for _, c := range []struct {
		joining Joining
		n       int
		each    float64
		passes  bool
	}{
		{InSeries, 1, 4.44, true}, {InSeries, 5, 2.11, true}, {InSeries, 10, 1.27, true}, {InSeries, 14, 0.964, false},
		{InParallel, 1, 4.44, true}, {InParallel, 2, 2.58, true}, {InParallel, 4, 1.40, true}, {InParallel, 5, 1.14, true}, {InParallel, 10, 0.593, false},
	} {
		circuit := &Circuit{Joining: c.joining, Igniters: c.n, Ohms: 1.5, AllFire: 1, Cable: 50, Section: 0.5}
		l, err := circuit.Load(bank, 20)
		require.NoError(t, err)
		near(t, 3.90, l.Cable, "cable")
		near(t, c.each, l.Each, "current")
		require.Equal(t, c.passes, l.Margin >= 1, "%s %d", c.joining, c.n)
		require.Equal(t, c.passes, len(l.Warnings(circuit, bank)) == 0)
		require.Empty(t, l.Missing)
	}
}

// A capacity of 1000 µF at 24 V into ten in series (derived: E = CV²/2,
// tau = RC, each takes Rm/R of the energy).
func TestCapacitorDischarge(t *testing.T) {
	l, err := (&Circuit{Joining: InSeries, Igniters: 10, Ohms: 1.5, AllFire: 1, Cable: 50, Section: 0.5}).Load(&BankType{Volts: 24, Capacity: 1000}, 20)
	require.NoError(t, err)
	near(t, 0.288, l.Energy, "energy")
	near(t, 0.0189, l.Decay, "time constant")
	near(t, 0.0229, l.EachJ, "energy of one igniter")
	near(t, 1.27, l.Amps, "peak")
}

// What is not given is named, and gives no figure that rests on it.
func TestCircuitWithoutFigures(t *testing.T) {
	l, err := (&Circuit{Joining: InSeries, Igniters: 3}).Load(nil, 20)
	require.NoError(t, err)
	require.Equal(t, []string{"ohms of an igniter", "cable", "section", "all-fire current", "volts of the bank"}, l.Missing)
	require.Zero(t, l.Amps)
	_, err = (&Circuit{Igniters: 1}).Load(nil, 400)
	require.ErrorContains(t, err, `circuit celsius: "400": must be a temperature of the cable from -60 to 120 °C`)
	limited := &BankType{Volts: 24, Amps: 2}
	one := &Circuit{Joining: InSeries, Igniters: 1, Ohms: 1.5, AllFire: 1, Cable: 50, Section: 0.5}
	l, err = one.Load(limited, 20)
	require.NoError(t, err)
	require.Equal(t, []string{"4.44 A is more than the 2 A an output of the bank gives"}, l.Warnings(one, limited))
}

// Ohm's and Kirchhoff's laws hold whatever the circuit: voltages around it add
// up, and so do the currents of parallel igniters.
func TestCircuitLaws(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := &Circuit{Joining: rapid.SampledFrom([]Joining{InSeries, InParallel}).Draw(r, "joining"), Igniters: rapid.IntRange(1, 40).Draw(r, "n"),
			Ohms: rapid.Float64Range(0.5, 4).Draw(r, "ohms"), Cable: rapid.Float64Range(1, 300).Draw(r, "cable"),
			Section: rapid.SampledFrom([]float64{0.5, 0.75, 1, 1.5, 2.5}).Draw(r, "section")}
		b := &BankType{Volts: rapid.Float64Range(5, 400).Draw(r, "volts"), Ohms: rapid.Float64Range(0, 3).Draw(r, "out")}
		l, err := c.Load(b, rapid.Float64Range(-20, 60).Draw(r, "celsius"))
		require.NoError(r, err)
		across, branches := c.Ohms*l.Each, 1.0
		if c.Joining == InSeries {
			across *= float64(c.Igniters)
		} else {
			branches = float64(c.Igniters)
		}
		require.InEpsilon(r, b.Volts, l.Amps*(b.Ohms+l.Cable)+across, 1e-9)
		require.InEpsilon(r, l.Amps, l.Each*branches, 1e-9)

		// What a capacitor holds goes into output, cable and igniters by their share
		// of the power, I²R, and nowhere else.
		b.Capacity = 1000
		l, err = c.Load(b, 20)
		require.NoError(r, err)
		power := l.Amps * l.Amps * (b.Ohms + l.Cable)
		all := power + float64(c.Igniters)*l.Each*l.Each*c.Ohms
		require.InEpsilon(r, l.Energy*l.Each*l.Each*c.Ohms/all, l.EachJ, 1e-9)
	})
}

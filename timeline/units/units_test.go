package units_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "emberbeat/timeline/testtool" // the seed of random walks
	"emberbeat/timeline/units"
)

// Factors: 1 ft = 0.3048 m, 1 lb = 0.45359237 kg, 1 mi = 5280 ft, exact by definition (from memory); the rest is derived.
func TestRead(t *testing.T) {
	for _, c := range []struct {
		si, text string
		want     float64
	}{
		{"m", "2.5", 2.5}, {"m", "2.5 m", 2.5}, {"m", "2.5m", 2.5}, {"m", " -3 m ", -3}, {"m", "250 cm", 2.5}, {"m", "40mm", 0.04}, {"m", "1e3", 1000},
		{"m", "3 ft", 0.9144}, {"m", "3FT", 0.9144}, {"m", "15 feet", 4.572}, {"m", "1 foot", 0.3048}, {"m", "18 in", 0.4572}, {"m", "-3 ft", -0.9144},
		{"m", "5 ft 6 in", 1.6764}, {"m", `5'6"`, 1.6764}, {"m", "5′ 6″", 1.6764}, {"m", "-5 ft 6 in", -1.6764}, {"m", "6'", 1.8288}, {"m", "0 ft 11.5 in", 0.2921},
		{"kg", "10 lb", 4.5359237}, {"kg", "10lbs", 4.5359237}, {"kg", "500 g", 0.5}, {"kg", "8 oz", 0.226796185}, {"g", "2 oz", 56.69904625}, {"g", "0.1 kg", 100}, {"g", "5 lb", 2267.96185},
		{"°C", "75 °F", 23.888888889}, {"°C", "32F", 0}, {"°C", "-40 °F", -40}, {"°C", "20 °C", 20}, {"°C", "20C", 20},
		{"m/s", "10 mph", 4.4704}, {"m/s", "36 km/h", 10}, {"m²", "100 ft²", 9.290304}, {"m²", "100 sq ft", 9.290304}, {"m³", "35 cu ft", 0.991089630}, {"kg/s", "1 lb/s", 0.45359237},
		{"ohm", "1.5", 1.5}, {"", "1.5", 1.5},
	} {
		got, err := units.Metres.Read(c.si, c.text)
		require.NoError(t, err, "%s %s", c.si, c.text)
		require.InDelta(t, c.want, got, 1e-9, "%s %s", c.si, c.text)
	}
	for _, c := range []struct{ si, text, want string }{
		{"m", "", "must be a number, alone or with m, cm, mm, ft, in"}, {"m", "ft", "a number"}, {"m", "3 lb", "with m, cm"}, {"kg", "3 ft", "with kg, g, lb, oz"}, {"m", "3 ft 4", "a number"},
		{"m", "3 ft 12 in", "a number"}, {"m", "3 ft -1 in", "a number"}, {"m", "3.5 ft 2 in", "a number"}, {"m", "NaN", "a number"}, {"m", "Inf", "a number"}, {"m", "1,5 m", "a number"}, {"m", "3 m m", "a number"},
		{"ohm", "3 m", "must be a number"}, {"", "3 m", "must be a number"}, {"m", strings.Repeat("1", 80) + " m", "a number"},
	} {
		_, err := units.Metres.Read(c.si, c.text)
		require.ErrorContains(t, err, c.want, "%s %q", c.si, c.text)
	}
	feet, err := units.Feet.Read("m", "15")
	require.NoError(t, err)
	require.Equal(t, 4.572, feet, "a number alone is in the unit that is shown")
	same, err := units.Feet.Read("m", "15 m")
	require.NoError(t, err)
	require.Equal(t, 15.0, same, "one with a unit is not")
}

func TestWording(t *testing.T) {
	for _, c := range []struct {
		si     string
		x      float64
		digits int
		metres string
		feet   string
	}{
		{"m", 6, 2, "6 m", "19.69 ft"}, {"m", 4.572, 2, "4.57 m", "15 ft"}, {"m", 4.572, -1, "4.572 m", "15 ft"}, {"m", 0, 2, "0 m", "0 ft"}, {"m", -0.001, 2, "0 m", "0 ft"},
		{"kg", 10, 3, "10 kg", "22.046 lb"}, {"°C", 20, -1, "20 °C", "68 °F"}, {"°C", -40, -1, "-40 °C", "-40 °F"}, {"m/s", 4.4704, -1, "4.4704 m/s", "10 mph"},
		{"m³", 1000, -1, "1000 m³", "35314.7 ft³"}, {"m²", 9.290304, -1, "9.290304 m²", "100 ft²"}, {"g", 12.5, -1, "12.5 g", "12.5 g"}, {"ohm", 1.5, -1, "1.5 ohm", "1.5 ohm"}, {"", 3, -1, "3", "3"},
	} {
		require.Equal(t, c.metres, units.Metres.Say(c.si, c.x, c.digits))
		require.Equal(t, c.feet, units.Feet.Say(c.si, c.x, c.digits))
	}
	// What governs: 4.6 m is 15.0919 ft; exactly 15 ft are not pushed up or down by what binary fractions leave.
	require.Equal(t, "15.1 ft", units.Feet.Up("m", 4.6, 2))
	require.Equal(t, "15 ft", units.Feet.Down("m", 4.6, 2))
	require.Equal(t, "15 ft", units.Feet.Up("m", 4.572, 2))
	require.Equal(t, "15 ft", units.Feet.Down("m", 4.572, 2))
	require.Equal(t, "4.6 m", units.Metres.Up("m", 4.6, 2))
	require.Equal(t, "4.6", units.Metres.DownNumber("m", 4.6, 2))
}

func TestSystemsReadBack(t *testing.T) {
	for _, s := range units.Systems() {
		got, err := units.ParseSystem(s.String())
		require.NoError(t, err)
		require.Equal(t, s, got)
	}
	_, err := units.ParseSystem("yards")
	require.ErrorContains(t, err, "metres, feet")
}

var quantities = []string{"m", "m²", "m³", "m/s", "kg", "kg/s", "m³/kg", "°C"}

// What is typed is shown as it was typed, to the step that is shown: it is kept in SI in between.
func TestTypedIsShown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		si := rapid.SampledFrom(quantities).Draw(t, "unit")
		s := rapid.SampledFrom(units.Systems()).Draw(t, "system")
		typed := strconv.FormatFloat(float64(rapid.IntRange(-999_999, 9_999_999).Draw(t, "tenths"))/10, 'f', -1, 64)
		x, err := s.Read(si, typed)
		require.NoError(t, err)
		kept, err := units.Metres.Read(si, strconv.FormatFloat(x, 'f', -1, 64)) // as files hold it
		require.NoError(t, err)
		require.Equal(t, typed, s.Number(si, kept, -1))
		again, err := units.Metres.Read(si, s.Say(si, kept, -1)) // what is shown is typed as it stands
		require.NoError(t, err)
		require.InDelta(t, x, again, 1e-9*max(1, math.Abs(x)))
	})
}

// A required length is never printed smaller and a planned one never larger than judged; neither is off by more than a tenth; and of two
// judged lengths, tenths of a metre, that differ, the larger is printed larger even where the larger is the planned one.
func TestJudgedIsNotLenient(t *testing.T) {
	number := func(text string) float64 {
		x, err := strconv.ParseFloat(strings.Fields(text)[0], 64)
		require.NoError(t, err)
		return x
	}
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.Float64Range(0, 9999).Draw(t, "metres")
		up, down := number(units.Feet.Up("m", m, 2)), number(units.Feet.Down("m", m, 2))
		require.GreaterOrEqual(t, up*0.3048, m-1e-6)
		require.LessOrEqual(t, down*0.3048, m+1e-6)
		require.Less(t, up*0.3048-m, 0.0305)
		require.Less(t, m-down*0.3048, 0.0305)
		tenth := float64(rapid.IntRange(0, 99999).Draw(t, "tenths"))
		required, planned := tenth/10, (tenth+1)/10
		require.Greater(t, number(units.Feet.Down("m", planned, 2)), number(units.Feet.Up("m", required, 2)))
	})
}

func FuzzRead(f *testing.F) {
	for _, text := range []string{"2.5", "3 ft", `5'6"`, "75 °F", "1e9", "-0", "5 ft 6 in", "′", "+-1 m", "1 "} {
		f.Add("m", text)
		f.Add("°C", text)
	}
	f.Fuzz(func(t *testing.T, si, text string) {
		for _, s := range units.Systems() {
			x, err := s.Read(si, text)
			if err != nil {
				continue
			}
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%q came to %v", text, x)
			}
			if s.Number(si, x, 6) == "" {
				t.Fatalf("%q: nothing is shown", text)
			}
		}
	})
}

package wording

import (
	"math"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// Short writes seconds without the zeros at their end.
func Short(s Seconds) string { return strings.TrimRight(strings.TrimRight(s.String(), "0"), ".") }

// Clock writes a time of a song to a tenth of a second, without a sign.
func Clock(s Seconds) string {
	if s < 0 {
		return "before " + Clock(-s)
	}
	return timeline.Time(s).Clock(1)
}

// Tenths writes seconds to a tenth; a time before its origin in words.
func Tenths(s Seconds) string {
	if s < 0 {
		return "before " + Tenths(-s)
	}
	return timeline.Time(s).Text(1)
}

// SignedMillis writes a residual with its sign, for people.
func SignedMillis(s Seconds) string {
	text := Millis(timeline.Time(s))
	if s >= 0 && !strings.HasPrefix(text, "-") {
		text = "+" + text
	}
	return text
}

// PlainNumber writes a number with as many decimals as it has.
func PlainNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// Plain writes a number without zeros at its end.
func Plain(x float64) string { return strconv.FormatFloat(RoundGrams(x), 'f', -1, 64) }

// LengthOr writes a length of m metres in the units of a show, or that it is not given.
func LengthOr(told units.System, m float64) string {
	if m == 0 {
		return "not given"
	}
	return told.Say("m", m, 2)
}

// RoundMetres rounds a length to a tenth of a millimetre, as the rules compare.
func RoundMetres(x float64) float64 { return RoundGrams(float64(int64(x*1e4+0.5)) / 1e4) }

// Length writes a length of m metres in the units of a show, to the centimetre, or
// finer where the number is.
func Length(told units.System, m float64) string { return told.Say("m", RoundMetres(m), -1) }

// Amount writes a figure of an SI unit without its unit, for a cell whose head names it.
func Amount(told units.System, unit string, x float64) string {
	return told.Number(unit, RoundGrams(x), -1)
}

// Centimetres writes a length rounded down to the centimetre, so that what is
// kept is never said to be more than it is.
func Centimetres(x float64) string { return Plain(math.Floor(x*100+1e-6) / 100) }

// Ohms writes a resistance; 0 is not given.
func Ohms(x float64) string {
	if x == 0 {
		return "not given"
	}
	return strconv.FormatFloat(x, 'f', 2, 64)
}

// BlankZero writes a whole number; 0 is nothing to write.
func BlankZero(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

package wording

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"emberbeat/timeline"
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

// MetresOr writes a length, or that it is not given.
func MetresOr(m float64) string {
	if m == 0 {
		return "not given"
	}
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", m), "0"), ".") + " m"
}

// RoundMetres rounds a length to a tenth of a millimetre, as the rules compare.
func RoundMetres(x float64) float64 { return RoundGrams(float64(int64(x*1e4+0.5)) / 1e4) }

// Metres writes a length to the centimetre, or finer where the number is.
func Metres(x float64) string { return Plain(RoundMetres(x)) + " m" }

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

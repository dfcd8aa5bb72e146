package timeline

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Time counts 1/282,240,000 s from a named origin: the start of a song, the
// start of a set or timecode midnight. The name of the field or parameter says
// which. The unit divides into whole counts every sample of 44.1 to 192 kHz,
// every millisecond, and every frame of the six frame rates.
type Time int64

// TicksPerSecond is the number of Time units in a second.
const TicksPerSecond = 282_240_000

// Durations as counts of the unit.
const (
	Millisecond Time = TicksPerSecond / 1000
	Second      Time = TicksPerSecond
	Minute      Time = 60 * Second
	Hour        Time = 60 * Minute

	// EntryStep is 0.1 ms. Times that a user enters are rounded to it, so that
	// their text of four digits is exact.
	EntryStep Time = Millisecond / 10
)

// maxHours bounds the times that text can give, either side of the origin.
const maxHours = 1000

// maxTime is the largest time that text can give.
const maxTime = maxHours * Hour

// FromSamples returns the time of sample n at rate samples per second, to the
// nearest unit. It is exact at 44.1, 48, 88.2, 96, 176.4 and 192 kHz. Times
// beyond the range of Time give its nearest end. It panics if rate is not
// positive.
func FromSamples(n int64, rate int) Time {
	mustBeRate(rate)
	t, ok := mulRoundDiv(n, TicksPerSecond, int64(rate))
	if !ok {
		return Time(clampInt64(n < 0))
	}
	return Time(t)
}

// Samples returns the sample nearest to t at rate samples per second, halves
// away from zero. It undoes FromSamples for every rate below TicksPerSecond.
// It panics if rate is not positive.
func (t Time) Samples(rate int) int64 {
	mustBeRate(rate)
	n, ok := mulRoundDiv(int64(t), int64(rate), TicksPerSecond)
	if !ok {
		return clampInt64(t < 0)
	}
	return n
}

func mustBeRate(rate int) {
	if rate <= 0 {
		panic("timeline: sample rate " + strconv.Itoa(rate) + " is not positive")
	}
}

// FromMillis returns ms milliseconds, exactly. Times beyond the range of Time
// give its nearest end.
func FromMillis(ms int64) Time {
	t, ok := mulRoundDiv(ms, int64(Millisecond), 1)
	if !ok {
		return Time(clampInt64(ms < 0))
	}
	return Time(t)
}

// FromSeconds returns s seconds to the nearest unit. It is the border from
// audio and drawing, where floating seconds live; nothing else may use it. NaN
// gives 0, and seconds beyond the range of Time give its nearest end.
func FromSeconds(s float64) Time {
	ticks := math.Round(s * TicksPerSecond)
	switch {
	case math.IsNaN(ticks):
		return 0
	case ticks >= math.MaxInt64:
		return math.MaxInt64
	case ticks <= math.MinInt64:
		return math.MinInt64
	}
	return Time(ticks)
}

// Seconds returns t in seconds for audio, drawing and JSON numbers. FromSeconds
// undoes it for every time within 2,000 hours.
func (t Time) Seconds() float64 {
	return float64(t) / TicksPerSecond
}

// RoundTo returns the multiple of unit nearest to t, halves away from zero. It
// is the one rounding function for times. A unit that is not positive leaves t
// as it is; so does a multiple beyond the range of Time.
func (t Time) RoundTo(unit Time) Time {
	if unit <= 0 {
		return t
	}
	n, ok := mulRoundDiv(int64(t), 1, int64(unit))
	if !ok {
		return t
	}
	if r, ok := mulRoundDiv(n, int64(unit), 1); ok {
		return Time(r)
	}
	return t
}

// maxDigits is the number of decimals that keep every Time apart.
const maxDigits = 9

var powersOfTen = [maxDigits + 1]int64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9}

// timeHelp ends every error about the text of a time.
const timeHelp = "write seconds as 12.3456 or -0.45, or minutes and seconds as 1:02.5, or hours as 1:02:03.5"

// ParseTime reads seconds (`12.3456`, `-0.45`), minutes and seconds (`1:02.5`)
// or hours, minutes and seconds (`1:02:03.5`), to the nearest unit, halves away
// from zero. After a colon two digits below 60 are required; up to nine
// decimals are allowed; the time must lie within 1,000 hours of its origin.
func ParseTime(s string) (Time, error) {
	text, negative := cutSign(s)
	text, decimals, hasDecimals := strings.Cut(text, ".")
	seconds, err := parseClockSeconds(s, text)
	if err != nil {
		return 0, err
	}
	var fraction Time
	if hasDecimals {
		if fraction, err = parseDecimals(s, decimals); err != nil {
			return 0, err
		}
	}
	t := Time(seconds)*Second + fraction
	if seconds > maxHours*3600 || t > maxTime {
		return 0, fmt.Errorf("time %s is out of range: at most %d hours", quoted(s), maxHours)
	}
	if negative {
		t = -t
	}
	return t, nil
}

// parseClockSeconds reads the whole seconds in `s`, `m:ss` or `h:mm:ss`. Its
// first number may exceed 59.
func parseClockSeconds(whole, text string) (int64, error) {
	parts := strings.Split(text, ":")
	total, ok := parseCount(parts[0], maxHours*3600)
	for _, part := range parts[1:] {
		n, isTwoDigits := parseTwoDigits(part, 59)
		total, ok = total*60+n, ok && isTwoDigits
	}
	if !ok || len(parts) > 3 {
		return 0, fmt.Errorf("time %s cannot be read: %s", quoted(whole), timeHelp)
	}
	return total, nil
}

// parseDecimals reads the digits after the point.
func parseDecimals(whole, digits string) (Time, error) {
	if !digitsOnly(digits) || len(digits) > maxDigits {
		return 0, fmt.Errorf("time %s cannot be read: 1 to %d digits follow the point; %s", quoted(whole), maxDigits, timeHelp)
	}
	n, _ := strconv.ParseInt(digits, 10, 64)
	t, _ := mulRoundDiv(n, TicksPerSecond, powersOfTen[len(digits)])
	return Time(t), nil
}

// Text returns t in seconds with a fixed number of decimals from 0 to 9, such
// as `-0.4500`. Nine digits keep every time apart, so that ParseTime gives t
// back.
func (t Time) Text(digits int) string {
	negative, seconds, fraction, digits := t.split(digits)
	b := make([]byte, 0, 24)
	if negative {
		b = append(b, '-')
	}
	b = strconv.AppendUint(b, seconds, 10)
	return string(appendDecimals(b, fraction, digits))
}

// String returns t in seconds with four decimals.
func (t Time) String() string { return t.Text(4) }

// AppendTenths adds seconds with one decimal, rounded down: "12.4". Negative times
// count as 0. It makes no garbage, for what is drawn while a song plays.
func (t Time) AppendTenths(b []byte) []byte {
	tenths := int64(max(t, 0) / (Second / 10))
	b = strconv.AppendInt(b, tenths/10, 10)
	return append(b, '.', byte('0'+tenths%10))
}

// Clock returns t as minutes and seconds with a fixed number of decimals from 0
// to 9, such as `1:02.5000` or `-0:00.4500`; hours appear when there are any.
func (t Time) Clock(digits int) string {
	negative, seconds, fraction, digits := t.split(digits)
	b := make([]byte, 0, 24)
	if negative {
		b = append(b, '-')
	}
	minutes := seconds / 60
	if minutes >= 60 {
		b = strconv.AppendUint(b, minutes/60, 10)
		b = append(b, ':')
		b = appendTwoDigits(b, int64(minutes%60))
	} else {
		b = strconv.AppendUint(b, minutes, 10)
	}
	b = append(b, ':')
	b = appendTwoDigits(b, int64(seconds%60))
	return string(appendDecimals(b, fraction, digits))
}

// split rounds t to the given decimals, kept within 0 to 9, and takes it apart.
// A time that rounds to zero has no sign.
func (t Time) split(digits int) (negative bool, seconds uint64, fraction int64, kept int) {
	kept = max(0, min(digits, maxDigits))
	m := magnitude(int64(t))
	seconds = m / TicksPerSecond
	fraction, _ = mulRoundDiv(int64(m%TicksPerSecond), powersOfTen[kept], TicksPerSecond)
	if fraction == powersOfTen[kept] {
		seconds, fraction = seconds+1, 0
	}
	return t < 0 && (seconds > 0 || fraction > 0), seconds, fraction, kept
}

// appendDecimals appends a point and the fraction, padded with zeros.
func appendDecimals(b []byte, fraction int64, digits int) []byte {
	if digits == 0 {
		return b
	}
	b = append(b, '.')
	for i := digits - 1; i >= 0; i-- {
		b = append(b, byte('0'+fraction/powersOfTen[i]%10))
	}
	return b
}

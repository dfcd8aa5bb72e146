package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// System is the choice between metres, kilograms and °C, and feet, pounds and °F.
type System uint8

// The systems. Metres is the zero value: a show that says nothing is in metres.
const (
	Metres System = iota
	Feet
)

// Systems lists the systems.
func Systems() []System { return []System{Metres, Feet} }

// String gives the word of a system, as files and flags have it.
func (s System) String() string {
	if s == Feet {
		return "feet"
	}
	return "metres"
}

// Said says all that a system chooses.
func (s System) Said() string {
	if s == Feet {
		return "feet, pounds, °F"
	}
	return "metres, kilograms, °C"
}

// ParseSystem reads what String writes.
func ParseSystem(text string) (System, error) {
	for _, s := range Systems() {
		if s.String() == text {
			return s, nil
		}
	}
	return Metres, fmt.Errorf("is not one of: metres, feet")
}

// shown is a unit that figures are shown in: shown = SI * by + plus, in steps of 10^-digits.
type shown struct {
	name     string
	by, plus float64
	digits   int
}

// Exact by definition: 1 ft = 0.3048 m, 1 lb = 0.45359237 kg (international yard and pound agreement, 1959; from memory);
// 1 mi = 5280 ft; °F = °C * 9/5 + 32.
const (
	foot  = 0.3048
	pound = 0.45359237
	mile  = 5280 * foot
)

// inFeet is what stands in the place of an SI unit in the system Feet. A unit that is not here stands in both: net explosive content is
// given in g by labels (common practice, no source), cable in mm², radiation in kW/m² by the source of its levels.
var inFeet = map[string]shown{
	"m":     {"ft", 1 / foot, 0, 2},
	"m²":    {"ft²", 1 / (foot * foot), 0, 1},
	"m³":    {"ft³", 1 / (foot * foot * foot), 0, 1},
	"m/s":   {"mph", 3600 / mile, 0, 1},
	"kg":    {"lb", 1 / pound, 0, 3},
	"kg/s":  {"lb/s", 1 / pound, 0, 4},
	"m³/kg": {"ft³/lb", pound / (foot * foot * foot), 0, 4},
	"°C":    {"°F", 1.8, 32, 1},
}

// judgedDigits is the step of judged lengths in feet: a tenth. It is finer than half of the tenth of a metre that is judged, so that of two
// judged figures that differ the larger is always printed larger; half a foot would turn them around, and inches make no number that a
// column or a CSV file can hold.
const judgedDigits = 1

// noise is what binary fractions leave of decimal ones, in steps.
const noise = 1e-6

// as gives how a figure in an SI unit is shown; false where it stands as it is.
func (s System) as(si string) (shown, bool) {
	u, ok := inFeet[si]
	return u, ok && s == Feet
}

// Unit gives the unit in which figures of an SI unit are shown.
func (s System) Unit(si string) string {
	if u, ok := s.as(si); ok {
		return u.name
	}
	return si
}

// Of gives a figure in SI as it is shown, not rounded.
func (s System) Of(si string, x float64) float64 {
	if u, ok := s.as(si); ok {
		return x*u.by + u.plus
	}
	return x
}

// Back gives the SI figure of one that is shown in a system.
func (s System) Back(si string, x float64) float64 {
	if u, ok := s.as(si); ok {
		return tidy((x - u.plus) / u.by)
	}
	return x
}

// tidy takes away what a conversion leaves behind the ninth decimal, so that files hold what a person would write.
func tidy(x float64) float64 {
	if math.Abs(x) >= 1e6 { // there is no ninth decimal in a binary number of that size
		return x
	}
	return math.Round(x*1e9)/1e9 + 0
}

// Number writes a figure without its unit, with at most so many decimals, -1 for all that it has; in feet with no more than the step of
// its unit has. Heads and labels have their unit from Unit.
func (s System) Number(si string, x float64, digits int) string {
	if u, ok := s.as(si); ok {
		x = x*u.by + u.plus
		if digits < 0 || digits > u.digits {
			digits = u.digits
		}
	}
	return trimmed(x, digits)
}

// Say writes a figure with its unit; see Number.
func (s System) Say(si string, x float64, digits int) string {
	return s.Number(si, x, digits) + gap(s.Unit(si))
}

// UpNumber writes a figure that must not be printed smaller than it is, such as a required length: in feet it is rounded up, lengths to a
// tenth and others to the step of their unit. In metres it stands as Number writes it: lengths are judged, and handed in, in tenths.
func (s System) UpNumber(si string, x float64, digits int) string {
	return s.judged(si, x, digits, math.Ceil, -noise)
}

// DownNumber writes a figure that must not be printed larger than it is, such as a planned length, rounded down in the same way.
func (s System) DownNumber(si string, x float64, digits int) string {
	return s.judged(si, x, digits, math.Floor, noise)
}

// Up is UpNumber with the unit.
func (s System) Up(si string, x float64, digits int) string {
	return s.UpNumber(si, x, digits) + gap(s.Unit(si))
}

// Down is DownNumber with the unit.
func (s System) Down(si string, x float64, digits int) string {
	return s.DownNumber(si, x, digits) + gap(s.Unit(si))
}

func (s System) judged(si string, x float64, digits int, round func(float64) float64, noise float64) string {
	u, ok := s.as(si)
	if !ok {
		return trimmed(x, digits)
	}
	if digits = u.digits; si == "m" {
		digits = judgedDigits
	}
	k := math.Pow10(digits)
	return trimmed(round((x*u.by+u.plus)*k+noise)/k, digits)
}

// trimmed writes a number without zeros at its end.
func trimmed(x float64, digits int) string {
	text := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// gap puts a blank before a unit, and nothing before none.
func gap(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

package wording

import (
	"cmp"
	"strconv"

	"emberbeat/timeline/units"
)

// RoundGrams takes away what adding decimal fractions in binary leaves: a
// millionth of a gram is less than any label gives.
func RoundGrams(x float64) float64 {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', 6, 64), 64) // a number that was just written
	return y
}

// Grams writes a mass.
func Grams(x float64) string { return strconv.FormatFloat(RoundGrams(x), 'f', -1, 64) }

// Division names a hazard division.
func Division(d string) string { return cmp.Or(d, "no division given") }

// Mass writes a mass of so many kg in the units of a show, to the gram.
func Mass(told units.System, kg float64) string { return told.Say("kg", kg, 3) }

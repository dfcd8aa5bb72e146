package units

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// typed is a unit that a figure can be typed in: SI = typed * by + plus. The words are as people write them; the first is the one that is
// told. Further digits of the factors are exact by definition.
type typed struct {
	words    []string
	by, plus float64
}

// typable lists, for each SI unit, the units that are understood; the SI unit first.
var typable = map[string][]typed{
	"m": {
		{[]string{"m"}, 1, 0}, {[]string{"cm"}, 0.01, 0}, {[]string{"mm"}, 0.001, 0},
		{[]string{"ft", "feet", "foot", "'", "′"}, foot, 0}, {[]string{"in", "inch", "inches", `"`, "″"}, foot / 12, 0},
	},
	"m²":    {{[]string{"m²", "m2"}, 1, 0}, {[]string{"ft²", "ft2", "sq ft"}, foot * foot, 0}},
	"m³":    {{[]string{"m³", "m3"}, 1, 0}, {[]string{"ft³", "ft3", "cu ft"}, foot * foot * foot, 0}},
	"m/s":   {{[]string{"m/s"}, 1, 0}, {[]string{"mph"}, mile / 3600, 0}, {[]string{"km/h"}, 1 / 3.6, 0}, {[]string{"ft/s"}, foot, 0}},
	"kg":    {{[]string{"kg"}, 1, 0}, {[]string{"g"}, 0.001, 0}, {[]string{"lb", "lbs"}, pound, 0}, {[]string{"oz"}, pound / 16, 0}},
	"g":     {{[]string{"g"}, 1, 0}, {[]string{"kg"}, 1000, 0}, {[]string{"mg"}, 0.001, 0}, {[]string{"lb", "lbs"}, pound * 1000, 0}, {[]string{"oz"}, pound * 1000 / 16, 0}},
	"kg/s":  {{[]string{"kg/s"}, 1, 0}, {[]string{"g/s"}, 0.001, 0}, {[]string{"lb/s"}, pound, 0}, {[]string{"oz/s"}, pound / 16, 0}},
	"m³/kg": {{[]string{"m³/kg", "m3/kg"}, 1, 0}, {[]string{"ft³/lb", "ft3/lb"}, foot * foot * foot / pound, 0}},
	"°C":    {{[]string{"°C", "C"}, 1, 0}, {[]string{"°F", "F"}, 5.0 / 9, -32 * 5.0 / 9}},
}

// longest bounds what is read at all, in bytes.
const longest = 64

// Read reads a figure of an SI unit that a person typed and gives it in SI: "2.5 m", "3 ft", "5 ft 6 in", "10 lb", "75 °F"; a number alone
// is in the unit that the system shows. The number is written as strconv.ParseFloat takes it. The error says what would be valid.
func (s System) Read(si, text string) (float64, error) {
	text = strings.TrimSpace(text)
	if x, err := strconv.ParseFloat(text, 64); err == nil && !math.IsNaN(x) && !math.IsInf(x, 0) {
		return s.Back(si, x), nil
	}
	list := typable[si]
	if len(text) > longest || len(list) == 0 {
		return 0, fmt.Errorf("must be a number")
	}
	if x, ok := unitOf(text, list); ok {
		return x, nil
	}
	if x, ok := feetAndInches(text); ok && si == "m" {
		return x, nil
	}
	return 0, fmt.Errorf("must be a number, alone or with %s", strings.Join(Typable(si), ", "))
}

// Typable lists the units that Read understands for an SI unit; nil = a number alone.
func Typable(si string) []string {
	var words []string
	for _, u := range typable[si] {
		words = append(words, u.words[0])
	}
	return words
}

// unitOf reads a number with one unit of a list.
func unitOf(text string, list []typed) (float64, bool) {
	end := strings.IndexFunc(text, func(c rune) bool { return !strings.ContainsRune("+-.0123456789", c) })
	if end < 0 {
		return 0, false
	}
	x, err := strconv.ParseFloat(strings.TrimSpace(text[:end]), 64)
	word := strings.Join(strings.Fields(text[end:]), " ")
	i := slices.IndexFunc(list, func(u typed) bool {
		return slices.ContainsFunc(u.words, func(w string) bool { return strings.EqualFold(w, word) })
	})
	switch {
	case err != nil || i < 0:
		return 0, false
	case list[i].by == 1:
		return x + 0, true // it is SI as it stands
	}
	x = tidy(x*list[i].by + list[i].plus)
	return x, !math.IsInf(x, 0)
}

// feetAndInches reads "5 ft 6 in" and 5'6": feet are whole, inches below 12, and a minus is of both.
func feetAndInches(text string) (float64, bool) {
	rest, minus := strings.CutPrefix(text, "-")
	feet, inches := typable["m"][3], typable["m"][4:]
	for _, word := range feet.words {
		before, after, ok := strings.Cut(rest, word)
		if !ok {
			continue
		}
		n, err := strconv.ParseUint(strings.TrimSpace(before), 10, 16)
		x, read := unitOf(strings.TrimSpace(after), inches)
		if err != nil || !read || x < 0 || x >= tidy(foot) {
			return 0, false
		}
		if x += float64(n) * foot; minus {
			x = -x
		}
		return tidy(x), true
	}
	return 0, false
}

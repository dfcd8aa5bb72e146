package rule

import (
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// span writes a length of time as a person reads it: below a second in
// milliseconds, else in seconds, without zeros at the end.
func span(t timeline.Time) string {
	if t > -timeline.Second && t < timeline.Second {
		return trimZeros((t * 1000).Text(2)) + " ms"
	}
	return trimZeros(t.Text(4)) + " s"
}

func trimZeros(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// seconds is a value of a finding that is a time. Nine digits keep every time
// apart, so that an acceptance ends when anything moves.
func seconds(name string, t timeline.Time) Value {
	text := t.Text(9)
	kept := len(text) - 5
	return Value{Name: name, Text: text[:kept] + strings.TrimRight(text[kept:], "0"), Unit: "s", Number: true}
}

func count(name string, n int) Value { return Value{Name: name, Text: strconv.Itoa(n), Number: true} }

func measure(name string, x float64, unit string) Value {
	return Value{Name: name, Text: strconv.FormatFloat(x, 'f', -1, 64), Unit: unit, Number: true}
}

func word(name, text string) Value { return Value{Name: name, Text: text} }

// metres writes a length as it is given, in the units of the show, with two
// decimals at most; up writes one that must not be printed smaller than it is
// judged, down one that must not be printed larger.
func (e *env) metres(x float64) string { return e.key.told.Say("m", x, 2) }
func (e *env) up(x float64) string     { return e.key.told.Up("m", x, 2) }
func (e *env) down(x float64) string   { return e.key.told.Down("m", x, 2) }

// mass writes an estimate of kg.
func (e *env) mass(kg float64) string { return e.key.told.Say("kg", kg, 1) }

// given writes any other figure as it is given, in as many digits as it has.
func (e *env) given(unit string, x float64) string { return e.key.told.Say(unit, x, -1) }

// addOnce adds an item that the list does not hold yet.
func addOnce[T comparable](list []T, item T) []T {
	if slices.Contains(list, item) {
		return list
	}
	return append(list, item)
}

// placeOf gives the place of an item in a list, at whose end it is put if it is
// not there yet.
func placeOf[T comparable](list *[]T, item T) int {
	if i := slices.Index(*list, item); i >= 0 {
		return i
	}
	*list = append(*list, item)
	return len(*list) - 1
}

// fixField gives the fix that writes one field of a record, fixList one that
// writes a list.
func fixField(label string, r timeline.Ref, field, text string) *Fix {
	return &Fix{label, r, field, text, []timeline.Edit{setField(r, field, text)}}
}

func fixList(label string, r timeline.Ref, field string, items []string) *Fix {
	return &Fix{Label: label, On: r, Field: field, Edits: []timeline.Edit{setList(r, field, items)}}
}

// setField gives an edit that writes one field.
func setField(r timeline.Ref, field, text string) timeline.Edit {
	return func(d *timeline.Draft) error { return d.Set(r, field, timeline.Value{Text: text}) }
}

// setList gives an edit that writes a list field.
func setList(r timeline.Ref, field string, items []string) timeline.Edit {
	return func(d *timeline.Draft) error { return d.Set(r, field, timeline.Value{Items: items}) }
}

// roundUp gives the first entry step at or after t, roundDown the last at or
// before it.
func roundUp(t timeline.Time) timeline.Time {
	r := t.RoundTo(timeline.EntryStep)
	if r < t {
		r += timeline.EntryStep
	}
	return r
}

func roundDown(t timeline.Time) timeline.Time {
	r := t.RoundTo(timeline.EntryStep)
	if r > t {
		r -= timeline.EntryStep
	}
	return r
}

// roundTo rounds a computed figure, so that an acceptance does not end with its
// last digits.
func roundTo(x float64, digits int) float64 {
	k := math.Pow10(digits)
	return math.Round(x*k) / k
}

// share writes a part of something.
func share(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// leastTime finds the least multiple of the entry step, up to most, from which
// on something holds.
func leastTime(most timeline.Time, holds func(timeline.Time) bool) (timeline.Time, bool) {
	n := int(roundUp(most) / timeline.EntryStep)
	i := sort.Search(n+1, func(i int) bool { return holds(timeline.Time(i) * timeline.EntryStep) })
	return timeline.Time(i) * timeline.EntryStep, i <= n
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

package page

import (
	"strconv"
	"strings"

	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// What one metre and one kilogram count in number fields: a tenth of a millimetre and a milligram, so that a foot and an inch are whole numbers.
const (
	PerMetre = 10_000
	PerKg    = 1_000_000
)

// Length says how lengths are typed in the units of a reader: those first, and any other by its name.
func Length(told units.System) widget.NumberSpec {
	spec := widget.NumberSpec{Units: []widget.Unit{{Name: "m", Num: 10_000, Den: 1}, {Name: "cm", Num: 100, Den: 1}, {Name: "mm", Num: 10, Den: 1}, {Name: "ft", Num: 3048, Den: 1}, {Name: "in", Num: 254, Den: 1}}, Digits: 3,
		Min: -9999 * PerMetre, Max: 9999 * PerMetre, Step: 1000, Fine: 100, Big: 10_000}
	if told == units.Feet {
		feet := spec.Units[3]
		spec.Units = append([]widget.Unit{feet, spec.Units[4]}, spec.Units[:3]...)
		spec.Step, spec.Fine, spec.Big = 3048/2, 254, 3048
	}
	return spec
}

// Mass says how masses are typed in the units of a reader.
func Mass(told units.System) widget.NumberSpec {
	spec := widget.NumberSpec{Units: []widget.Unit{{Name: "kg", Num: PerKg, Den: 1}, {Name: "g", Num: 1000, Den: 1}, {Name: "lb", Num: 45_359_237, Den: 100}, {Name: "oz", Num: 45_359_237, Den: 1600}}, Digits: 3, Max: 1_000_000 * PerKg, Step: PerKg / 10}
	if told == units.Feet {
		spec.Units = []widget.Unit{spec.Units[2], spec.Units[3], spec.Units[0], spec.Units[1]}
		spec.Step = 226_796 // half a pound
	}
	return spec
}

// shownNumber writes a figure of a field in the units of a reader; false where it stands as it is.
func shownNumber(told units.System, f *timeline.Field, v timeline.Value) (string, bool) {
	if told.Unit(f.Unit) == f.Unit {
		return "", false
	}
	x, err := units.Metres.Read(f.Unit, v.Text)
	if err != nil {
		return "", false
	}
	return told.Number(f.Unit, x, -1), true
}

// fromTyped gives what was typed into a field of a record as records hold it: a number alone is in the units of the reader, and what was
// shown and left as it is changes nothing.
func fromTyped(h Host, f *timeline.Field, on timeline.Ref, text string) string {
	told := h.Show().Told()
	if told.Unit(f.Unit) == f.Unit {
		return text
	}
	if r := Find(h.Show(), on); r != nil {
		if was := f.Get(r); strings.TrimSpace(text) == Typed(told, f, was) {
			return was.Text
		}
	}
	x, err := told.Read(f.Unit, text)
	if err != nil {
		return text // whoever sets it says what would be valid
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

package main

import (
	"cmp"
	"fmt"
	"os"

	"emberbeat/render/sheet"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// unitsVariable is where a reader says once for all which units to write.
const unitsVariable = "EMBERBEAT_UNITS"

// told gives a show in the units in which it is written now: a sheet as its format has it, JSON in metres, and what a person reads as --units
// or the environment says, else as the show has it.
func (t *talk) told(s *timeline.Show) *timeline.Show {
	switch {
	case t.sheet != "":
		return sheet.Told(s, t.sheet)
	case t.json:
		return s.ToldIn(units.Metres)
	}
	if u, err := units.ParseSystem(t.chosenUnits()); err == nil {
		return s.ToldIn(u)
	}
	return s
}

func (t *talk) chosenUnits() string { return cmp.Or(t.units, os.Getenv(unitsVariable)) }

// checkUnits refuses a word for units that is none.
func (t *talk) checkUnits() error {
	word := t.chosenUnits()
	if _, err := units.ParseSystem(word); word == "" || err == nil {
		return nil
	}
	from := unitsVariable
	if t.units != "" {
		from = "--units"
	}
	return usage(fmt.Errorf("%s: %q is no system of units; write metres or feet", from, word))
}

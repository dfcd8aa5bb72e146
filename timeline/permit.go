package timeline

import (
	"fmt"

	"emberbeat/timeline/field"
	"emberbeat/timeline/units"
)

// Permit is a paper that holds until a day: a permit, an approval, an
// insurance.
type Permit struct {
	Name   string
	Number string
	By     string  // who gave it
	Until  string  // yyyy-mm-dd, its last day; "" = not given
	NEC    float64 // g, most net explosive content on site that it allows; 0 = none given
}

const permitWords = "name number= by= until=yyyy-mm-dd nec="

// String writes the item form: `"fire department" number=12-7 by="Fire office"
// until=2031-06-01`.
func (p Permit) String() string {
	var w itemWriter
	w.head(p.Name)
	w.pair("number", p.Number)
	w.pair("by", p.By)
	w.pair("until", p.Until)
	if p.NEC != 0 {
		w.pair("nec", field.FormatNumber(p.NEC))
	}
	return w.String()
}

// ParsePermit reads the item form of a permit.
func ParsePermit(s string) (Permit, error) {
	r := readItem(s)
	p := Permit{Name: r.head("a name"), Number: r.value("number"), By: r.value("by")}
	p.Until, p.NEC = take(r, "until", parseDate), take(r, "nec", parseGrams)
	return p, r.done(permitWords)
}

func parseGrams(s string) (float64, error) {
	x, err := units.Metres.Read("g", s)
	if err != nil || !(x >= 0 && x <= 1e9) {
		return 0, fmt.Errorf("must be grams from 0 to 1000000000")
	}
	return x + 0, nil
}

package timeline

// Permit is a paper that holds until a day: a permit, an approval, an
// insurance.
type Permit struct {
	Name   string
	Number string
	By     string // who gave it
	Until  string // yyyy-mm-dd, its last day; "" = not given
}

const permitWords = "name number= by= until=yyyy-mm-dd"

// String writes the item form: `"fire department" number=12-7 by="Fire office"
// until=2031-06-01`.
func (p Permit) String() string {
	var w itemWriter
	w.head(p.Name)
	w.pair("number", p.Number)
	w.pair("by", p.By)
	w.pair("until", p.Until)
	return w.String()
}

// ParsePermit reads the item form of a permit.
func ParsePermit(s string) (Permit, error) {
	r := readItem(s)
	p := Permit{Name: r.head("a name"), Number: r.value("number"), By: r.value("by")}
	p.Until = take(r, "until", parseDate)
	return p, r.done(permitWords)
}

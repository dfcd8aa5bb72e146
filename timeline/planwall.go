package timeline

import (
	"fmt"

	"emberbeat/timeline/field"
	"emberbeat/timeline/units"
)

// PlanWall is an upright rectangle over a line on the stage plan: a cloth, a
// border, a screen, a piece of the set.
type PlanWall struct {
	Name        string
	From, To    Point
	Foot, Crown float64 // m above the stage floor
}

// wallWords is the item form.
const wallWords = "name from=x,y to=x,y foot= crown="

// String writes the item form: `backdrop from=-9,8 to=9,8 crown=7`.
func (l PlanWall) String() string {
	w := itemWriter{}
	w.head(l.Name)
	w.pair("from", l.From.String())
	w.pair("to", l.To.String())
	if l.Foot != 0 {
		w.pair("foot", field.FormatNumber(l.Foot))
	}
	w.pair("crown", field.FormatNumber(l.Crown))
	return w.String()
}

// ParsePlanWall reads the item form; a length may have a unit. Both ends and
// the crown must be given; the crown stands above the foot.
func ParsePlanWall(s string) (PlanWall, error) {
	height := func(t string) (float64, error) {
		x, err := units.Metres.Read("m", t)
		if err != nil || !(x >= -100 && x < 1000) {
			return 0, fmt.Errorf("must be a height in metres above the stage floor")
		}
		return x, nil
	}
	r := readItem(s)
	l := PlanWall{Name: r.head("a name")}
	l.From, l.To = take(r, "from", parsePoint), take(r, "to", parsePoint)
	l.Foot, l.Crown = take(r, "foot", height), take(r, "crown", height)
	switch {
	case r.err != nil:
	case l.From == l.To: // what is not given would be the middle of the front edge
		r.err = fmt.Errorf("has no length on the plan; write from=x,y to=x,y")
	case l.Crown <= l.Foot:
		r.err = fmt.Errorf("has its crown at %v m, not above its foot at %v m; write crown=7", l.Crown, l.Foot)
	}
	return l, r.done(wallWords)
}

package timeline

import (
	"fmt"
	"slices"
)

// TooFastError says that a phrase would command a unit before it is free, and
// the fastest common division at which it would not.
type TooFastError struct {
	Phrase  *Phrase
	Unit    string
	First   Moment // of the command that still holds the unit
	Next    Moment
	Apart   Time
	Needs   Time
	Fastest *Stride // nil where none works: then something else stands in the way
}

func (e *TooFastError) Error() string {
	why, help := "is too fast", "no common division works: a cue that is there already stands in the way; choose another place, lane or open time"
	if e.Fastest == nil {
		why = "does not fit"
	} else {
		help = fmt.Sprintf("the fastest common division that works is %s", *e.Fastest)
	}
	ve := ValueError{Kind: "phrase", Field: "every", Value: e.Phrase.Every.String(),
		Want: fmt.Sprintf("%s: %s is commanded for %s %s s after its command for %s, and needs %s s to close and recover; %s", why, e.Unit, e.Next, e.Apart, e.First, e.Needs, help)}
	return ve.Error()
}

// commonDivisions are the divisions of a beat that are offered, fast to slow.
var commonDivisions = []Rat{NewRat(1, 8), NewRat(1, 6), NewRat(1, 4), NewRat(1, 3), NewRat(1, 2), NewRat(2, 3), NewRat(3, 4), NewRat(1, 1), NewRat(3, 2),
	NewRat(2, 1), NewRat(3, 1), NewRat(4, 1), NewRat(6, 1), NewRat(8, 1), NewRat(12, 1), NewRat(16, 1), NewRat(32, 1)}

// slower gives what may be offered in the place of a stride.
func slower(every Stride) []Stride {
	var list []Stride
	for _, div := range commonDivisions {
		switch {
		case every.Time > 0:
			list = append(list, Stride{Time: every.Time * Time(div.num) / Time(div.Den())})
		case every.Bars > 0:
			list = append(list, Stride{Bars: every.Bars * int(div.num) / int(div.Den())})
		default:
			list = append(list, Stride{Beats: div})
		}
	}
	return slices.DeleteFunc(list, func(s Stride) bool {
		return s.Time < every.Time || s.Bars < every.Bars || s.Beats.Cmp(every.Beats) < 0 || s == every || s.Time != s.Time.RoundTo(EntryStep)
	})
}

// fastest finds the fastest common division at which the phrase works.
func (r *phraseRun) fastest() *Stride {
	for _, every := range slower(r.phrase.Every) {
		plan, err := r.try(every)
		if err != nil {
			continue
		}
		if first, _ := r.clash(plan); first == nil {
			return &every
		}
	}
	return nil
}

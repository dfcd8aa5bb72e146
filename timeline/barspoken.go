package timeline

import (
	"fmt"
	"strings"
)

// finestSpoken is the largest denominator a musician would say: a place
// between is named by a decimal.
const finestSpoken = 24

// Spoken gives bar and beat as a person reads them: beats count from 1, with a
// fraction such as 2+1/2, or with two decimals where the place lies on no such
// fraction, as a time that was typed does.
func (p BarBeat) Spoken() (bar, beat string) {
	if p.Beat.Den() <= finestSpoken {
		bar, beat, _ = strings.Cut(p.String(), ".")
		return bar, beat
	}
	whole := p.Beat.Floor()
	part := p.Beat.Sub(NewRat(whole, 1))
	return fmt.Sprint(p.Bar), fmt.Sprintf("%d.%02d", whole+1, part.Num()*100/part.Den())
}

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

// Beside gives a moment as a person reads it: a bar and beat with a fraction that musicians say, else the nearest beat and how far before or after it
// the moment lies: "13.1 − 40 ms". Where there is no beat map a time is all there is.
func (m Moment) Beside(beats *BeatMap) string {
	if m.OnBeat && m.Bar.Beat.Den() <= finestSpoken {
		return m.Bar.String()
	}
	at, ok := m.In(beats)
	if !ok || beats.Empty() {
		return m.String()
	}
	near := beats.Snap(at, NewRat(1, 1))
	sign, by := "+", (at - beats.At(near)).RoundTo(Millisecond/10)
	if by < 0 {
		sign, by = "−", -by
	}
	if by == 0 {
		return near.String()
	}
	tenths := int64(by / (Millisecond / 10))
	text := fmt.Sprint(tenths / 10)
	if tenths%10 != 0 {
		text += fmt.Sprintf(".%d", tenths%10)
	}
	return fmt.Sprintf("%s %s %s ms", near, sign, text)
}

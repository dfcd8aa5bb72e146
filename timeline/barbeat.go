package timeline

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
)

// BarBeat is a place in a song counted in bars and beats. Bar 1 is the first
// bar of the music; bars before it exist, with 0 right before 1. Beat counts
// the beats after the start of the bar, from 0, while its text counts from 1:
// `17.3+1/2` is two and a half beats after the start of bar 17. A beat may lie
// past the end of its bar; BeatMap.At says what that means.
type BarBeat struct {
	Bar  int
	Beat Rat
}

// barBeatHelp ends every error about the text of a bar position.
const barBeatHelp = "write bar.beat or bar.beat+fraction such as 17, 17.3 or 17.3+1/2; beats count from 1, the fraction is less than one beat, numbers go up to 1000000 and denominators to 9600"

// ParseBarBeat reads `17.3+1/2`, `17.3`, or `17` for the start of bar 17. Bars
// before 1 are written `0.4` and `-1.2`.
func ParseBarBeat(s string) (BarBeat, error) {
	p, ok := scanBarBeat(s)
	if !ok {
		return BarBeat{}, fmt.Errorf("bar position %s cannot be read: %s", quoted(s), barBeatHelp)
	}
	return p, nil
}

func scanBarBeat(s string) (BarBeat, bool) {
	text, negative := cutSign(s)
	barText, beatText, hasBeat := strings.Cut(text, ".")
	bar, ok := parseCount(barText, maxRatNumber)
	if !ok {
		return BarBeat{}, false
	}
	if negative {
		bar = -bar
	}
	if !hasBeat {
		return BarBeat{Bar: int(bar)}, true
	}
	beat, ok := scanBeat(beatText)
	return BarBeat{int(bar), beat}, ok
}

// scanBeat reads a beat from 1 with an optional proper fraction.
func scanBeat(s string) (Rat, bool) {
	wholeText, fractionText, hasFraction := strings.Cut(s, "+")
	whole, ok := parseCount(wholeText, maxRatNumber)
	if !ok || whole < 1 {
		return Rat{}, false
	}
	beat := NewRat(whole-1, 1)
	if !hasFraction {
		return beat, true
	}
	numText, denText, _ := strings.Cut(fractionText, "/")
	num, okNum := parseCount(numText, maxRatDen)
	den, okDen := parseCount(denText, maxRatDen)
	if !okNum || !okDen || num < 1 || num >= den {
		return Rat{}, false
	}
	return beat.Add(NewRat(num, den)), true
}

// Check returns an error unless p can be written and read back: beat not
// negative, numbers up to 1,000,000 and denominators up to 9,600. Edits that
// calculate a position check it before they keep it.
func (p BarBeat) Check() error {
	bar, whole := int64(p.Bar), p.Beat.Floor()
	if bar < -maxRatNumber || bar > maxRatNumber || whole < 0 || whole >= maxRatNumber || p.Beat.Den() > maxRatDen {
		return fmt.Errorf("bar position %s is out of range: %s", p, barBeatHelp)
	}
	return nil
}

// Cmp returns -1, 0 or 1 as p comes before, at or after q, by bar first and
// then by beat.
func (p BarBeat) Cmp(q BarBeat) int {
	if c := cmp.Compare(p.Bar, q.Bar); c != 0 {
		return c
	}
	return p.Beat.Cmp(q.Beat)
}

// String returns the canonical text, always with the beat: `17.1`, `17.3+1/2`.
func (p BarBeat) String() string {
	whole := p.Beat.Floor()
	b := make([]byte, 0, 24)
	b = strconv.AppendInt(b, int64(p.Bar), 10)
	b = append(b, '.')
	b = strconv.AppendInt(b, whole+1, 10)
	if p.Beat.denLess1 != 0 {
		b = append(b, '+')
		b = strconv.AppendInt(b, p.Beat.num-whole*p.Beat.Den(), 10)
		b = append(b, '/')
		b = strconv.AppendInt(b, p.Beat.Den(), 10)
	}
	return string(b)
}

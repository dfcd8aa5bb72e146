package timeline

import (
	"fmt"
	"strings"
)

// Stride is the distance between cues that repeat: bars, beats or time, one of
// them. Bars keep the place inside the bar.
type Stride struct {
	Bars  int
	Beats Rat
	Time  Time
}

// strideHelp ends every error about the text of a stride.
const strideHelp = "write bars, beats or seconds such as 1bar, 2 beats, 1/2 beat or 0.5s"

// ParseStride reads `1bar`, `4 bars`, `2 beats`, `1/2 beat` or `0.5s`; it must be
// more than nothing.
func ParseStride(s string) (Stride, error) {
	stride, ok := scanStride(s)
	if !ok {
		return Stride{}, fmt.Errorf("stride %s cannot be read: %s", quoted(s), strideHelp)
	}
	return stride, nil
}

func scanStride(s string) (Stride, bool) {
	text := strings.TrimSpace(s)
	for _, unit := range [...]string{"bars", "bar"} {
		if number, ok := strings.CutSuffix(text, unit); ok {
			n, ok := parseCount(strings.TrimSpace(number), maxRatNumber)
			return Stride{Bars: int(n)}, ok && n > 0
		}
	}
	for _, unit := range [...]string{"beats", "beat"} {
		if number, ok := strings.CutSuffix(text, unit); ok {
			n, err := ParseRat(strings.TrimSpace(number))
			return Stride{Beats: n}, err == nil && n.num > 0
		}
	}
	seconds, ok := strings.CutSuffix(text, "s")
	if !ok {
		return Stride{}, false
	}
	t, err := ParseTime(strings.TrimSpace(seconds))
	t = t.RoundTo(EntryStep)
	return Stride{Time: t}, err == nil && t > 0
}

// maxRepeats bounds the cues that one repetition may give.
const maxRepeats = 10_000

// Repeat gives the moments from first, one every stride, up to and including
// until. Bars and beats need a beat map and a first moment on a bar; time needs
// a first moment at a time. A beat past the end of its bar goes on in the next.
func (m *BeatMap) Repeat(first Moment, stride Stride, until Moment) ([]Moment, error) {
	onBeat := stride.Time == 0
	switch {
	case onBeat && m.Empty():
		return nil, fmt.Errorf("repeating by bars or beats needs a beat map, and the song has none; repeat by seconds, such as 2s")
	case onBeat != first.OnBeat:
		return nil, fmt.Errorf("%s does not repeat by %s: a bar repeats by bars or beats, a time by seconds", first, stride)
	}
	end, ok := until.In(m)
	if !ok {
		return nil, fmt.Errorf("%s is a bar, and the song has no beat map; write the end as a time such as 1:02.5", until)
	}
	var all []Moment
	for at := first; ; at = m.after(at, stride) {
		t, _ := at.In(m)
		if t > end {
			break
		}
		if len(all) == maxRepeats {
			return nil, fmt.Errorf("every %s from %s to %s gives more than %d cues", stride, first, until, maxRepeats)
		}
		all = append(all, at)
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("%s ends before it starts at %s", until, first)
	}
	return all, nil
}

// after gives the moment one stride later.
func (m *BeatMap) after(at Moment, stride Stride) Moment {
	if !at.OnBeat {
		return AtTime(at.Time + stride.Time)
	}
	p := BarBeat{at.Bar.Bar + stride.Bars, at.Bar.Beat.Add(stride.Beats)}
	for {
		bar := NewRat(int64(m.MetreAt(p.Bar).Num), 1)
		if p.Beat.Cmp(bar) < 0 || stride.Beats.IsZero() {
			return AtBar(p)
		}
		p = BarBeat{p.Bar + 1, p.Beat.Sub(bar)}
	}
}

// String writes the stride as ParseStride reads it.
func (s Stride) String() string {
	switch {
	case s.Bars == 1:
		return "1 bar"
	case s.Bars != 0:
		return fmt.Sprintf("%d bars", s.Bars)
	case s.Beats == NewRat(1, 1):
		return "1 beat"
	case !s.Beats.IsZero():
		return s.Beats.String() + " beats"
	}
	return s.Time.String() + "s"
}

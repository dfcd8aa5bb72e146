package tapping

import (
	"fmt"
	"slices"

	"emberbeat/timeline"
)

// Beat is the time between two ticks: slow enough that no delay of a usual device reaches the next one.
const Beat = 800 * timeline.Millisecond

// Offsets lie from earliest before a tick on: taps come late by the device and early by the hand.
const earliest = -200 * timeline.Millisecond

// Least is how many taps tell anything, after the first ones that find the beat. mostSpread is how uneven they may be: trained players tap
// within 20 ms, anybody within 40. Judgements, common practice, no source.
const (
	Least      = 8
	finding    = 2
	mostSpread = 40 * timeline.Millisecond
)

// Offset gives how much later than its tick a tap came, from -0.2 s to 0.6 s.
func Offset(at timeline.Time) timeline.Time {
	off := (at - earliest) % Beat
	if off < 0 {
		off += Beat
	}
	return off + earliest
}

// Measured is what taps come to.
type Measured struct {
	Taps   int           // that count
	Median timeline.Time // later than the ticks
	Spread timeline.Time // half of the taps lie within it of the median
}

// String says it as people do.
func (m Measured) String() string {
	return fmt.Sprintf("%s: %d ms ± %d ms", timeline.Counted(m.Taps, "tap"), Whole(m.Median), Whole(m.Spread))
}

// Whole gives a time in whole milliseconds.
func Whole(t timeline.Time) int { return int(t.RoundTo(timeline.Millisecond) / timeline.Millisecond) }

// Measure gives what offsets of taps come to, without the first ones. The error says what is missing.
func Measure(offsets []timeline.Time) (Measured, error) {
	if len(offsets) < finding+Least {
		return Measured{Taps: max(len(offsets)-finding, 0)}, fmt.Errorf("%d of %d taps", len(offsets), finding+Least)
	}
	list := slices.Clone(offsets[finding:])
	m := Measured{Taps: len(list), Median: median(list)}
	for i := range list {
		list[i] = max(list[i]-m.Median, m.Median-list[i])
	}
	if m.Spread = median(list); m.Spread > mostSpread {
		return m, fmt.Errorf("the taps are too uneven to tell anything (± %d ms): begin again", Whole(m.Spread))
	}
	return m, nil
}

// median orders a list and gives its middle.
func median(list []timeline.Time) timeline.Time {
	slices.Sort(list)
	n := len(list)
	return (list[(n-1)/2] + list[n/2]) / 2
}

// Split says which part of what was measured by ear is the output delay and which the user's own lead, in whole milliseconds: what is tapped by
// eye alone is the user's, and the picture's, which the playhead shares. Without that, nil, the delay stays as it is. Nothing can be larger than
// mostDelay and mostLead; the error says what is.
func Split(ear Measured, eye *Measured, delay, mostDelay, mostLead int) (newDelay, lead int, err error) {
	if eye != nil {
		delay = min(max(Whole(ear.Median-eye.Median), 0), mostDelay)
	}
	lead = Whole(ear.Median) - delay
	if lead > mostLead || lead < -mostLead {
		return 0, 0, fmt.Errorf("a tap lead of %d ms is more than can be set: measure by eye as well, which tells the output delay apart", lead)
	}
	return delay, lead, nil
}

package timeline

import (
	"fmt"
	"strings"
)

// Rate is a timecode frame rate of SMPTE ST 12-1. The zero value is RateUnset.
// Frames are counted from midnight, timecode 00:00:00:00, and so are the times
// given to and by the methods. Without a rate there are no frames: the methods
// of RateUnset give zero, or an error where they have one to give.
type Rate uint8

// The frame rates. 23.976 is 24000/1001 and 29.97 is 30000/1001 frames per
// second, exactly; DF drops frame numbers to follow the clock, NDF does not.
const (
	RateUnset Rate = iota
	Rate23976
	Rate24
	Rate25
	Rate2997DF
	Rate2997NDF
	Rate30
)

// rateFacts is what sets one rate apart.
type rateFacts struct {
	text       string
	nominal    int
	drop       bool
	frameTicks Time
}

const (
	ticks24 Time = TicksPerSecond / 24
	ticks25 Time = TicksPerSecond / 25
	ticks30 Time = TicksPerSecond / 30
	// Television slows 24 and 30 by 1000/1001; both stay whole.
	ticks23976 Time = ticks24 / 1000 * 1001
	ticks2997  Time = ticks30 / 1000 * 1001
)

var rateTable = [...]rateFacts{
	RateUnset:   {},
	Rate23976:   {"23.976", 24, false, ticks23976},
	Rate24:      {"24", 24, false, ticks24},
	Rate25:      {"25", 25, false, ticks25},
	Rate2997DF:  {"29.97df", 30, true, ticks2997},
	Rate2997NDF: {"29.97ndf", 30, false, ticks2997},
	Rate30:      {"30", 30, false, ticks30},
}

// Rates returns all frame rates, slowest first.
func Rates() []Rate {
	return []Rate{Rate23976, Rate24, Rate25, Rate2997DF, Rate2997NDF, Rate30}
}

// ParseRate reads `23.976`, `24`, `25`, `29.97df`, `29.97ndf` or `30`.
func ParseRate(s string) (Rate, error) {
	for _, r := range Rates() {
		if r.String() == s {
			return r, nil
		}
	}
	return RateUnset, fmt.Errorf("frame rate %s is not known: choose one of %s", quoted(s), rateTexts())
}

// rateTexts lists the texts of all rates for errors.
func rateTexts() string {
	texts := make([]string, 0, len(rateTable))
	for _, r := range Rates() {
		texts = append(texts, r.String())
	}
	return strings.Join(texts, ", ")
}

// facts returns the table's row, that of RateUnset for a value out of range.
func (r Rate) facts() *rateFacts {
	if int(r) < len(rateTable) {
		return &rateTable[r]
	}
	return &rateTable[RateUnset]
}

// String returns the text that ParseRate reads, or nothing for RateUnset.
func (r Rate) String() string { return r.facts().text }

// MarshalText returns the same text as String.
func (r Rate) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads what MarshalText gives; empty text is RateUnset.
func (r *Rate) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*r = RateUnset
		return nil
	}
	parsed, err := ParseRate(string(text))
	if err != nil {
		return err
	}
	*r = parsed
	return nil
}

// Nominal returns the number of frame labels in a second of timecode: 24, 25
// or 30.
func (r Rate) Nominal() int { return r.facts().nominal }

// Drop reports whether frame numbers are dropped.
func (r Rate) Drop() bool { return r.facts().drop }

// FrameTicks returns the exact length of one frame.
func (r Rate) FrameTicks() Time { return r.facts().frameTicks }

// DayFrames returns the number of frames from 00:00:00:00 to the end of label
// 23:59:59.
func (r Rate) DayFrames() int64 {
	day := int64(24 * 60 * 60 * r.Nominal())
	if r.Drop() {
		// Two in each minute but every tenth.
		day -= 2 * (24*60 - 24*6)
	}
	return day
}

// At returns the exact start of a frame counted from midnight. Frames beyond
// the range of Time give its nearest end.
func (r Rate) At(frame int64) Time {
	t, ok := mulRoundDiv(frame, int64(r.FrameTicks()), 1)
	if !ok {
		return Time(clampInt64(frame < 0))
	}
	return Time(t)
}

// Nearest returns the frame whose start is nearest to t, halves away from zero
// as RoundTo does, so that the residual is never more than half a frame.
func (r Rate) Nearest(t Time) int64 {
	frame, ok := mulRoundDiv(int64(t), 1, int64(r.FrameTicks()))
	if !ok {
		return 0
	}
	return frame
}

// Floor returns the last frame that starts at or before t.
func (r Rate) Floor(t Time) int64 {
	if r.FrameTicks() == 0 {
		return 0
	}
	return floorDiv(int64(t), int64(r.FrameTicks()))
}

// Ceil returns the first frame that starts at or after t.
func (r Rate) Ceil(t Time) int64 {
	frame := r.Floor(t)
	if r.At(frame) < t {
		frame++
	}
	return frame
}

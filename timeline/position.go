package timeline

import (
	"fmt"
	"strings"
)

// PositionKind says which of a Position's values counts.
type PositionKind uint8

// The kinds of position.
const (
	PositionBar PositionKind = iota
	PositionTime
	PositionTimecode
)

// Position is a place in a song as files, keys and flags write it. All three
// share this one grammar:
//
//	17.3+1/2     bar 17, beat 3 and a half; also 17.3 and 17; bars before 1 as 0.4
//	1:02.5       minutes and seconds from the start of the song; also 12.5s and -0:00.5
//	03:01:22:10  timecode, a label of the show's frame rate
type Position struct {
	Kind PositionKind
	Bar  BarBeat  // of PositionBar
	Time Time     // of PositionTime, from the start of the song
	TC   Timecode // of PositionTimecode
}

// positionHelp ends every error about a text that is no position at all.
const positionHelp = "write a bar such as 17.3+1/2, a time such as 1:02.5 or 12.5s, or a timecode such as 03:01:22:10"

// ParsePosition reads a position. A time needs a colon or a trailing s, to be
// told from a bar; it is rounded to EntryStep, so that the text of a position
// always gives the same position back.
func ParsePosition(s string) (Position, error) {
	seconds, endsInS := strings.CutSuffix(s, "s")
	switch separators := strings.Count(s, ":") + strings.Count(s, ";"); {
	case separators == 3:
		return timecodePosition(s)
	case separators > 0:
		return timePosition(s)
	case endsInS && startsWithNumber(s):
		return timePosition(seconds)
	}
	return barPosition(s)
}

func timecodePosition(s string) (Position, error) {
	tc, err := ParseTimecode(s)
	if err != nil {
		return Position{}, err
	}
	return Position{Kind: PositionTimecode, TC: tc}, nil
}

func timePosition(s string) (Position, error) {
	t, err := ParseTime(s)
	if err != nil {
		return Position{}, err
	}
	return Position{Kind: PositionTime, Time: t.RoundTo(EntryStep)}, nil
}

func barPosition(s string) (Position, error) {
	bar, err := ParseBarBeat(s)
	switch {
	case err == nil:
		return Position{Kind: PositionBar, Bar: bar}, nil
	case startsWithNumber(s):
		return Position{}, err
	}
	return Position{}, fmt.Errorf("position %s cannot be read: %s", quoted(s), positionHelp)
}

// startsWithNumber tells a slip in a bar or time from something else altogether.
func startsWithNumber(s string) bool {
	digits, _ := cutSign(s)
	return digits != "" && digitsOnly(digits[:1])
}

// String returns the canonical text: `17.3+1/2`, `1:02.5000`, `03:01:22:10`.
func (p Position) String() string {
	switch p.Kind {
	case PositionTime:
		return p.Time.Clock(4)
	case PositionTimecode:
		return p.TC.String()
	}
	return p.Bar.String()
}

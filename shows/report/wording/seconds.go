package wording

import (
	"strings"

	"emberbeat/timeline"
)

// Seconds is a time that JSON shows as a decimal number of seconds with at
// least four and at most nine decimals, so that no time loses anything.
type Seconds timeline.Time

// String gives the same text as the JSON number.
func (s Seconds) String() string {
	text := timeline.Time(s).Text(9)
	kept := len(text) - 5 // the zeros that may go
	return text[:kept] + strings.TrimRight(text[kept:], "0")
}

// MarshalJSON gives the number.
func (s Seconds) MarshalJSON() ([]byte, error) { return []byte(s.String()), nil }

// Millis writes a time in milliseconds with two decimals.
func Millis(t timeline.Time) string { return (t * 1000).Text(2) }

package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// Filter chooses what a sheet shows. The zero value shows everything.
type Filter struct {
	Song timeline.ID // only this song
	Bars *Bars       // only hits in these bars
}

// Bars is a range of bars, both ends included.
type Bars struct{ From, To int }

// ParseBars reads `17`, `17-24` or `-1..4`.
func ParseBars(s string) (*Bars, error) {
	from, to, isRange := strings.Cut(s, "..")
	if !isRange && len(s) > 0 {
		// A minus at the start is a sign, a later one makes a range.
		if i := strings.Index(s[1:], "-"); i >= 0 {
			from, to, isRange = s[:i+1], s[i+2:], true
		}
	}
	if !isRange {
		to = from
	}
	a, errA := strconv.Atoi(from)
	b, errB := strconv.Atoi(to)
	if errA != nil || errB != nil || b < a {
		return nil, fmt.Errorf("bars %q cannot be read: write a bar such as 17, or a range such as 17-24 or 0..4", s)
	}
	return &Bars{a, b}, nil
}

// Shows reports whether the filter shows a song.
func (f Filter) Shows(song timeline.ID) bool { return f.Song == "" || f.Song == song }

// ShowsAt reports whether the filter shows what happens at a time of a song. A
// song without a beat map has no bars: then a choice of bars shows nothing.
func (f Filter) ShowsAt(song *timeline.Song, at timeline.Time) bool {
	if !f.Shows(song.ID) {
		return false
	}
	if f.Bars == nil {
		return true
	}
	b := song.Beats
	return !b.Empty() && at >= b.BarStart(f.Bars.From) && at < b.BarStart(f.Bars.To+1)
}

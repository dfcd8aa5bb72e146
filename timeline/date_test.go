package timeline

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Days against Go's calendar.
func TestDaysEqualGosCalendar(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(-200_000, 2_900_000).Draw(rt, "day")
		at := time.Unix(int64(n)*86400, 0).UTC()
		text := at.Format("2006-01-02")
		d, ok := ParseDay(text)
		require.True(rt, ok, text)
		require.Equal(rt, Day(n), d, text)
		require.Equal(rt, text, d.String())
		require.Equal(rt, at.Weekday() != time.Saturday && at.Weekday() != time.Sunday, d.Business(), text)
	})
	for _, text := range []string{"", "2031-02-29", "2031-13-01", "yesterday"} {
		_, ok := ParseDay(text)
		require.False(t, ok, text)
	}
}

// Regulations of Victoria: 7 days; of South Australia: 5 clear business days.
// Derived: 2031-05-09 is a Friday: five business days clear of it are Thursday
// back to Monday and the Friday before, so that Thursday, the 1st, is the last.
func TestNoticeCounted(t *testing.T) {
	for _, c := range []struct {
		notice      Notice
		night, want string
	}{
		{Notice{7, CalendarDays}, "2031-05-09", "2031-05-02"},
		{Notice{5, ClearBusiness}, "2031-05-09", "2031-05-01"},
		{Notice{5, ClearBusiness}, "2031-05-11", "2031-05-04"}, // a Sunday: Monday to Friday lie clear between
		{Notice{1, ClearBusiness}, "2031-05-12", "2031-05-08"}, // a Monday: Friday is the one clear day
		{Notice{0, ClearBusiness}, "2031-05-09", "2031-05-08"},
		{Notice{0, CalendarDays}, "2031-05-09", "2031-05-09"},
	} {
		night, _ := ParseDay(c.night)
		require.Equal(t, c.want, c.notice.LastDay(night).String(), "%s before %s", c.notice, c.night)
	}
}

// The last day of a notice against trying every day before the night.
func TestNoticeEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		night := Day(rapid.IntRange(0, 40_000).Draw(rt, "night"))
		n := Notice{rapid.IntRange(0, 40).Draw(rt, "days"), rapid.SampledFrom(noticeKinds).Draw(rt, "kind")}
		inTime := func(given Day) bool {
			if n.Kind == CalendarDays {
				return int(night-given) >= n.Days
			}
			clear := 0
			for d := given + 1; d < night; d++ {
				if d.Business() {
					clear++
				}
			}
			return given < night && clear >= n.Days
		}
		last := n.LastDay(night)
		require.True(rt, inTime(last))
		require.False(rt, inTime(last+1))
	})
}

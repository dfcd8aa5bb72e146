package timeline

import "fmt"

// Day is a day of the Gregorian calendar, counted from 1970-01-01 = 0.
type Day int

// ParseDay reads a date as show files write it; false for anything else, the
// empty text included.
func ParseDay(date string) (Day, bool) {
	if _, err := parseDate(date); err != nil || date == "" {
		return 0, false
	}
	year, _ := parseCount(date[:4], 9999)
	month, _ := parseCount(date[5:7], 12)
	day, _ := parseCount(date[8:], 31)
	n := Day(365*year + year/4 - year/100 + year/400)
	if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
		n-- // of a leap year's own day, which comes with its February
	}
	for m := int64(1); m < month; m++ {
		n += Day(daysOf(year, m))
	}
	return n + Day(day) - dayZero, true
}

// dayZero is 1970-01-01, counted as ParseDay does from the year 0.
const dayZero = 365*1970 + 1970/4 - 1970/100 + 1970/400 + 1

// String writes the date as show files do.
func (d Day) String() string {
	year := int64(1970)
	left := int64(d)
	for left < 0 {
		year--
		left += yearDays(year)
	}
	for left >= yearDays(year) {
		left -= yearDays(year)
		year++
	}
	month := int64(1)
	for left >= daysOf(year, month) {
		left -= daysOf(year, month)
		month++
	}
	return fmt.Sprintf("%04d-%02d-%02d", year, month, left+1)
}

func yearDays(year int64) int64 {
	if daysOf(year, 2) == 29 {
		return 366
	}
	return 365
}

// Business reports whether the day is a Monday to Friday. Public holidays are
// not known.
func (d Day) Business() bool {
	weekday := ((int(d)+3)%7 + 7) % 7 // 1970-01-01 was a Thursday; Monday is 0
	return weekday < 5
}

// NoticeKind says how the days of a notice are counted.
type NoticeKind string

// The ways to count.
const (
	CalendarDays  NoticeKind = ""         // from the notice to the night
	ClearBusiness NoticeKind = "business" // Mondays to Fridays, neither the day of the notice nor the night's
)

var noticeKinds = []NoticeKind{CalendarDays, ClearBusiness}

// Notice is how long before a night an authority must be told.
type Notice struct {
	Days int // 0 = not given
	Kind NoticeKind
}

// String writes it in words: "5 clear business days".
func (n Notice) String() string {
	what := "day"
	if n.Kind == ClearBusiness {
		what = "clear business day"
	}
	if n.Days != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n.Days, what)
}

// LastDay is the last day on which notice of a night can be given in time.
func (n Notice) LastDay(night Day) Day {
	if n.Kind == CalendarDays {
		return night - Day(n.Days)
	}
	last := night - 1
	for left := n.Days; left > 0; last-- {
		if last.Business() {
			left--
		}
	}
	return last
}

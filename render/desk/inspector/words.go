package inspector

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/given"
)

// millis writes a time in milliseconds, with tenths where there are any.
func millis(t timeline.Time) string {
	tenths := int64(t.RoundTo(timeline.Millisecond/10) / (timeline.Millisecond / 10))
	if tenths%10 == 0 {
		return fmt.Sprintf("%d ms", tenths/10)
	}
	return fmt.Sprintf("%d.%d ms", tenths/10, tenths%10)
}

// signed writes what a time is off by, "on the frame" where it is not.
func signed(t timeline.Time) string {
	switch t = t.RoundTo(timeline.Millisecond / 10); {
	case t < 0:
		return "− " + millis(-t)
	case t > 0:
		return "+ " + millis(t)
	}
	return "on the frame"
}

// residualWords says what rounding a command to a frame does.
func residualWords(cmd *timeline.Command) string {
	switch by := cmd.Residual().RoundTo(timeline.Millisecond / 10); {
	case by < 0:
		return millis(-by) + " early, on a frame"
	case by > 0:
		return millis(by) + " late, on a frame"
	}
	return "on the frame"
}

// seconds writes a time in seconds, to a hundredth.
func seconds(t timeline.Time) string {
	return cmp.Or(page.Short(t.RoundTo(timeline.Second/100).String()), "0") + " s"
}

func millisBetween(b given.Between) string {
	if b.Least == b.Most {
		return millis(b.Most)
	}
	return strings.TrimSuffix(millis(b.Least), " ms") + " to " + millis(b.Most)
}

func secondsBetween(b given.Between) string {
	if b.Least == b.Most {
		return seconds(b.Most)
	}
	return strings.TrimSuffix(seconds(b.Least), " s") + " to " + seconds(b.Most)
}

// spread names values that records have: the one that all have, the least to the most, or how many there are where they are names.
func spread(all []string, names bool, with func(string) string) string {
	slices.SortFunc(all, func(a, b string) int {
		x, errX := strconv.ParseFloat(a, 64)
		y, errY := strconv.ParseFloat(b, 64)
		if errX == nil && errY == nil {
			return cmp.Compare(x, y)
		}
		return strings.Compare(a, b)
	})
	all = slices.Compact(all)
	switch {
	case len(all) == 0:
		return notGiven
	case len(all) == 1:
		return with(all[0])
	case names:
		return fmt.Sprintf("%d differ", len(all))
	}
	first, last := with(all[0]), with(all[len(all)-1])
	if _, unit, ok := strings.Cut(last, " "); ok {
		first = strings.TrimSuffix(first, " "+unit)
	}
	return first + " to " + last
}
